import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { seededRandom } from "../../src/numeric/statistics/random.js";
import { type PlacedLabel, placeLabels } from "../../src/report/page/plots/label-placement.js";
import type { Box, MapPoint } from "../../src/report/page/plots/label-places.js";

/** The plot's area on a desk and on a phone. */
const areas = [
  { width: 570, height: 361 },
  { width: 298, height: 342 },
];
type Area = (typeof areas)[number];

interface DemoUse {
  use: string;
  points: {
    name: string;
    verdict: string | null;
    rebound: [number, number, number];
    grip: [number, number, number];
  }[];
}
/** What results.json of the demo says of its invented compounds: low, value and high. */
const demo: DemoUse[] = JSON.parse(readFileSync(new URL("./demo-map-points.json", import.meta.url), "utf8"));

/** Some 5.7 pixels a letter. */
const widthOf = (text: string) => 5.7 * text.length;

function pointsOf({ points }: DemoUse, { width, height }: Area): MapPoint[] {
  const low = Math.min(...points.map(({ rebound }) => rebound[0])) - 0.05;
  const high = Math.max(...points.map(({ rebound }) => rebound[2])) + 0.05;
  const top = 1.1 * Math.max(...points.map(({ grip }) => grip[2]));
  const x = (value: number) => (width * (value - low)) / (high - low);
  const y = (value: number) => height * (1 - value / top);
  return points.map(({ name, verdict, rebound, grip }) => ({
    x: x(rebound[1]),
    y: y(grip[1]),
    radius: name === "Birch 60" ? 12 : 6,
    bars: { left: x(rebound[0]), right: x(rebound[2]), top: y(grip[2]), bottom: y(grip[0]) },
    labelWidth: widthOf(verdict?.startsWith("glassy") ? `${name} (${verdict})` : name),
  }));
}

function point(x: number, y: number, labelWidth: number | null, reach = 0): MapPoint {
  const bars = { left: x - reach, right: x + reach, top: y - reach, bottom: y + reach };
  return { x, y, radius: 6, bars, labelWidth };
}

function doOverlap(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

function overlapping(labels: (PlacedLabel | null)[]): number {
  const boxes = labels.flatMap((label) => (label === null ? [] : [label.box]));
  return boxes.flatMap((box, i) => boxes.slice(0, i).filter((other) => doOverlap(box, other))).length;
}

function expectInside(labels: (PlacedLabel | null)[], { width, height }: Area): void {
  for (const label of labels) {
    if (label === null) continue;
    expect(label.box.left).toBeGreaterThanOrEqual(0);
    expect(label.box.top).toBeGreaterThanOrEqual(0);
    expect(label.box.right).toBeLessThanOrEqual(width);
    expect(label.box.bottom).toBeLessThanOrEqual(height);
  }
}

/** How many shapes of other points the names cover. */
function coveredShapes(labels: (PlacedLabel | null)[], points: MapPoint[]): number {
  const shapes = points.map(({ x, y, radius }) => ({
    left: x - radius,
    right: x + radius,
    top: y - radius,
    bottom: y + radius,
  }));
  return labels.flatMap((label, i) =>
    label === null ? [] : shapes.filter((shape, k) => k !== i && doOverlap(label.box, shape)),
  ).length;
}

describe("names on the trade-off map", () => {
  test("stand beside their points where there is room, else on the side that has some", () => {
    const [area] = areas;
    const sides = placeLabels(
      [point(200, 200, 60), point(560, 100, 60), point(60, 358, 60), point(400, 3, 60)],
      area,
    ).map((label) => label?.beside);
    expect(sides[0]).toBe("middle right");
    expect(sides[1]).toMatch(/left$/);
    expect(sides[2]).toMatch(/^top/);
    expect(sides[3]).toMatch(/^bottom/);
  });

  test("are not struck out by an interval where another place is free", () => {
    const [label] = placeLabels([point(200, 200, 60, 90)], areas[0]);
    expect(label?.beside).toMatch(/^(top|bottom) (right|left)$/);
  });

  test("go farther off, at a line, where points crowd", () => {
    const crowd = Array.from({ length: 9 }, (_, i) =>
      point(250 + 14 * (i % 3), 150 + 14 * Math.floor(i / 3), 70),
    );
    const labels = placeLabels(crowd, areas[0]);
    expect(labels.every((label) => label !== null)).toBe(true);
    expect(labels.some((label) => label?.beside === null)).toBe(true);
    expect(overlapping(labels)).toBe(0);
    expect(coveredShapes(labels, crowd)).toBe(0);
  });

  test.each(demo.flatMap((use) => areas.map((area) => [use.use, area.width, use, area] as const)))(
    "of the demo %s, %i pixels wide: all there, none on another, none on another's shape",
    (_use, _width, use, area) => {
      const points = pointsOf(use, area);
      expect(points).toHaveLength(11);
      const labels = placeLabels(points, area);
      expect(labels.every((label) => label !== null)).toBe(true);
      expect(overlapping(labels)).toBe(0);
      expect(coveredShapes(labels, points)).toBe(0);
      expectInside(labels, area);
    },
  );

  test("never overlap at twelve random points, scattered or in a crowd", () => {
    const random = seededRandom(12);
    let covered = 0;
    for (let k = 0; k < 60; k++) {
      const area = areas[k % 2];
      const isCrowd = k % 3 === 0;
      const among = (size: number, middle: number) =>
        Math.min(
          size - 8,
          Math.max(8, isCrowd ? middle + 120 * (random.uniform() - 0.5) : size * random.uniform()),
        );
      const middle = { x: area.width * random.uniform(), y: area.height * random.uniform() };
      const points = Array.from({ length: 12 }, () =>
        point(
          among(area.width, middle.x),
          among(area.height, middle.y),
          30 + 90 * random.uniform(),
          20 * random.uniform(),
        ),
      );
      const labels = placeLabels(points, area);

      expect(labels.filter((label) => label === null)).toHaveLength(0);
      expect(overlapping(labels)).toBe(0);
      expectInside(labels, area);
      covered += coveredShapes(labels, points);
    }
    // 60 maps of 12 shapes: in the worst crowds a name lies on a shape rather than nowhere.
    expect(covered).toBeLessThan(12);
  });

  test("of two hundred points are few, and only those with a good place", () => {
    const random = seededRandom(200);
    const points = Array.from({ length: 200 }, (_, k) => ({
      ...point(570 * random.uniform(), 361 * random.uniform(), k < 14 ? 80 : null),
      radius: 4,
      isOptional: k > 1,
    }));
    const labels = placeLabels(points, areas[0]);
    expect(labels[0]).not.toBeNull();
    expect(labels[1]).not.toBeNull();
    expect(labels.filter((label) => label !== null).length).toBeLessThanOrEqual(14);
    expect(overlapping(labels)).toBe(0);
    expect(coveredShapes(labels.slice(2), points.slice(2))).toBe(0);
    for (const label of labels.slice(2)) expect(label === null || label.beside !== null).toBe(true);
  });
});
