import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { transitionAtFrequency } from "../../src/fit/glass/glass-at-frequency.js";
import type { Material } from "../../src/fit/material.js";
import { defaultMaterialSettings, materialOf } from "../../src/fit/material-of.js";
import { misfitOfPeaks } from "../../src/fit/spectrum/phase-mixing.js";
import { complexModulus } from "../../src/fit/spectrum/relaxation-model.js";
import { log10ShiftFactor } from "../../src/fit/spectrum/shift-law.js";
import { readText } from "../../src/io/read-text.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";
import { defaultUses } from "../../src/predict/default-uses.js";
import { outlookOf } from "../../src/predict/outlook-of.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";
import { measuredModes, superposedCurve, superposedEnd_Hz } from "../../src/report/superposed-part.js";
import { wedgeMaterials, wedgeModel } from "../make/wedge-material.js";

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
  /** Of the exact curve at a frequency. */
  readings?: { frequency_Hz: number; tanDeltaPeak_C: number; lossModulusPeak_C: number; onset_C: number }[];
  phases_C?: [number, number];
}

const { compounds } = JSON.parse(
  readFileSync(new URL("./data/known-compounds.json", import.meta.url), "utf8"),
) as { compounds: KnownCompound[] };

const made = new Map<string, Material>();

/** The material of a compound as the file has it; made once for each name and seed. */
function materialFor({ name, rows }: KnownCompound, calledAs = name, seed = 0): Material {
  const key = `${name} ${calledAs} ${seed} ${rows[0][0]}`;
  const known = made.get(key);
  if (known !== undefined) return known;
  const table = rows.map((row) => row.join(",")).join("\n");
  const text = `Sample,${calledAs}\nDeformation mode,tension\n\nTemperature (°C),Frequency (Hz),Storage modulus (MPa),Loss modulus (MPa)\n${table}\n`;
  const read = readText(text, `${calledAs}.csv`);
  if (!read.ok) throw new Error(read.problem.message);
  const material = materialOf(read.value.measurements, {
    ...defaultMaterialSettings,
    compound: calledAs,
    superposition: { ...defaultMaterialSettings.superposition, seed },
  });
  made.set(key, material);
  return material;
}

const useAt = (temperature_C: number) => ({ ...defaultUses()[0], temperature_C });

