import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { atan, atan2, cos, sin, tan } from "../../src/numeric/elementary/angle.js";
import { cosh, exp, exp10, expm1, sinh } from "../../src/numeric/elementary/exponential.js";
import { ln, log10 } from "../../src/numeric/elementary/logarithm.js";
import { cube, hypotenuse, power, square } from "../../src/numeric/elementary/power.js";

// Values by mpmath at 60 digits (fixtures/write-exact-values.py); the bounds are those of the docstrings.
const { values } = JSON.parse(readFileSync("tests/numeric/fixtures/exact-values.json", "utf8")) as {
  values: Record<string, string[][]>;
};
const functions: Record<string, [(x: number, y: number) => number, number]> = {
  exp: [exp, 0.6],
  exp10: [exp10, 0.6],
  expm1: [expm1, 4],
  sinh: [sinh, 4],
  cosh: [cosh, 1.5],
  sin: [sin, 2.5],
  cos: [cos, 2.5],
  tan: [tan, 4],
  atan: [atan, 1.5],
  ln: [ln, 0.6],
  log10: [log10, 0.6],
  power: [power, 1],
};

const scratch = new DataView(new ArrayBuffer(8));

/** How far a double stands from an exact decimal, in units of its own last place. */
function unitsApart(found: number, exact: string): number {
  scratch.setFloat64(0, Math.abs(found));
  const exponent = Math.max((scratch.getUint32(0) >>> 20) & 0x7ff, 1) - 1075;
  // Whole multiples of 10^-700, and of a millionth of a unit in the last place.
  const difference = (fixed(asDecimal(found)) - fixed(exact)) * 1_000_000n;
  const one = 10n ** 700n;
  const units =
    exponent < 0 ? (difference << BigInt(-exponent)) / one : difference / (one << BigInt(exponent));
  return Math.abs(Number(units)) / 1e6;
}

/** The decimal expansion of a double. */
function asDecimal(x: number): string {
  scratch.setFloat64(0, x);
  const bits = scratch.getBigUint64(0);
  const exponent = Number((bits >> 52n) & 0x7ffn);
  const mantissa = (bits & 0xfffffffffffffn) | (exponent === 0 ? 0n : 0x10000000000000n);
  const power = BigInt(Math.max(exponent, 1) - 1075);
  const sign = bits >> 63n === 1n ? "-" : "";
  if (power >= 0n) return `${sign}${mantissa << power}`;
  return `${sign}${mantissa * 5n ** -power}e${power}`;
}

function fixed(decimal: string): bigint {
  const [, sign, whole, part = "", exponent = "0"] = /^(-?)(\d+)(?:\.(\d*))?(?:e([+-]?\d+))?$/.exec(decimal)!;
  const power = 700 + Number(exponent) - part.length;
  const digits = BigInt(whole + part);
  const scaled = power >= 0 ? digits * 10n ** BigInt(power) : digits / 10n ** BigInt(-power);
  return sign === "-" ? -scaled : scaled;
}

describe("elementary functions", () => {
  test.each(Object.entries(functions))(
    "%s stands within its bound of the exact values",
    (name, [f, bound]) => {
      expect(values[name].length).toBeGreaterThanOrEqual(48);
      let worst = 0;
      for (const row of values[name]) {
        const [x, y] = row.slice(0, -1).map(Number);
        worst = Math.max(worst, unitsApart(f(x, y), row[row.length - 1]));
      }
      expect(worst).toBeLessThan(bound);
      // Half a unit is what rounding alone leaves: a measure that always gave less would be none.
      expect(worst).toBeGreaterThan(0.3);
    },
  );

  test("whole powers of ten are the doubles nearest to them, and lead back", () => {
    for (let n = -22; n <= 22; n++) {
      expect(exp10(n)).toBe(Number(`1e${n}`));
      expect(power(10, n)).toBeCloseTo(Number(`1e${n}`), 15 - n);
    }
    for (let n = -307; n <= 308; n++) expect(log10(Number(`1e${n}`))).toBe(n);
    expect(power(2, 10)).toBe(1024);
    expect(power(9, 1.5)).toBe(27);
    expect(square(-3)).toBe(9);
    expect(cube(-3)).toBe(-27);
    expect(hypotenuse(3, -4)).toBe(5);
  });

  // ISO/IEC 60559 (IEEE 754-2019), 9.2.1: the special values.
  test("special values are those of IEEE 754", () => {
    const { NaN: nan, POSITIVE_INFINITY: infinity } = Number;
    expect([0, -infinity, infinity, nan, 1000, -1000].map(exp)).toEqual([1, 0, infinity, nan, infinity, 0]);
    expect([0, -infinity, infinity, nan, 400, -400].map(exp10)).toEqual([1, 0, infinity, nan, infinity, 0]);
    expect([0, -0, -infinity, infinity, nan].map(expm1)).toEqual([0, -0, -1, infinity, nan]);
    expect([1, 0, -1, infinity, nan].map(ln)).toEqual([0, -infinity, nan, infinity, nan]);
    expect([1, 0, -1, infinity, nan].map(log10)).toEqual([0, -infinity, nan, infinity, nan]);
    expect([infinity, -infinity, -0, nan].map(atan)).toEqual([Math.PI / 2, -Math.PI / 2, -0, nan]);
    expect([infinity, nan, 2e6].map(cos)).toEqual([nan, nan, nan]);
    const pairs = [
      [0, 2],
      [0, -1],
      [-2, 3],
      [-2, 2],
      [-2, 0.5],
      [2, nan],
      [nan, 0],
      [infinity, -2],
      [0.5, infinity],
      [2, 5000],
      [2, -5000],
    ];
    expect(pairs.map(([x, y]) => power(x, y))).toEqual([
      ...[0, infinity, -8, 4, nan, nan, 1, 0, 0, infinity, 0],
    ]);
  });

  test("numbers below the smallest normal one are served", () => {
    // 2^-1074 and 2^-1060, as logarithms of exact powers of two.
    expect(ln(5e-324)).toBeCloseTo(-1074 * Math.LN2, 12);
    expect(log10(5e-324)).toBeCloseTo(-1074 * Math.log10(2), 12);
    expect(exp(-1060 * Math.LN2) / 2 ** -1060).toBeCloseTo(1, 3);
  });

  test("atan2 finds the quadrant", () => {
    for (const [y, x] of [
      [1, 1],
      [1, -1],
      [-1, -1],
      [-1, 1],
      [0, -1],
      [-0, -1],
      [0, 1],
      [2, 0],
      [-2, 0],
      [0, 0],
      [0, -0],
    ]) {
      expect(atan2(y, x)).toBe(Math.atan2(y, x));
    }
  });
});
