import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import {
  apparentActivationEnergy_J_mol,
  changeReference,
  fragility,
  gasConstant_J_molK,
  log10ShiftFactor,
  vogelB_K,
  vogelTemperature_C,
  type WlfLaw,
} from "../../src/fit/spectrum/shift-law.js";
import {
  conventionalGlassTemperature_C,
  peakAboveGlassTemperature_K,
} from "../../src/fit/superposition/law/conventional-glass-temperature.js";
import {
  constantsAtGlassTransition,
  publishedLaw,
  readReferenceCurves,
  referenceCurves,
} from "../../src/fit/superposition/law/reference-curves.js";

const kelvin = 273.15;
const universalAt = (glass_C: number): WlfLaw => ({
  kind: "wlf",
  referenceTemperature_C: glass_C,
  c1: 17.44,
  c2_K: 51.6,
  tangentBelow_C: null,
});

describe("published shift constants", () => {
  // Ngai and Plazek in Mark (ed.), Physical Properties of Polymers Handbook, Table 26.1, moved to Tg by
  // C2′ = C2 + T0′ − T0, C1′ = C1 C2/C2′ (values derived with the formula outside this program).
  it.each([
    ["polybutadiene, 96 % cis", 298, 3.44, 196.6, 161, 11.35, 59.6],
    ["polybutadiene, 43 % cis", 298, 3.64, 186.5, 172, 11.22, 60.5],
    ["polybutadiene, 36 % vinyl", 263, 5.97, 123.2, 205, 11.28, 65.2],
    ["polybutadiene, 91.5 % vinyl", 298, 6.23, 72.5, 261, 12.72, 35.5],
  ])("%s moved to Tg", (name, t0, c1, c2, tg, c1AtGlass, c2AtGlass) => {
    const row = referenceCurves.elastomers.find((entry) => entry.name === name)!;
    expect(row).toMatchObject({
      referenceTemperature_K: t0,
      c1,
      c2_K: c2,
      glassTemperature_K: tg,
      fromMemory: false,
    });
    const moved = changeReference(publishedLaw(row), tg - kelvin);
    expect(moved.c1).toBeCloseTo(c1AtGlass, 2);
    expect(moved.c2_K).toBeCloseTo(c2AtGlass, 1);
    // Invariants.
    expect(moved.c1 * moved.c2_K).toBeCloseTo(c1 * c2, 9);
    expect(vogelTemperature_C(moved)).toBeCloseTo(t0 - c2 - kelvin, 9);
    for (const t of [tg - kelvin + 5, 0, 25]) {
      const direct =
        log10ShiftFactor(publishedLaw(row), t) - log10ShiftFactor(publishedLaw(row), tg - kelvin);
      expect(log10ShiftFactor(moved, t)).toBeCloseTo(direct, 9);
    }
  });

  // From memory: Ferry, Viscoelastic Properties of Polymers, 3rd ed., Table 11-II gives 16.7/53.6 and 16.6/104
  // at Tg; by the formula 16.8/53.6 and 16.5/104.4.
  it.each([
    ["natural rubber", 16.8, 53.6, 16.7, 53.6],
    ["polyisobutylene", 16.5, 104.4, 16.6, 104],
  ])("%s moved to Tg", (name, c1, c2, c1Published, c2Published) => {
    const row = constantsAtGlassTransition().find((entry) => entry.name === name)!;
    expect(row.c1).toBeCloseTo(c1, 1);
    expect(row.c2_K).toBeCloseTo(c2, 1);
    expect(Math.abs(row.c1 - c1Published)).toBeLessThan(0.15);
    expect(Math.abs(row.c2_K - c2Published)).toBeLessThan(0.5);
    expect(referenceCurves.elastomers.find((entry) => entry.name === name)!.fromMemory).toBe(true);
  });

  // Williams, Landel and Ferry, J. Am. Chem. Soc. 77, 3701 (1955); 51.6/17.44 = 2.96 K a decade at Tg, the
  // trade's "3 K per decade" (common practice).
  it("universal constants: 2.96 K a decade at Tg", () => {
    expect(referenceCurves.universal).toMatchObject({ c1: 17.44, c2_K: 51.6 });
    const law = universalAt(-60);
    const slope = (log10ShiftFactor(law, -60 + 1e-4) - log10ShiftFactor(law, -60 - 1e-4)) / 2e-4;
    expect(-1 / slope).toBeCloseTo(51.6 / 17.44, 6);
    expect(-1 / slope).toBeCloseTo(2.96, 2);
  });
});

