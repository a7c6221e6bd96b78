import { describe, expect, it } from "vitest";
import { coldestIsothermCovariance } from "../../src/fit/superposition/law/coldest-isotherm.js";
import { fitLaw, type LawShape, lawShift } from "../../src/fit/superposition/law/law-fit.js";
import type { MeasuredShifts } from "../../src/fit/superposition/law/measured-shifts.js";

const shape: LawShape = { kind: "wlf", reference_C: -20, border_C: null };
/** (s, κ): C1 8, C2 80 K at the reference. */
const truth = Float64Array.of(8 / 80, 1 / 80);
const error_decades = 0.01;

function shiftsAt(temperatures_C: number[], coldestOff_decades: number): MeasuredShifts {
  const count = temperatures_C.length;
  const reference = temperatures_C.indexOf(shape.reference_C);
  const covariance = new Float64Array(count * count);
  for (let a = 0; a < count; a++) {
    for (let b = 0; b < count; b++) {
      if (a === reference || b === reference) continue;
      // Each isotherm's own error, and the reference's in all differences from it.
      covariance[a * count + b] = error_decades ** 2 * (a === b ? 2 : 1);
    }
  }
  return {
    temperature_C: Float64Array.from(temperatures_C),
    run: new Int32Array(count),
    runCount: 1,
    log10aT: Float64Array.from(
      temperatures_C,
      (temperature_C, k) => lawShift(shape, truth, temperature_C) + (k === 0 ? coldestOff_decades : 0),
    ),
    reference,
    covariance,
    freeDeviance: 0,
    moduli: 400,
    otherParameters: 30,
  };
}

const every6K = Array.from({ length: 11 }, (_, k) => -50 + 6 * k);

describe("what a law owes to its coldest isotherm", () => {
  it("is next to nothing where all isotherms follow the law", () => {
    const shifts = shiftsAt(every6K, 0);
    const law = fitLaw(shifts, shape)!;
    const added = coldestIsothermCovariance(shifts, law)!;
    expect(added[3]).toBeLessThan(1e-6 * law.covariance[3]);
  });

  // As a secondary relaxation does; in 30 made-up sets by 0.03 to 0.2 decades.
  it("is as much as the constants are off by where the coldest one's shift is bent within what scatter allows", () => {
    const shifts = shiftsAt(every6K, -0.04);
    const law = fitLaw(shifts, shape)!;
    expect(law.scatter_decades).toBe(0);
    const off = Math.abs(law.parameters[1] - truth[1]);
    expect(off).toBeGreaterThan(2 * Math.sqrt(law.covariance[3]));
    const added = coldestIsothermCovariance(shifts, law)!;
    expect(Math.sqrt(added[3])).toBeCloseTo(off, 4);
    expect(off).toBeLessThan(1.96 * Math.sqrt(law.covariance[3] + added[3]));
  });

  it("is of the isotherms above the border to the glass only", () => {
    const shifts = shiftsAt(every6K, -0.5);
    const law = fitLaw(shifts, { ...shape, border_C: -44 })!;
    expect(coldestIsothermCovariance(shifts, law)![3]).toBeLessThan(1e-12);
  });

  it("is not to be had of four isotherms, of an Arrhenius law, or where the coldest is the reference", () => {
    const few = shiftsAt([-32, -26, -20, -14], 0);
    expect(coldestIsothermCovariance(few, fitLaw(few, shape)!)).toBeNull();
    const many = shiftsAt(every6K, 0);
    const arrhenius = fitLaw(many, { ...shape, kind: "arrhenius" })!;
    expect(coldestIsothermCovariance(many, arrhenius)).toBeNull();
    const warm = shiftsAt([-20, -14, -8, -2, 4, 10], 0);
    expect(coldestIsothermCovariance(warm, fitLaw(warm, shape)!)).toBeNull();
  });
});
