import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { readBytes } from "../../src/io/read-bytes.js";
import { decide } from "../../src/predict/decision/decide.js";
import { standingOf } from "../../src/predict/decision/judge.js";
import { propertiesOf } from "../../src/predict/decision/properties.js";
import type { Requirement } from "../../src/predict/decision/requirement.js";

/**
 * Published typical properties of natural rubber/styrene-butadiene compounds by carbon black, fine to coarse: Tokai
 * Carbon, Seast series, "Typical properties in Natural Rubber-SBR", read 2026-11-28; rows and rounding as published.
 */
const file = "carbon-blacks-in-rubber.csv";
const bytes = new Uint8Array(readFileSync(new URL(`data/${file}`, import.meta.url)));
const grades = [
  ...["SAF-HS (9H)", "SAF (9)", "N234 (7HM)", "ISAF (6)", "ISAF-LS (600)"],
  ...["5H", "N339 (KH)", "HAF-HS (3H)", "N351 (NH)", "HAF (3)"],
];

async function readTable() {
  const outcome = await readBytes(bytes, file);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  const { measurements, properties } = outcome.value;
  return grades.map((name) => ({
    name,
    properties: propertiesOf({
      properties: properties.filter(({ sample }) => sample === name),
      measurements: measurements.filter(({ sample }) => sample === name),
    }),
  }));
}

/** Ranks from 1, ties sharing the mean of theirs. */
function ranks(values: number[]): number[] {
  return values.map((value) => {
    const below = values.filter((other) => other < value).length;
    const equal = values.filter((other) => other === value).length;
    return below + (equal + 1) / 2;
  });
}

/** Spearman's: Pearson's correlation of the ranks. */
function rankCorrelation(a: number[], b: number[]): number {
  const [x, y] = [ranks(a), ranks(b)];
  const mean = (a.length + 1) / 2;
  const sum = (f: (i: number) => number) => x.reduce((total, _, i) => total + f(i), 0);
  const product = sum((i) => (x[i] - mean) * (y[i] - mean));
  return product / Math.sqrt(sum((i) => (x[i] - mean) ** 2) * sum((i) => (y[i] - mean) ** 2));
}

describe("a published table of carbon blacks in rubber", () => {
  it("is read as a property table: ten grades of eight properties each", async () => {
    const table = await readTable();
    const n234 = new Map(table[2].properties.map(({ quantity, value, unit }) => [quantity, [value, unit]]));
    expect(Object.fromEntries(n234)).toEqual({
      hardness: [71, "Shore A"],
      "stress at 300 %": [15.2, "MPa"],
      "tensile strength": [27, "MPa"],
      "elongation at break": [490, "%"],
      "tear strength": [160, "kN/m"],
      "abrasion resistance index": [141, "%"],
      "compression set": [6.7, "%"],
      "measured rebound": [47, "%"],
    });
    expect(table.map(({ properties }) => properties.length)).toEqual(grades.map(() => 8));
  });

  // By hand from the published rows, with ties: −0.812.
  it("has rebound and resistance to abrasion opposed", async () => {
    const table = await readTable();
    const column = (quantity: string) =>
      table.map(({ properties }) => properties.find((one) => one.quantity === quantity)!.value);
    const found = rankCorrelation(column("measured rebound"), column("abrasion resistance index"));
    expect(found).toBeCloseTo(-0.81, 2);
  });

  // By hand: N234 (47, 141) wears least; N339 (52, 132) beats ISAF (49, 132), ISAF-LS (52, 100) and 5H (51, 120);
  // HAF-HS (53, 114) beats N351 (53, 109); HAF (54, 111) rebounds most; both SAF (46, 140 and 138) lose to N234.
  it("has the frontier that a hand count gives", async () => {
    const table = await readTable();
    const asked = { use: null, unit: "%", atLeast: 0 };
    const requirements: Requirement[] = [
      { ...asked, name: "rebounds", quantity: "measured rebound" },
      { ...asked, name: "lasts", quantity: "abrasion resistance index" },
    ];
    const { compounds } = decide(
      requirements,
      table.map(({ name, properties }) => ({
        name,
        standings: requirements.map((requirement) =>
          standingOf(requirement, { name, properties, outlooks: [], reference: null, softening: null }),
        ),
        isAssumed: false,
        verdictMissing: new Map(),
        predictionMissing: new Map(),
      })),
    );
    expect(compounds.filter(({ onFrontier }) => onFrontier).map(({ name }) => name)).toEqual([
      "N234 (7HM)",
      "N339 (KH)",
      "HAF-HS (3H)",
      "HAF (3)",
    ]);
  });
});
