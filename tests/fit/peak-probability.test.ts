import { expect, test } from "vitest";
import {
  fitPenalisedSpline,
  probabilityOfRise,
  splineDraws,
} from "../../src/numeric/spline/penalised-spline.js";
import { splineSlope } from "../../src/numeric/spline/spline-curve.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";

test("as many of the drawn curves rise at a place as Student's t says", () => {
  const random = seededRandom(7);
  const x = Float64Array.from({ length: 60 }, (_, i) => i + 0.3 * random.uniform());
  const y = x.map((at) => -((at - 31) ** 2) / 400 + 0.05 * random.normal());
  const spline = fitPenalisedSpline(x, y, 20, 5);
  const { weights, at } = probabilityOfRise(spline);
  const rises = new Float64Array(weights.length);
  const places = [20, 28, 30, 31, 32, 34, 45];
  const expected = places.map((place) => {
    at(place, rises);
    return weights.reduce((sum, weight, k) => sum + weight * rises[k], 0);
  });
  const draw = splineDraws(spline, random);
  const coefficients = new Float64Array(spline.coefficients.length);
  const counts = places.map(() => 0);
  const draws = 4000;
  for (let d = 0; d < draws; d++) {
    draw(coefficients);
    for (const [k, place] of places.entries()) if (splineSlope(spline, place, coefficients) > 0) counts[k]++;
  }
  for (const [k, share] of expected.entries()) {
    // Four standard errors of a count, and the sixth digit of the strengths that are left out.
    const error = 4 * Math.sqrt((share * (1 - share)) / draws) + 1e-3;
    expect(Math.abs(counts[k] / draws - share), `at ${places[k]}`).toBeLessThan(error);
  }
  expect(expected[0]).toBeGreaterThan(0.99);
  expect(expected.at(-1)).toBeLessThan(0.01);
});
