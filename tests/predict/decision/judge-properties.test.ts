import { describe, expect, it } from "vitest";
import type { CompoundProperty } from "../../../src/predict/decision/decision-schema.js";
import { standingOf } from "../../../src/predict/decision/judge.js";
import type { Requirement } from "../../../src/predict/decision/requirement.js";

const wear: Requirement = {
  ...{ name: "wears little", quantity: "abrasion loss", use: null },
  ...{ unit: "mm³", atMost: 120 },
};
const once: CompoundProperty = {
  ...{ quantity: "abrasion loss", unit: "mm³", value: 124, low: null, high: null, count: 1 },
  ...{ method: "ISO 4649, method B", inputs: ["a.csv"] },
};
const repeated: CompoundProperty = {
  ...{ ...once, value: 112, low: 108, high: 116, count: 7 },
  ...{ method: "ISO 4649, method A", inputs: ["b.csv"] },
};
const standing = (...properties: CompoundProperty[]) =>
  standingOf(wear, { name: "Birch 66", outlooks: [], reference: null, softening: null, properties });

describe("a property as required", () => {
  it("is taken as it stands without repeats, and says so", () => {
    const { value, met, asStated } = standing(once);
    expect([value, asStated, met!.some((one) => one === 1)]).toEqual([124, true, false]);
  });

  it("is that of the method with most readings, wherever it stands", () => {
    for (const found of [standing(once, repeated), standing(repeated, once)]) {
      expect([found.value, found.asStated]).toEqual([112, false]);
    }
  });

  // The limit stands half the interval above the value: 1.96 standard errors, below which 97.5 % of a normal lie.
  it("is met by the share of its error that lies under the limit", () => {
    const { met } = standing({ ...repeated, value: 116, low: 112, high: 120 });
    const share = met!.reduce((sum, one) => sum + one, 0) / met!.length;
    expect(Math.abs(share - 0.975)).toBeLessThan(0.02);
  });

  it("in another unit is unknown", () => {
    expect(standing({ ...repeated, unit: "%" }).met).toBeNull();
  });
});

describe("a softening temperature as required", () => {
  const warm: Requirement = {
    ...{ name: "outlives the oven of a car", quantity: "softening temperature", use: null },
    ...{ unit: "°C", atLeast: 60 },
  };
  const softened = (temperature_C: number | null, low_C: number | null, high_C: number | null) =>
    standingOf(warm, {
      ...{ name: "Hazel T", outlooks: [], reference: null, properties: [] },
      softening: {
        ...{ temperature_C, low_C, high_C, bracketed: temperature_C !== null },
        ...{ frequency_Hz: 1, deformation: "tension", paths: ["a.csv"] },
      },
    });
  const share = ({ met }: { met: Uint8Array | null }) =>
    met === null ? null : met.reduce((sum, one) => sum + one, 0) / met.length;

  it("is met by the share of its interval above the limit, half at the limit itself", () => {
    expect(share(softened(80, 78, 82))).toBe(1);
    expect(Math.abs(share(softened(60, 58, 62))! - 0.5)).toBeLessThan(0.06);
    expect(share(softened(40, 38, 42))).toBe(0);
  });

  it("is met where the data end above the limit unsoftened, and unknown where they end below", () => {
    expect(share(softened(null, 80, null))).toBe(1);
    expect(share(softened(null, 50, null))).toBeNull();
  });
});
