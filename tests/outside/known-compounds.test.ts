import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { defaultMaterialSettings, materialOf } from "../../src/fit/material-of.js";
import { readText } from "../../src/io/read-text.js";
import { defaultUses } from "../../src/predict/default-uses.js";
import { outlookOf } from "../../src/predict/outlook-of.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";

/** Compounds with exactly known answers, made once outside this program; the file says how. */
interface KnownCompound {
  name: string;
  kind: string;
  rows: [number, number, number, number][];
  exact: {
    temperature_C: number;
    friction: number;
    rebound: number;
    lossModulusPeak_C: number | null;
    tanDeltaPeak_C: number | null;
    verdict: string | null;
  }[];
  vogelTemperature_C?: number;
  phases_C?: [number, number];
}

const { compounds } = JSON.parse(
  readFileSync(new URL("./data/known-compounds.json", import.meta.url), "utf8"),
) as { compounds: KnownCompound[] };

function materialFor({ name, rows }: KnownCompound, calledAs = name) {
  const table = rows.map((row) => row.join(",")).join("\n");
  const text = `Sample,${calledAs}\nDeformation mode,tension\n\nTemperature (°C),Frequency (Hz),Storage modulus (MPa),Loss modulus (MPa)\n${table}\n`;
  const read = readText(text, `${calledAs}.csv`);
  if (!read.ok) throw new Error(read.problem.message);
  return materialOf(read.value.measurements, { ...defaultMaterialSettings, compound: calledAs });
}

const useAt = (temperature_C: number) => ({ ...defaultUses()[0], temperature_C });

describe("compounds with exactly known answers", { timeout: 120_000 }, () => {
  it.each(compounds)(
    "$name ($kind): verdicts hold the truth, and 95 % intervals hold nearly all of it",
    (known) => {
      const material = materialFor(known);
      const held: boolean[] = [];
      const inside = (value: number | null, low: number | null, high: number | null) => {
        if (value === null || (low === null && high === null)) return;
        held.push((low === null || low <= value) && (high === null || high >= value));
      };
      for (const exact of known.exact) {
        const { outlook } = outlookOf(material, useAt(exact.temperature_C), settings, null);
        // Every word that is left open is said, so the true one is among them; a verdict withheld has none to be wrong.
        if (outlook.cold !== null && exact.verdict !== null) {
          expect(`${exact.temperature_C} °C: ${outlook.cold.verdict}`).toContain(exact.verdict);
        }
        if (outlook.rebound) inside(exact.rebound, outlook.rebound.low, outlook.rebound.high);
        if (outlook.grip) inside(exact.friction, outlook.grip.low, outlook.grip.high);
        const { lossModulusPeak, tanDeltaPeak } = outlook.transitionAtContact!;
        inside(exact.lossModulusPeak_C, lossModulusPeak.low_C, lossModulusPeak.high_C);
        inside(exact.tanDeltaPeak_C, tanDeltaPeak.low_C, tanDeltaPeak.high_C);
      }
      expect(held.length).toBeGreaterThan(8);
      expect(held.filter(Boolean).length / held.length).toBeGreaterThanOrEqual(0.85);
    },
  );

  it("T∞ of isotherms comes back inside its interval", () => {
    for (const known of compounds.filter(({ kind }) => kind === "isotherms")) {
      const { derived } = materialFor(known).superposition!;
      expect(derived!.vogelTemperatureLow_C!).toBeLessThanOrEqual(known.vogelTemperature_C!);
      expect(derived!.vogelTemperatureHigh_C!).toBeGreaterThanOrEqual(known.vogelTemperature_C!);
    }
  });

  it("a blend's two phases are named with their Tg, share and law", () => {
    for (const known of compounds.filter(({ kind }) => kind === "blend-isotherms")) {
      const { superposition, model, notices } = materialFor(known);
      expect(superposition!.thermorheologicallySimple).toBe(false);
      const phases = superposition!.phases!;
      expect(phases).toHaveLength(2);
      // The law that each phase was made with holds at a Tg of its own definition, some 5 K from ours.
      for (const [k, glass_C] of known.phases_C!.entries()) {
        expect(Math.abs(phases[k].glassTemperature_C - glass_C)).toBeLessThan(12);
      }
      expect(phases[0].shareOfFall + phases[1].shareOfFall).toBeCloseTo(1, 9);
      expect(model!.furtherPhase).toBeDefined();
      expect(notices.map(({ code }) => code)).toContain("fit.two-phases");
    }
  });

  it("the same data give the same answer under any name", () => {
    const [known] = compounds.filter(({ kind }) => kind === "single-1Hz");
    const answers = ["Rowan 1", "Rowan 2", "another name altogether"].map((name) => {
      const { outlook } = outlookOf(materialFor(known, name), useAt(-10), settings, null);
      const { path: _, ...nearest } = outlook.nearestMeasurement!;
      return { ...outlook, nearestMeasurement: nearest };
    });
    expect(answers[1]).toEqual(answers[0]);
    expect(answers[2]).toEqual(answers[0]);
  });
});
