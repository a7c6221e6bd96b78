import { describe, expect, it } from "vitest";
import { defaultUses } from "../../src/predict/default-uses.js";
import type { ColdVerdict, Outlook } from "../../src/predict/outlook.js";
import { predictOutlook } from "../../src/predict/predict-outlook.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";
import { rankWorstFirst } from "../../src/predict/rank.js";
import { relativeToReference } from "../../src/predict/relative-to-reference.js";
import { roughnessOf } from "../../src/predict/roughness.js";
import { summarise } from "../../src/predict/summarise.js";
import { textures } from "../../src/predict/textures.js";
import { exampleMaterial } from "./example-materials.js";

function outlook(
  temperature_C: number,
  verdict: ColdVerdict | null,
  friction: number,
  margin_K = 0,
): Outlook {
  return {
    use: `at ${temperature_C}`,
    temperature_C,
    rebound: null,
    grip: {
      frictionCoefficient: friction,
      low: friction,
      high: friction,
      contactAreaRatio: 0.02,
      cutOffSensitivity: { halved: friction, doubled: friction },
    },
    cold:
      verdict === null
        ? null
        : {
            verdict,
            contactFrequency_Hz: 300,
            contact: "sliding",
            marginToGlassy_K: margin_K,
            marginToLeathery_K: margin_K - 20,
            glassTemperatureAtUse: {
              frequency_Hz: 300,
              tanDeltaPeak: { temperature_C: -14.2, low_C: -15, high_C: -13 },
              lossModulusPeak: { temperature_C: -19, low_C: -20, high_C: -18 },
            },
            glassTemperatureMeasured: { frequency_Hz: 1, tanDeltaPeak_C: -38.1, lossModulusPeak_C: -45 },
          },
  };
}

const table = [
  { compound: "Rowan W", outlook: outlook(5, "rubbery", 0.2, 40) },
  { compound: "Birch 60", outlook: outlook(5, "rubbery", 0.5, 24) },
  { compound: "Rowan W", outlook: outlook(-20, "leathery or rubbery", 0.4, 15) },
  { compound: "Birch 60", outlook: outlook(-20, "glassy", 0.3, -1) },
  { compound: "Birch 60", outlook: outlook(-30, "glassy", 0.1, -11) },
  { compound: "Linden PU", outlook: outlook(-20, null, 0.3) },
  { compound: "Rowan W", outlook: outlook(-30, "leathery", 0.4, 5) },
];

describe("ranking", () => {
  it("puts the worst first, and what is not known right after what may be glassy", () => {
    const ranked = rankWorstFirst(table);
    expect(ranked.map(({ compound, outlook: { temperature_C } }) => [compound, temperature_C])).toEqual([
      ["Birch 60", -30],
      ["Birch 60", -20],
      ["Linden PU", -20],
      ["Rowan W", -30],
      ["Rowan W", -20],
      ["Birch 60", 5],
      ["Rowan W", 5],
    ]);
    expect(rankWorstFirst([...table].reverse())).toEqual(ranked);
  });
});

describe("summary", () => {
  it("says in one sentence each what matters", () => {
    expect(summarise(rankWorstFirst(table))).toEqual([
      "Birch 60 has the best grip at +5 °C and is glassy at −20 °C.",
      "Birch 60: glassy at −20 °C and below in sliding contact; its tan δ peak of −38 °C at 1 Hz stands at −14 °C there.",
      "Rowan W: leathery at −30 °C in sliding contact; its tan δ peak of −38 °C at 1 Hz stands at −14 °C there.",
      "Linden PU: no cold-weather verdict at −20 °C; its notices say which sweep would settle it.",
    ]);
  });

  it("has nothing to say of compounds that are rubbery throughout", () => {
    expect(summarise([{ compound: "Rowan W", outlook: outlook(5, "rubbery", 0.2, 40) }])).toEqual([]);
  });

  it("finds the trade from predictions, not from a table made for it", () => {
    const temperatures_C = [5, -20];
    const predicted = [-75, -60, -25].flatMap((glassTemperature_C) => {
      const name = `Tg ${glassTemperature_C}`;
      const material = exampleMaterial({ name, glassTemperature_C, lowestTemperature_C: -110 });
      return temperatures_C.map((temperature_C) => ({
        compound: name,
        outlook: predictOutlook(material, { ...defaultUses()[0], temperature_C }, settings, null).outlook,
      }));
    });
    expect(summarise(rankWorstFirst(predicted))).toContain(
      "Tg -25 has the best grip at +5 °C and is glassy at −20 °C.",
    );
  });
});

describe("ratio to the reference compound", () => {
  it("cancels what both share", () => {
    const shared = Float64Array.from({ length: 40 }, (_, i) => 0.5 + 0.01 * i);
    const twice = shared.map((value) => 2 * value);
    const ratio = relativeToReference(1.4, twice, 0.7, shared)!;
    expect(ratio.ratio).toBeCloseTo(2, 12);
    expect(ratio.low).toBeCloseTo(2, 12);
    expect(ratio.high).toBeCloseTo(2, 12);
    expect(relativeToReference(0.7, shared, 0.7, shared)).toEqual({ ratio: 1, low: 1, high: 1 });
  });

  it("is wider than either where nothing is shared, and null without a value", () => {
    const up = Float64Array.from({ length: 40 }, (_, i) => 0.8 + 0.01 * i);
    const down = Float64Array.from(up).reverse();
    const { low, high } = relativeToReference(1, up, 1, down)!;
    expect(high - low).toBeGreaterThan(0.39);
    expect(relativeToReference(null, null, 1, up)).toBeNull();
    expect(relativeToReference(1, up, null, null)).toBeNull();
    expect(relativeToReference(1, null, 0.5, null)).toEqual({ ratio: 2, low: 2, high: 2 });
  });
});

describe("what comes with the program", () => {
  it("has textures with a source each, every one of which can be used", () => {
    expect(textures.length).toBeGreaterThanOrEqual(4);
    for (const texture of textures) {
      expect(texture.source).toMatch(/invented|from memory/i);
      expect(roughnessOf(texture, settings).ok).toBe(true);
    }
  });

  it("assumes uses at 23, 0, −10, −20 and −30 °C and marks them as assumed", () => {
    const uses = defaultUses();
    expect(uses.map((use) => use.temperature_C)).toEqual([23, 0, -10, -20, -30]);
    for (const use of uses) {
      expect(use.assumed).toBe(true);
      expect(use.sliding).toMatchObject({ speed_m_s: 0.3, pressure_Pa: 3e5 });
      expect(use.sliding!.texture).toMatchObject({ rmsHeight_m: 3e-4, hurstExponent: 0.8, q0_per_m: 1500 });
      expect(use.impact).toMatchObject({ mass_kg: 0.255, speed_m_s: 1.98, indenterRadius_m: 0.0075 });
    }
  });
});
