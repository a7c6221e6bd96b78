import { describe, expect, it } from "vitest";
import { compareParticleSizes, modulusRatioAtSize } from "../../src/fit/network/particle-size.js";

const member = (compound: string, particleSize_nm: number, value: number, volumeFraction = 0.2) => ({
  ...{ compound, particleSize_nm, volumeFraction },
  plateauModulus_Pa: { value, low: 0.97 * value, high: 1.03 * value },
});

describe("particles of two sizes at one load", () => {
  // 2.5 over 2.0 MPa, each within 3 %: ln 1.03 · √2 = 4.18 % and ln 0.97 downwards.
  it("are compared by their measured moduli, with the half widths of the two in quadrature", () => {
    const [one, ...others] = compareParticleSizes([member("fine", 30, 2.5e6), member("coarse", 60, 2e6)]);
    expect(others).toEqual([]);
    expect(one).toMatchObject({ coarser: "coarse", finer: "fine", distinguishable: true });
    expect(one.ratio.value).toBeCloseTo(1.25, 12);
    const down = Math.hypot(Math.log(0.97), Math.log(1.03));
    const up = Math.hypot(Math.log(1.03), Math.log(0.97));
    expect(one.ratio.low!).toBeCloseTo(1.25 * Math.exp(-down), 9);
    expect(one.ratio.high!).toBeCloseTo(1.25 * Math.exp(up), 9);
    expect(one.sentence).toContain("45 nm would give 1.13");
  });

  it("are interpolated between the two sizes, and refused outside them", () => {
    const [one] = compareParticleSizes([member("fine", 30, 2.5e6), member("coarse", 60, 2e6)]);
    expect(modulusRatioAtSize(one, 60)).toEqual({ value: 1, low: 1, high: 1 });
    expect(modulusRatioAtSize(one, 40)!.value).toBeCloseTo(1 + (2 / 3) * 0.25, 12);
    expect(modulusRatioAtSize(one, 40)!.low!).toBeCloseTo(1 + (2 / 3) * (one.ratio.low! - 1), 12);
    for (const outside of [29.9, 60.1, Number.NaN]) expect(modulusRatioAtSize(one, outside)).toBeNull();
  });

  it("that the moduli do not tell apart are said to be that", () => {
    const [one] = compareParticleSizes([member("fine", 30, 2.02e6), member("coarse", 60, 2e6)]);
    expect(one.distinguishable).toBe(false);
    expect(one.sentence).toContain("not told from no difference");
  });

  it("of unlike loads are not compared, and of three sizes each with the next", () => {
    expect(compareParticleSizes([member("fine", 30, 2.5e6, 0.21), member("coarse", 60, 2e6)])).toEqual([]);
    const three = compareParticleSizes([member("b", 30, 2.5e6), member("a", 60, 2e6), member("c", 20, 3e6)]);
    expect(three.map(({ coarser, finer }) => [coarser, finer])).toEqual([
      ["a", "b"],
      ["b", "c"],
    ]);
  });
});
