import { expect, it } from "vitest";
import {
  type LawPoint,
  lawAt,
  lawPrior,
  middleLaw,
  weighLaws,
} from "../../src/fit/single-frequency/assumed-constants.js";
import type { GlassAnchor } from "../../src/fit/single-frequency/glass-anchor.js";
import { log10ShiftFactor } from "../../src/fit/spectrum/shift-law.js";
import { constantsAtGlassTransition } from "../../src/fit/superposition/law/reference-curves.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";

const anchor: GlassAnchor = {
  quantity: "M″",
  peak_C: -40,
  temperature_C: -40,
  deviation_K: 0.3,
  betweenSweeps_K: 0,
  frequency_Hz: 1,
};
const rows = constantsAtGlassTransition();
const prior = lawPrior(
  rows,
  rows.map(() => 1),
  anchor,
);
/** Misfit as a sweep has it that asks for one slope near its peak, and is told the bend less well. */
const truth: LawPoint = [Math.log(15), Math.log(45), prior.decades];
const slopeAt = (point: LawPoint, at_C: number) => {
  const law = lawAt(point, -40);
  return Math.log(log10ShiftFactor(law, at_C - 0.5) - log10ShiftFactor(law, at_C + 0.5));
};
const misfitOf = (point: LawPoint) => {
  const off = [-44, -40, -35, -30].map((at_C) => slopeAt(point, at_C) - slopeAt(truth, at_C));
  return Math.sqrt(off.reduce((sum, one) => sum + (0.5 * one) ** 2 / off.length, 0.01 ** 2));
};

it("weighs laws as the plain sum over many of the prior's does, and asks the sweep about few", () => {
  let asked = 0;
  const { points, weights, tried } = weighLaws(prior, (point) => {
    asked++;
    return misfitOf(point);
  });
  expect(asked).toBe(tried.length);
  expect(asked).toBeLessThan(200);
  expect(weights.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
  // By brute force: 100,000 laws of the prior, each with the likelihood of ten errors floored at 3 %.
  const logs: number[] = [];
  const slopes: [near: number, far: number][] = [];
  const random = seededRandom(1);
  for (let i = 0; i < 100_000; i++) {
    const row = rows[i % rows.length];
    const point: LawPoint = [
      Math.log(row.c1) + prior.deviations[0] * random.normal(),
      Math.log(row.c2_K) + prior.deviations[1] * random.normal(),
      prior.decades + prior.deviations[2] * random.normal(),
    ];
    logs.push(-5 * Math.log(misfitOf(point) ** 2 + 0.03 ** 2));
    slopes.push([slopeAt(point, -40), slopeAt(point, -15)]);
  }
  const best = Math.max(...logs);
  const mean = (values: number[], by: ArrayLike<number>) => {
    let [sum, total] = [0, 0];
    for (let k = 0; k < values.length; k++) {
      sum += by[k] * values[k];
      total += by[k];
    }
    return sum / total;
  };
  const deviation = (values: number[], by: ArrayLike<number>) => {
    const middle = mean(values, by);
    return Math.sqrt(
      mean(
        values.map((value) => (value - middle) ** 2),
        by,
      ),
    );
  };
  const brute = logs.map((log) => Math.exp(log - best));
  const own = points.map((point) => [slopeAt(point, -40), slopeAt(point, -15)]);
  for (const k of [0, 1]) {
    const [found, sought] = [own.map((one) => one[k]), slopes.map((one) => one[k])];
    const spread = deviation(sought, brute);
    expect(Math.abs(mean(found, weights) - mean(sought, brute))).toBeLessThan(0.05 * spread);
    expect(Math.abs(deviation(found, weights) / spread - 1)).toBeLessThan(0.04);
  }
  // The middle stands near the law that the misfit was made from.
  expect(slopeAt(middleLaw(points, weights), -40)).toBeCloseTo(slopeAt(truth, -40), 1);
});