describe("derived values of the same curve", () => {
  const law = universalAt(-53.15); // Tg 220 K

  it("Vogel–Fulcher–Tammann: B = ln 10 · C1 · C2 and T∞ = T0 − C2 give the same shift", () => {
    const b_K = vogelB_K(law);
    expect(b_K).toBeCloseTo(Math.LN10 * 17.44 * 51.6, 9);
    const vogel_K = vogelTemperature_C(law) + kelvin;
    for (const t of [225, 250, 300]) {
      const vogelForm = (b_K / (t - vogel_K) - b_K / (220 - vogel_K)) / Math.LN10;
      expect(log10ShiftFactor(law, t - kelvin)).toBeCloseTo(vogelForm, 9);
    }
  });

  it("apparent activation energy is the slope against 1/T", () => {
    for (const t of [-53.15, -20, 25]) {
      const k = t + kelvin;
      const h = 1e-3;
      const slope =
        (log10ShiftFactor(law, t + h) - log10ShiftFactor(law, t - h)) / (1 / (k + h) - 1 / (k - h));
      expect((slope * Math.LN10 * gasConstant_J_molK) / apparentActivationEnergy_J_mol(law, t)).toBeCloseTo(
        1,
        6,
      );
    }
    // Ea(Tg) = ln 10 · R · C1/C2 · Tg² for T = T0.
    expect(apparentActivationEnergy_J_mol(law, -53.15)).toBeCloseTo(
      (Math.LN10 * 8.314462618 * 17.44 * 220 ** 2) / 51.6,
      3,
    );
  });

  it("fragility m = C1 Tg/C2 = Ea(Tg)/(ln 10 · R · Tg), whatever the law's reference", () => {
    expect(fragility(law, -53.15)).toBeCloseTo((17.44 * 220) / 51.6, 9);
    expect(fragility(changeReference(law, 25), -53.15)).toBeCloseTo((17.44 * 220) / 51.6, 9);
    expect(fragility(law, -53.15)).toBeCloseTo(
      apparentActivationEnergy_J_mol(law, -53.15) / (Math.LN10 * gasConstant_J_molK * 220),
      9,
    );
  });

  it("below a border the law is an Arrhenius line that touches it", () => {
    const bordered = { ...law, tangentBelow_C: -45 };
    expect(log10ShiftFactor(bordered, -45)).toBeCloseTo(log10ShiftFactor(law, -45), 12);
    const h = 1e-4;
    const below = (log10ShiftFactor(bordered, -45) - log10ShiftFactor(bordered, -45 - h)) / h;
    const above = (log10ShiftFactor(bordered, -45 + h) - log10ShiftFactor(bordered, -45)) / h;
    expect(below / above).toBeCloseTo(1, 4);
    // Far below T∞ the formula has no value; the tangent does.
    expect(Number.isFinite(log10ShiftFactor(bordered, -150))).toBe(true);
    // A new reference keeps the border.
    expect(log10ShiftFactor(changeReference(bordered, 0), -80)).toBeCloseTo(
      log10ShiftFactor(bordered, -80) - log10ShiftFactor(bordered, 0),
      9,
    );
  });

  it("a reference at or below T∞ is refused", () => {
    expect(() => changeReference(law, -53.15 - 51.6)).toThrow(/not above T∞/);
  });

  // Common practice: a tan δ peak at 1 to 10 Hz lies some 10 to 20 K above the static Tg; that of M″ a few
  // kelvin below the tan δ peak. y C2/(C1 − y) with y = log10(f · 2π · 100 s): 9.86 and 14.37 K.
  it("the loss peak's distance from the static Tg", () => {
    expect(peakAboveGlassTemperature_K(1)).toBeCloseTo((2.79818 * 51.6) / (17.44 - 2.79818), 3);
    expect(peakAboveGlassTemperature_K(10)).toBeCloseTo(14.37, 2);
    const peak = { temperature_C: -53.15 + peakAboveGlassTemperature_K(10), frequency_Hz: 10 };
    expect(conventionalGlassTemperature_C(law, peak)).toBeCloseTo(-53.15, 9);
  });
});

describe("reference-curves/elastomers", () => {
  const read = (name: string) =>
    readFileSync(new URL(`../../reference-curves/${name}`, import.meta.url), "utf8");
  const file = () => JSON.parse(read("elastomers.json"));

  it("the CSV says the same as the JSON", () => {
    const lines = read("elastomers.csv").trim().split("\n");
    expect(lines).toHaveLength(referenceCurves.elastomers.length + 1);
    for (const [i, row] of referenceCurves.elastomers.entries()) {
      for (const value of Object.values(row)) expect(lines[i + 1]).toContain(String(value));
    }
  });

  it("every row has a source", () => {
    for (const row of referenceCurves.elastomers) expect(row.source.length).toBeGreaterThan(20);
  });

  it.each([
    ["a missing list", (f: ReturnType<typeof file>) => delete f.elastomers, /list "elastomers"/],
    [
      "a constant that is text",
      (f: ReturnType<typeof file>) => (f.elastomers[1].c1 = "3.6"),
      /row 2.*c1 "3.6"/,
    ],
    ["a constant below zero", (f: ReturnType<typeof file>) => (f.elastomers[0].c2_K = -5), /row 1.*c2_K -5/],
    ["no source", (f: ReturnType<typeof file>) => (f.elastomers[2].source = " "), /row 3.*source/],
    ["no mark of memory", (f: ReturnType<typeof file>) => delete f.elastomers[0].fromMemory, /fromMemory/],
    [
      "a Tg below T∞",
      (f: ReturnType<typeof file>) => (f.elastomers[0].glassTemperature_K = 90),
      /at or below T∞/,
    ],
    [
      "a name twice",
      (f: ReturnType<typeof file>) => (f.elastomers[1].name = f.elastomers[0].name),
      /repeats the name/,
    ],
  ])("%s is named", (_, spoil, expected) => {
    const spoilt = file();
    expect(readReferenceCurves(spoilt).ok).toBe(true);
    spoil(spoilt);
    const outcome = readReferenceCurves(spoilt);
    expect(outcome.ok).toBe(false);
    if (!outcome.ok) expect(outcome.problem.message).toMatch(expected);
  });
});
