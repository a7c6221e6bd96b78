import { expect, test } from "vitest";
import { seededRandom, seedFromText } from "../../src/numeric/statistics/random.js";

test("the first numbers of small seeds are spread over the range, and each seed has its own", () => {
  const first = Array.from({ length: 400 }, (_, seed) => seededRandom(seed).uniform()).sort((a, b) => a - b);
  // Kolmogorov and Smirnov at 1 %: 1.63/√n (any table of the test).
  const distance = Math.max(
    ...first.map((u, i) => Math.max(Math.abs(u - i / 400), Math.abs(u - (i + 1) / 400))),
  );
  expect(distance).toBeLessThan(1.63 / Math.sqrt(400));
  expect(new Set(first).size).toBe(400);
});

test("a seed gives the same numbers each time, and normal ones have mean 0 and deviation 1", () => {
  const a = seededRandom(seedFromText("Birch 60"));
  const b = seededRandom(seedFromText("Birch 60"));
  const values = Array.from({ length: 10_000 }, () => a.normal());
  expect(values.slice(0, 5)).toEqual(Array.from({ length: 5 }, () => b.normal()));
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
  const variance = values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length;
  // Four standard errors of each.
  expect(Math.abs(mean)).toBeLessThan(0.04);
  expect(Math.abs(variance - 1)).toBeLessThan(0.057);
});