/** At one temperature a spectrum is known, and nothing of how temperature moves it. */
describe("a master curve measured at one temperature", () => {
  const model = wedgeModel({ ...wedgeMaterials["styrene-butadiene-like"], rubberyModulus_Pa: 3e6 });
  const exact = { ...materialFor(compounds[0]), superposition: null, glassTransitions: [], model, draws: [] };
  const frequencies_Hz = Array.from({ length: 60 }, (_, i) => 10 ** (-4 + (i * 12) / 59));
  const random = seededRandom(3);
  const noisy = (value: number) => (value * (1 + 0.01 * random.normal())) / 1e6;
  const measuredAt = (temperature_C: number): KnownCompound => ({
    name: "Alder",
    kind: "one isotherm",
    exact: [],
    rows: frequencies_Hz.map((frequency_Hz) => {
      const { storageModulus_Pa, lossModulus_Pa } = complexModulus(model, temperature_C, frequency_Hz);
      return [temperature_C, frequency_Hz, noisy(storageModulus_Pa), noisy(lossModulus_Pa)];
    }),
  });

  it.each([-30, -10, 23])("predicts at %d °C, and nowhere else", (temperature_C) => {
    const material = materialFor(measuredAt(temperature_C));
    expect(material.superposition).toBeNull();
    const { outlook } = outlookOf(material, useAt(temperature_C), settings, null);
    const truth = outlookOf(exact, useAt(temperature_C), settings, null).outlook;
    expect(Math.abs(outlook.rebound!.fraction - truth.rebound!.fraction)).toBeLessThan(0.01);
    expect(Math.abs(outlook.grip!.frictionCoefficient / truth.grip!.frictionCoefficient - 1)).toBeLessThan(
      0.03,
    );
    // How far the tan δ peak is away is not known, so above it rubbery is one of two words.
    expect(outlook.cold!.verdict).toContain(truth.cold!.verdict);
    expect(outlook.cold!.verdict.includes("glassy")).toBe(truth.cold!.verdict === "glassy");
    // Within a kelvin the temperature is the same, and nothing is moved by a law that is not known.
    const beside = outlookOf(material, useAt(temperature_C + 0.6), settings, null).outlook;
    expect({ ...beside, temperature_C }).toEqual(outlook);
    const elsewhere = outlookOf(material, useAt(temperature_C + 10), settings, null).outlook;
    expect(elsewhere.predictsOnlyAt_C).toEqual([temperature_C]);
    expect([elsewhere.rebound, elsewhere.grip, elsewhere.cold]).toEqual([null, null, null]);
    expect(elsewhere.verdictMissing).toContain("predicts in a use at that temperature");
  });
});

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
      // Blends are promised less, 80 %.
      const least = known.kind === "blend-isotherms" ? 0.8 : 0.85;
      expect(held.filter(Boolean).length / held.length).toBeGreaterThanOrEqual(least);
    },
  );

  // Deep in the glass little is lost, and what is rests on the foot of the spectrum. b28's ends so sharply that rows placed by
  // the glass's tangent, with next to no M″, once took that foot away: 0.990 for 0.955, with the truth outside the interval.
  it.each([
    ["a912", -20, 0.005],
    ["a912", -30, 0.005],
    ["b28", -20, 0.005],
    ["b28", -30, 0.001],
  ] as const)(
    "rebound of %s deep in the glass, at %d °C, is right within %d",
    (name, temperature_C, most) => {
      const known = compounds.find((one) => one.name === name)!;
      const exact = known.exact.find((one) => one.temperature_C === temperature_C)!;
      expect(exact.verdict).toBe("glassy");
      const { fraction, low, high } = outlookOf(materialFor(known), useAt(temperature_C), settings, null)
        .outlook.rebound!;
      expect(Math.abs(fraction - exact.rebound)).toBeLessThan(most);
      // Of b28 at −30 °C 5.7e-5 is lost, and the interval ends at 6.3e-5: six millionths short of the truth, which no rebound
      // test could tell. Where a thousandth and more is lost the interval holds.
      const told = 1e-3;
      if (1 - exact.rebound < told) {
        expect(1 - high!).toBeLessThan(1.2 * (1 - exact.rebound));
        return;
      }
      expect(low!).toBeLessThanOrEqual(exact.rebound);
      expect(high!).toBeGreaterThanOrEqual(exact.rebound);
    },
  );

  // Its tan δ is nearly flat over 15 K, and the model puts the peak 8 K too cold.
  // A glass has a loss factor of some 0.01 (common practice), and its own law: carried along with the transition's, hysteresis
  // friction at −30 °C was 14 times too small and its interval went up to a ninth of the truth.
  it("in the glass a secondary relaxation's loss is in the intervals, and is said", () => {
    const known = compounds.find(({ name }) => name === "i05")!;
    const exact = known.exact.find(({ temperature_C }) => temperature_C === -30)!;
    const { outlook, notices } = outlookOf(materialFor(known), useAt(-30), settings, null);
    const { grip, rebound } = outlook;
    expect(grip!.frictionCoefficient).toBeLessThan(exact.friction / 5);
    expect(grip!.high).toBeGreaterThan(exact.friction);
    expect(grip!.high).toBeLessThan(4 * exact.friction);
    expect(rebound!.low).toBeLessThan(exact.rebound);
    expect(notices.map(({ code }) => code)).toContain("predict.secondary-relaxation");
    // Where the sweep shows none, and above the transition, nothing is added.
    for (const [name, temperature_C] of [
      ["c911", -10],
      ["i05", 23],
    ] as const) {
      const material = materialFor(compounds.find((one) => one.name === name)!);
      const codes = outlookOf(material, useAt(temperature_C), settings, null).notices.map(({ code }) => code);
      expect(codes).not.toContain("predict.secondary-relaxation");
    }
  });

  // Its friction in the glass was a tenth to a third above the interval's end while the two were not added.
  it("a strong secondary relaxation adds to the loss of the transition's flank", () => {
    const known = compounds.find(({ name }) => name === "d1522")!;
    for (const exact of known.exact.filter(({ temperature_C }) => temperature_C <= -10)) {
      const { frictionCoefficient, high } = outlookOf(
        materialFor(known),
        useAt(exact.temperature_C),
        settings,
        null,
      ).outlook.grip!;
      expect(exact.friction).toBeGreaterThan(1.25 * frictionCoefficient);
      expect(exact.friction).toBeLessThan(high);
      expect(high).toBeLessThan(3.5 * frictionCoefficient);
    }
  });

  it("a blend's tan δ peak may stand wherever the model comes within its misfit of it, and is not called rubbery there", () => {
    const known = compounds.find(({ name }) => name === "e820")!;
    const material = materialFor(known);
    const { tanDelta, tanDeltaWithinMisfit } = transitionAtFrequency(material.model!, 275);
    const tanDeltaAt = (temperature_C: number) => {
      const { storageModulus_Pa, lossModulus_Pa } = complexModulus(material.model!, temperature_C, 275);
      return lossModulus_Pa / storageModulus_Pa;
    };
    const level = tanDeltaAt(tanDelta.low_C) * Math.exp(-misfitOfPeaks(material.model!)!);
    const { low_C, high_C } = tanDeltaWithinMisfit!;
    for (const [inside_C, outside_C] of [
      [low_C, low_C - 0.5],
      [high_C, high_C + 0.5],
    ]) {
      expect(tanDeltaAt(inside_C)).toBeGreaterThan(0.999 * level);
      expect(tanDeltaAt(outside_C)).toBeLessThan(1.001 * level);
    }
    // A better model knows it better: about a round top by the root of the misfit.
    const { model } = material;
    const better = transitionAtFrequency(
      { ...model!, mixing: { ...model!.mixing!, misfit: 0.01 * model!.mixing!.misfit } },
      275,
    ).tanDeltaWithinMisfit!;
    expect(better.high_C - better.low_C).toBeLessThan(0.3 * (high_C - low_C));
    const { cold, transitionAtContact } = outlookOf(material, useAt(23), settings, null).outlook;
    expect(transitionAtContact!.tanDeltaPeak.high_C!).toBeGreaterThanOrEqual(high_C - 1);
    expect(cold!.verdict).toBe("leathery or rubbery");
  });

  // Its M″ has two maxima of nearly one height. Two phases side by side took the other one, 10 K away and more.
  it("of two maxima of a blend's M″ the rule of mixing shows which is the peak", () => {
    const known = compounds.find(({ name }) => name === "e603")!;
    const exact = known.exact.find(({ temperature_C }) => temperature_C === -30)!;
    const { cold, transitionAtContact } = outlookOf(materialFor(known), useAt(-30), settings, null).outlook;
    const { temperature_C, low_C, high_C } = transitionAtContact!.lossModulusPeak;
    expect(Math.abs(temperature_C! - exact.lossModulusPeak_C!)).toBeLessThan(1.5);
    expect([low_C! <= exact.lossModulusPeak_C!, high_C! >= exact.lossModulusPeak_C!]).toEqual([true, true]);
    expect(cold!.verdict).toContain(exact.verdict);
  });

  // Their heights differ by 0.4 %, and the model's by 4 %: it saw only the warmer one, and called leathery what is rubbery.
  it("of two maxima of a blend's tan δ of nearly one height either may be the peak", () => {
    const known = compounds.find(({ name }) => name === "e1222")!;
    for (const temperature_C of [0, -10]) {
      const exact = known.exact.find((one) => one.temperature_C === temperature_C)!;
      expect(exact.tanDeltaPeak_C!).toBeLessThan(-46);
      const { cold, transitionAtContact } = outlookOf(
        materialFor(known),
        useAt(temperature_C),
        settings,
        null,
      ).outlook;
      expect(transitionAtContact!.tanDeltaPeak.low_C!).toBeLessThan(exact.tanDeltaPeak_C!);
      expect(transitionAtContact!.tanDeltaPeak.high_C!).toBeGreaterThan(0);
      expect(cold!.verdict).toBe("leathery or rubbery");
    }
  });

  // The other isotherms follow one law, and those three were set aside as errors of the oven: tan δ peak at 11 for 72 °C.
  it("isotherms at the warm end that leave the law more and more are a second phase where two laws leave no more than noise", () => {
    const known = compounds.find(({ name }) => name === "e808")!;
    const material = materialFor(known);
    expect(material.superposition!.phases).toHaveLength(2);
    expect(material.notices.map(({ code }) => code)).not.toContain("fit.isotherms-off-law");
    for (const exact of known.exact) {
      const { tanDeltaPeak } = outlookOf(material, useAt(exact.temperature_C), settings, null).outlook
        .transitionAtContact!;
      expect(tanDeltaPeak.low_C!).toBeLessThan(exact.tanDeltaPeak_C!);
      expect(tanDeltaPeak.high_C!).toBeGreaterThan(exact.tanDeltaPeak_C!);
    }
  });

  it("isotherms at the warm end that the oven made alike too cold are no phase", () => {
    const known = compounds.find(({ name }) => name === "a911")!;
    const warmest_C = [...new Set(known.rows.map(([temperature_C]) => temperature_C))].slice(-2);
    const rows = known.rows.map(([temperature_C, ...row]): KnownCompound["rows"][number] => [
      warmest_C.includes(temperature_C) ? temperature_C - 3 : temperature_C,
      ...row,
    ]);
    const { superposition, notices } = materialFor({ ...known, name: "a911 off", rows });
    expect(superposition!.phases ?? null).toBeNull();
    expect(notices.map(({ code }) => code)).toContain("fit.isotherms-off-law");
  });

  // Its warmer phase is half measured. Two phases side by side put its tan δ peak at the contact some 10 K too warm.
  it("of a blend whose warmer phase is half measured the tan δ peak stands where it is said to", () => {
    const known = compounds.find(({ name }) => name === "e606")!;
    for (const exact of known.exact) {
      const { outlook } = outlookOf(materialFor(known), useAt(exact.temperature_C), settings, null);
      const { temperature_C, low_C, high_C } = outlook.transitionAtContact!.tanDeltaPeak;
      expect(low_C!).toBeLessThanOrEqual(exact.tanDeltaPeak_C!);
      expect(high_C!).toBeGreaterThanOrEqual(exact.tanDeltaPeak_C!);
      expect(Math.abs(temperature_C! - exact.tanDeltaPeak_C!)).toBeLessThan(1.5);
    }
  });

  // Six isotherms in the glass: the M″ peak at the contact stands on the law, beyond what any thermometer showed.
  it("an M″ peak warmer than any isotherm is held, and by no wider an interval than that needs", () => {
    const known = compounds.find(({ name }) => name === "f911")!;
    const material = materialFor(known);
    for (const exact of known.exact) {
      const { outlook } = outlookOf(material, useAt(exact.temperature_C), settings, null);
      const { low_C, high_C } = outlook.transitionAtContact!.lossModulusPeak;
      expect(exact.lossModulusPeak_C!).toBeGreaterThan(material.model!.highestTemperature_C + 15);
      expect(low_C!).toBeLessThanOrEqual(exact.lossModulusPeak_C!);
      expect(high_C!).toBeGreaterThanOrEqual(exact.lossModulusPeak_C!);
      expect(high_C! - low_C!).toBeLessThan(8);
    }
  });

  // By the law alone this peak would come out 3 to 4 K too warm: the secondary relaxation moves less and catches up.
  it("a secondary relaxation pulls the M″ peak at the contact to the cold side, and its interval holds that", () => {
    const known = compounds.find(({ name }) => name === "d746")!;
    const material = materialFor(known);
    const [sweep] = material.glassTransitions;
    const second = sweep.furtherPeaks.find(({ quantity }) => quantity === "loss modulus")!;
    expect(second.temperature_C).toBeLessThan(sweep.lossModulusPeak!.temperature_C!);
    for (const exact of known.exact) {
      const { outlook } = outlookOf(material, useAt(exact.temperature_C), settings, null);
      const { lossModulusPeak } = outlook.transitionAtContact!;
      expect(lossModulusPeak.low_C!).toBeLessThanOrEqual(exact.lossModulusPeak_C!);
      expect(lossModulusPeak.high_C!).toBeGreaterThanOrEqual(exact.lossModulusPeak_C!);
    }
  });

  // Its secondary relaxation is as high, and its own M″ peak was passed over for that one, 16 K colder: leathery for glassy.
  it("the fainter of two M″ maxima is the transition's where it stands nearer to the tan δ peak", () => {
    const material = materialFor(compounds.find(({ name }) => name === "d1525")!);
    const { lossModulusPeak, furtherPeaks } = material.glassTransitions[0];
    // Of the exact curve at 1 Hz.
    expect(lossModulusPeak!.low_C!).toBeLessThan(-47.37);
    expect(lossModulusPeak!.high_C!).toBeGreaterThan(-47.37);
    expect(
      furtherPeaks.map(({ quantity, temperature_C }) => `${quantity} ${Math.round(temperature_C)}`),
    ).toEqual(["loss modulus -63"]);
    const { cold } = outlookOf(material, useAt(-20), settings, null).outlook;
    expect(cold!.verdict).toBe("glassy");
  });

  it("T∞ of isotherms comes back inside its interval", () => {
    const ofIsotherms = compounds.filter(({ kind }) => kind === "isotherms");
    expect(ofIsotherms.length).toBeGreaterThan(0);
    for (const known of ofIsotherms) {
      const { derived } = materialFor(known).superposition!;
      expect(derived!.vogelTemperatureLow_C!).toBeLessThanOrEqual(known.vogelTemperature_C!);
      expect(derived!.vogelTemperatureHigh_C!).toBeGreaterThanOrEqual(known.vogelTemperature_C!);
    }
  });

  // Read across temperatures 8 to 9 K apart they were held in 69 % of 30 such blends, at three times the width.
  it("peaks of a blend as measured are read from its rule of mixing", () => {
    // Of the exact curves at 1 Hz: tan δ and M″ peak in °C.
    const exactAt1Hz = {
      e912: [-3.04, -57.36],
      e606: [8.73, -51.46],
      e820: [-4.38, -60.72],
      e603: [-18.98, -61.85],
    };
    const held: boolean[] = [];
    const widths_K: number[] = [];
    for (const [name, exact] of Object.entries(exactAt1Hz)) {
      const material = materialFor(compounds.find((one) => one.name === name)!);
      expect(material.model!.mixing).toBeDefined();
      const own = material.glassTransitions.find(({ frequency_Hz }) => frequency_Hz === 1)!;
      for (const [i, peak] of [own.tanDeltaPeak!, own.lossModulusPeak!].entries()) {
        held.push(peak.low_C! <= exact[i] && exact[i] <= peak.high_C!);
        widths_K.push(peak.high_C! - peak.low_C!);
      }
    }
    expect(held.filter(Boolean).length).toBeGreaterThanOrEqual(7);
    expect(widths_K.reduce((a, b) => a + b, 0) / widths_K.length).toBeLessThan(4);
  });

  it("peaks and onset as measured lie in their intervals, the onset by the tangent at the steepest point", () => {
    const held: boolean[] = [];
    const errors_K: number[] = [];
    for (const known of compounds.filter(({ readings }) => readings !== undefined)) {
      const { glassTransitions } = materialFor(known);
      for (const exact of known.readings!) {
        const own = glassTransitions.find(({ frequency_Hz }) => frequency_Hz === exact.frequency_Hz)!;
        const pairs = [
          [own.tanDeltaPeak, exact.tanDeltaPeak_C],
          [own.lossModulusPeak, exact.lossModulusPeak_C],
          [own.storageModulusOnset, exact.onset_C],
        ] as const;
        for (const [reading, exact_C] of pairs) {
          if (reading?.low_C == null || reading.high_C == null) continue;
          held.push(reading.low_C <= exact_C && exact_C <= reading.high_C);
        }
        const onset = own.storageModulusOnset;
        if (onset !== null) errors_K.push(onset.temperature_C - exact.onset_C);
      }
    }
    expect(held.length).toBeGreaterThanOrEqual(20);
    expect(held.filter(Boolean).length / held.length).toBeGreaterThanOrEqual(0.9);
    // Isotherms have their onset too.
    expect(errors_K.length).toBeGreaterThanOrEqual(7);
    expect(Math.abs(errors_K.reduce((a, b) => a + b, 0) / errors_K.length)).toBeLessThan(0.2);
  });

  it("another seed moves no border, and the last digits of the moduli hardly do", () => {
    const borders_C = (one: KnownCompound, seed: number) => {
      const { outlook } = outlookOf(materialFor(one, one.name, seed), useAt(-10), settings, null);
      const { lossModulusPeak, tanDeltaPeak } = outlook.transitionAtContact!;
      return [lossModulusPeak.low_C, lossModulusPeak.high_C, tanDeltaPeak.low_C, tanDeltaPeak.high_C];
    };
    const tried = ["isotherms", "single-1Hz", "e911"].map((which) => {
      const known = compounds.find(({ kind, name }) => kind === which || name === which)!;
      const own_C = borders_C(known, 0);
      expect(borders_C(known, 1)).toEqual(own_C);
      // As another program would round them.
      const random = seededRandom(5);
      const rounded = (value: number) => value * (1 + 1e-6 * random.normal());
      const rows = known.rows.map(([temperature_C, frequency_Hz, storage_MPa, loss_MPa]) => {
        return [temperature_C, frequency_Hz, rounded(storage_MPa), rounded(loss_MPa)];
      }) as KnownCompound["rows"];
      const other_C = borders_C({ ...known, name: `${known.name} rounded`, rows }, 0);
      for (const [end, other] of other_C.entries()) {
        if (other === null || own_C[end] === null) expect(other).toBe(own_C[end]);
        else expect(Math.abs(other - own_C[end])).toBeLessThan(0.02);
      }
      return known.name;
    });
    expect(new Set(tried).size).toBe(3);
  });

  it("a blend's two phases are named with their Tg, share and law", () => {
    const ofPhases = compounds.filter(({ phases_C }) => phases_C !== undefined);
    expect(ofPhases.length).toBeGreaterThan(0);
    for (const known of ofPhases) {
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

  it("the measured range of a blend ends at the border of its law, and not where that puts its glass", () => {
    const blends = compounds
      .map((known) => ({ known, model: materialFor(known).model }))
      .filter(({ model }) => model?.furtherPhase !== undefined);
    expect(blends.length).toBeGreaterThan(0);
    for (const { known, model } of blends) {
      const { law, lowestTemperature_C } = model!;
      if (law.kind !== "wlf") continue;
      const border_C = Math.max(law.tangentBelow_C!, lowestTemperature_C);
      const end_Hz =
        Math.max(...known.rows.map(([, frequency_Hz]) => frequency_Hz)) *
        10 ** log10ShiftFactor(law, border_C);
      expect(superposedEnd_Hz(model!)).toBeLessThanOrEqual(end_Hz * 1.001);
    }
  });

  it("spectrum, master curve and measured range end where the superposed data end, and beyond is called extrapolated", () => {
    const reaching = compounds
      .map((known) => materialFor(known))
      .filter(({ model }) => model?.superposedUpTo_Hz !== undefined && model.furtherPhase === undefined);
    expect(reaching.length).toBeGreaterThan(0);
    let reachBeyond = 0;
    for (const material of reaching) {
      const model = material.model!;
      const end_Hz = superposedEnd_Hz(model);
      // The glass branch puts the glass itself at frequencies that nothing was shifted to.
      expect(end_Hz).toBeLessThan(model.highestReducedFrequency_Hz / 10);
      const points = superposedCurve(material)!.reducedFrequency_Hz;
      expect(points.length).toBeGreaterThan(10);
      for (const reduced_Hz of points) expect(reduced_Hz).toBeLessThanOrEqual(end_Hz * (1 + 1e-9));
      const fastest_s = Math.min(...measuredModes(model).map(({ time_s }) => time_s));
      expect(fastest_s).toBeGreaterThanOrEqual(0.1 / (2 * Math.PI * end_Hz));
      if (Math.min(...model.times_s) < fastest_s) reachBeyond++;
      // A contact in the glass is beyond the superposed data.
      const glassy = outlookOf(material, useAt(material.model!.lowestTemperature_C + 1), settings, null);
      const codes = glassy.notices.map(({ code }) => code);
      expect(
        codes.some((code) => code === "predict.glass-branch" || code === "predict.contact-outside-range"),
      ).toBe(true);
    }
    // All but b28, whose spectrum ends before the superposed data do.
    expect(reachBeyond).toBe(reaching.length - 1);
  });

  it("the same data give the same answer under any name", () => {
    const [known] = compounds.filter(({ kind }) => kind === "single-1Hz");
    const names = ["Rowan 1", "Rowan 2", "another name altogether", "20", "Ä", "rowan 1"];
    const answers = names.map((name) => {
      const { outlook } = outlookOf(materialFor(known, name), useAt(-10), settings, null);
      const { path: _, ...nearest } = outlook.nearestMeasurement!;
      return { ...outlook, nearestMeasurement: nearest };
    });
    for (const answer of answers) expect(answer).toEqual(answers[0]);
  });
});
