import { describe, expect, it } from "vitest";
import { decide } from "../../src/predict/decision/decide.js";
import { type Candidate, standingOf } from "../../src/predict/decision/judge.js";
import { leversOf } from "../../src/predict/decision/levers.js";
import type { Requirement } from "../../src/predict/decision/requirement.js";
import type { Assessment } from "../../src/report/assessment.js";
import { leversSection } from "../../src/report/html/answer/levers-section.js";
import type { Results } from "../../src/report/results/results.js";
import { fillerChangesTable } from "../../src/report/tables/filler-changes-table.js";

const wear: Requirement = {
  ...{ name: "wears little", quantity: "abrasion loss", use: null },
  ...{ unit: "mm³", atMost: 120 },
};
const worn = (name: string, value: number): Candidate => ({
  ...{ name, outlooks: [], reference: null, softening: null },
  properties: [
    {
      ...{ quantity: "abrasion loss", unit: "mm³", value, low: null, high: null },
      ...{ count: 1, method: null, inputs: [] },
    },
  ],
});
const member = (compound: string, phr: number) => ({
  ...{ compound, phr, volumeFraction: null, particleSize_nm: null },
});

function resultsWith(candidates: Candidate[]): Results {
  const decision = decide(
    [wear],
    candidates.map((one) => ({
      ...{ name: one.name, standings: [standingOf(wear, one)], isAssumed: false },
      verdictMissing: new Map(),
      predictionMissing: new Map(),
    })),
  );
  const series = [{ name: "black <in> Birch", members: [member("Birch 50", 50), member("Birch 60", 60)] }];
  return { decision: { ...decision, levers: leversOf(decision, candidates, series) } } as unknown as Results;
}

describe("the section on filler", () => {
  const results = resultsWith([worn("Birch 50", 140), worn("Birch 60", 110), worn("Rowan", 150)]);
  const { markup } = leversSection(results);

  it("gives the load that reaches the limit, the slope, the remark as common practice, and its caution", () => {
    expect(markup).toContain("56.7 phr");
    expect(markup).toContain("measured between Birch 50 and Birch 60");
    expect(markup).toContain("−30 mm³");
    expect(markup).toMatch(/Common practice, not of this study/);
    expect(markup).toMatch(/qualified person/);
    expect(markup).toContain("black &lt;in&gt; Birch");
  });

  it("says plainly of whom nothing in the study says it", () => {
    expect(markup).toMatch(/Nothing in this study says what filler would change for .*Rowan/);
  });

  it("is not there where nothing fails or nothing is asked", () => {
    expect(leversSection(resultsWith([worn("Birch 60", 110)])).markup).toBe("");
    expect(leversSection({ decision: null } as unknown as Results).markup).toBe("");
  });

  it("stands in the table as one step and one trade", () => {
    const { header, rows } = fillerChangesTable({ results } as Assessment);
    const slope = header.indexOf("slopePerLoad");
    expect(rows.map((row) => [row[1], row[slope]])).toEqual([
      ["measured step", -3],
      ["interpolated trade", expect.closeTo(-3, 9)],
    ]);
    expect(rows.every((row) => row.length === header.length)).toBe(true);
  });
});
