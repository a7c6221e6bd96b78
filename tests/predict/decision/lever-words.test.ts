import { describe, expect, test } from "vitest";
import { changeValue, unsaidSentence } from "../../../src/predict/decision/lever-words.js";

describe("a change that a lever brings", () => {
  test("is in percentage points where the quantity itself is in per cent", () => {
    const rebound = { quantity: "rebound", unit: "1" };
    expect(changeValue(0.046, rebound, true)).toBe("+4.6 percentage points");
    expect(changeValue(-0.046, rebound, true)).toBe("−4.6 percentage points");
    expect(changeValue(0.646, rebound)).toBe("65 %");
    const elongation = { quantity: "elongation at break", unit: "%" };
    expect(changeValue(-80, elongation, true)).toBe("−80 percentage points");
    expect(changeValue(420, elongation)).toBe("420 %");
    expect(changeValue(5.3, { quantity: "hardness", unit: "Shore A" }, true)).toBe("+5.3 Shore A");
  });

  test("is not said of compounds without a series, each named once", () => {
    expect(unsaidSentence([])).toBeNull();
    expect(unsaidSentence(["Rowan W", "Rowan W"])).toBe(
      "Nothing in this study says what filler would change for Rowan W: no filler series was measured around it.",
    );
    expect(unsaidSentence(["A", "B", "C"])).toContain(
      "for A, B and C: no filler series was measured around them",
    );
  });
});
