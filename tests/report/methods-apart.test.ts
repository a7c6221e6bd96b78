import { describe, expect, test } from "vitest";
import type { CompoundProperty } from "../../src/predict/decision/decision-schema.js";
import { differenceTable, type Pinned } from "../../src/report/html/answer/side-by-side-section.js";
import { measuredFacts } from "../../src/report/html/compound/measured-facts.js";
import { plain } from "./invented-verdicts.js";
import { makeAssessment } from "./make-assessment.js";

const [compound] = makeAssessment({ compounds: 1 }).results.compounds;

function rebound(method: string | null, value: number): CompoundProperty {
  const spread = { low: value - 1, high: value + 1, count: 3 };
  return { quantity: "measured rebound", unit: "%", value, ...spread, method, inputs: ["rebound.csv"] };
}

describe("values of different methods", () => {
  test("are named apart where one compound has both", () => {
    const properties = [rebound("ISO 4662, at 23 °C", 48), rebound(null, 61)];
    const words = plain(measuredFacts({ ...compound, properties }));
    expect(words).toContain("measured rebound, ISO 4662, at 23 °C48.0 %");
    expect(words).toContain("measured rebound, method not stated61.0 %");
  });

  test("are not held against one another where two compounds have one each", () => {
    const pinned = (index: number, method: string, value: number): Pinned => ({
      index,
      compound: { ...compound, properties: [rebound(method, value)] },
      predicted: {
        outlook: compound.outlooks[0],
        draws: { grip: null, rebound: null },
      } as Pinned["predicted"],
    });
    const words = (other: string) =>
      plain(differenceTable([pinned(0, "ISO 4662, at 23 °C", 48), pinned(1, other, 61)], 23)).split(
        "Measured rebound",
      )[1];
    expect(words("ASTM D2632, at 23 °C")).toContain("61.0 % ASTM D2632, at 23 °C");
    expect(words("ASTM D2632, at 23 °C")).not.toContain("distinguishable");
    // DIN 53512 is the same test as ISO 4662 (from memory; see rebound-method.ts).
    expect(words("DIN 53512, at 22.5 °C")).toContain("+13 % +12 to +14distinguishable");
  });
});
