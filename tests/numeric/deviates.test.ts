import { expect, it } from "vitest";
import {
  evenOrder,
  evenPlaces,
  groupedDeviates,
  instrumentScores,
  matchedDeviates,
  normalAt,
  withMoments,
} from "../../src/numeric/statistics/deviates.js";
import { normalQuantile } from "../../src/numeric/statistics/normal-quantile.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";

const dot = (a: ArrayLike<number>, b: ArrayLike<number>) => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum / a.length;
};
const ones = new Float64Array(60).fill(1);

it("normal quantiles are those of the tables (Abramowitz and Stegun, table 26.5)", () => {
  for (const [probability, expected] of [
    [0.5, 0],
    [0.9, 1.2815516],
    [0.975, 1.959964],
    [0.999, 3.0902323],
    [1e-6, -4.7534243],
    [1 - 1e-9, 5.997807],
  ]) {
    expect(normalQuantile(probability)).toBeCloseTo(expected, 5);
  }
});

it("matched deviates have mean zero, mean square one, and no correlation among themselves or with the instrument's", () => {
  const columns = matchedDeviates(60, 70, seededRandom(1));
  expect(columns).toHaveLength(70);
  const first = columns.slice(0, 45);
  for (const [k, column] of first.entries()) {
    expect(dot(column, ones)).toBeCloseTo(0, 10);
    expect(dot(column, column)).toBeCloseTo(1, 10);
    for (const other of [...first.slice(0, k), ...instrumentScores(60)]) {
      expect(dot(column, other)).toBeCloseTo(0, 10);
    }
  }
  // Another seed is another hand.
  expect(matchedDeviates(60, 1, seededRandom(2))[0][0]).not.toBe(columns[0][0]);
});

it("a sample takes the mean and covariance that it is given, and loses its correlation with what it is told", () => {
  const random = seededRandom(5);
  const columns = [0, 1].map((k) => Float64Array.from({ length: 60 }, () => k + random.normal()));
  const others = instrumentScores(60);
  const [a, b] = withMoments(columns, [3, -1], [4, 1, 1, 2], others);
  expect(dot(a, ones)).toBeCloseTo(3, 10);
  expect(dot(b, ones)).toBeCloseTo(-1, 10);
  const [fromA, fromB] = [a.map((value) => value - 3), b.map((value) => value + 1)];
  expect([dot(fromA, fromA), dot(fromA, fromB), dot(fromB, fromB)].map((v) => Number(v.toFixed(9)))).toEqual([
    4, 1, 2,
  ]);
  for (const other of others) expect(dot(a, other)).toBeCloseTo(0, 10);
});

it("matched deviates have no correlation with the columns that they stand beside", () => {
  const beside = Float64Array.from({ length: 60 }, (_, i) => i * i);
  for (const column of matchedDeviates(60, 20, seededRandom(1), [beside])) {
    expect(dot(column, beside)).toBeCloseTo(0, 8);
    expect(dot(column, column)).toBeCloseTo(1, 10);
  }
  expect(beside[59]).toBe(3481);
});

it("mirrored deviates stand in pairs of draws that mirror each other, matched all the same", () => {
  const columns = matchedDeviates(60, 40, seededRandom(3), [], 14);
  for (const [k, column] of columns.entries()) {
    expect(dot(column, ones)).toBeCloseTo(0, 10);
    expect(dot(column, column)).toBeCloseTo(1, 10);
    for (const other of columns.slice(0, k)) expect(dot(column, other)).toBeCloseTo(0, 10);
    const mirrored = Array.from({ length: 30 }, (_, i) => Math.abs(column[2 * i] + column[2 * i + 1]));
    if (k < 14) expect(Math.max(...mirrored)).toBeLessThan(1e-9);
    else expect(Math.max(...mirrored)).toBeGreaterThan(0.1);
  }
  // What they do by their curvature has nothing of what they do linearly, which plain ones have by chance.
  const thirdMoments = (of: Float64Array[]) =>
    of.flatMap((a) =>
      of.flatMap((b) =>
        of.map((c) =>
          Math.abs(
            dot(
              a.map((v, i) => v * b[i]),
              c,
            ),
          ),
        ),
      ),
    );
  expect(Math.max(...thirdMoments(columns.slice(0, 6)))).toBeLessThan(1e-9);
  expect(Math.max(...thirdMoments(columns.slice(20, 26)))).toBeGreaterThan(0.1);
  // An odd count has no pairs.
  expect(dot(matchedDeviates(61, 1, seededRandom(3), [], 1)[0], new Float64Array(61).fill(1))).toBeCloseTo(
    0,
    10,
  );
});

it("even places give moments far closer than random ones do, from the first ones on", () => {
  const next = evenPlaces(4);
  const sums = [0, 0, 0, 0];
  for (let i = 0; i < 500; i++) {
    for (const [k, place] of next().entries()) sums[k] += normalAt(place) / 500;
    // Random ones: 0.1 and 0.045 in the root mean square.
    if (i === 99) for (const sum of sums) expect(Math.abs(sum * 5)).toBeLessThan(0.06);
  }
  for (const mean of sums) expect(Math.abs(mean)).toBeLessThan(0.02);
});

it("grouped deviates stand in fours of one size with the signs asked for, whatever the order of the groups", () => {
  const order = evenOrder(15);
  expect([...order].sort((a, b) => a - b)).toEqual(Array.from({ length: 15 }, (_, i) => i));
  // Neighbours stand far apart: a random order has a fifth of them next to each other or one apart.
  for (let i = 1; i < 15; i++) expect(Math.abs(order[i] - order[i - 1])).toBeGreaterThan(3);
  const values = groupedDeviates(60, [1, -1, -1, 1], order);
  for (let i = 0; i < 60; i += 4) {
    const size = Math.abs(values[i]);
    expect(Array.from(values.subarray(i, i + 4))).toEqual([size, -size, -size, size]);
  }
  expect(Math.max(...values)).toBeCloseTo(normalQuantile(0.5 + 14.5 / 30), 12);
});
