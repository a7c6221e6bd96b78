import { expect, it } from "vitest";
import { polynomialSurface } from "../../src/numeric/polynomial-surface.js";
import { evenPlaces } from "../../src/numeric/statistics/deviates.js";

const next = evenPlaces(3);
const points = Array.from({ length: 60 }, () => next().map((place) => 10 * place - 3));

it("gives back a polynomial of its degree everywhere, and its least squares where the degree is higher", () => {
  const cubic = ([x, y, z]: readonly number[]) => 2 - x + 0.5 * y * z + 0.1 * x * y * y - 0.02 * z ** 3;
  const values = points.map(cubic);
  const ones = points.map(() => 1);
  const surface = polynomialSurface(points, values, ones, 3)!;
  for (const at of [
    [0, 0, 0],
    [9, -4, 6],
  ]) {
    expect(surface(at)).toBeCloseTo(cubic(at), 8);
  }
  const flatter = polynomialSurface(points, values, ones, 2)!;
  // The residuals of least squares are orthogonal to what was fitted.
  const left = points.map((point, i) => values[i] - flatter(point));
  expect(Math.max(...left.map(Math.abs))).toBeGreaterThan(0.1);
  for (const of of [() => 1, ([x]: number[]) => x, ([, y, z]: number[]) => y * z]) {
    expect(points.reduce((sum, point, i) => sum + left[i] * of(point), 0)).toBeCloseTo(0, 7);
  }
});

it("leaves out what has no weight, and says null where the points do not determine it", () => {
  const values = points.map(([x]) => x);
  const spoilt = values.map((value, i) => (i % 3 === 0 ? 1e3 : value));
  const surface = polynomialSurface(
    points,
    spoilt,
    points.map((_, i) => (i % 3 === 0 ? 0 : 1)),
    1,
  )!;
  expect(surface([4, 1, 1])).toBeCloseTo(4, 9);
  const flat = points.map(([x, y]) => [x, y, 1]);
  expect(
    polynomialSurface(
      flat,
      values,
      values.map(() => 1),
      1,
    ),
  ).toBeNull();
});
