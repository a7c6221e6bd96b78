import { describe, expect, it } from "vitest";
import { decide } from "../../../src/predict/decision/decide.js";
import type { CompoundProperty } from "../../../src/predict/decision/decision-schema.js";
import { type Candidate, standingOf } from "../../../src/predict/decision/judge.js";
import { leversOf, type StatedSeries } from "../../../src/predict/decision/levers.js";
import {
  changeBetween,
  type LoadMember,
  leverDraws,
  loadReaching,
  readingAt,
} from "../../../src/predict/decision/load-series.js";
import type { Requirement } from "../../../src/predict/decision/requirement.js";

const wear: Requirement = {
  ...{ name: "wears little", quantity: "abrasion loss", use: null },
  ...{ unit: "mm³", atMost: 120 },
};
const soft: Requirement = {
  ...{ name: "not too hard", quantity: "hardness", use: null },
  ...{ unit: "Shore A", atMost: 63 },
};

const property = (quantity: string, unit: string, value: number, half: number | null): CompoundProperty => ({
  ...{ quantity, unit, value, count: half === null ? 1 : 5, method: null, inputs: ["a.csv"] },
  ...{ low: half === null ? null : value - half, high: half === null ? null : value + half },
});
const candidate = (name: string, ...properties: CompoundProperty[]): Candidate => ({
  ...{ name, properties, outlooks: [], reference: null, softening: null },
});
const stated = (compound: string, phr: number | null, size_nm: number | null = 30) => ({
  ...{ compound, phr, particleSize_nm: phr === 0 ? null : size_nm },
  volumeFraction: phr === null ? null : phr / 200,
});
const decided = (requirements: Requirement[], candidates: Candidate[]) =>
  decide(
    requirements,
    candidates.map((one) => ({
      name: one.name,
      standings: requirements.map((requirement) => standingOf(requirement, one)),
      isAssumed: false,
      verdictMissing: new Map(),
      predictionMissing: new Map(),
    })),
  );
const leversFor = (requirements: Requirement[], candidates: Candidate[], ...series: StatedSeries[]) =>
  leversOf(decided(requirements, candidates), candidates, series);

// Loss 160 at 40 phr, 140 at 50, 110 at 60; hardness 55, 60, 66; tear 30, 40, 44.
const wearing = (half: number | null) => [
  candidate(
    "Birch 40",
    property("abrasion loss", "mm³", 160, half),
    property("hardness", "Shore A", 55, null),
    property("tear strength", "kN/m", 30, null),
  ),
  candidate(
    "Birch 50",
    property("abrasion loss", "mm³", 140, half),
    property("hardness", "Shore A", 60, null),
    property("tear strength", "kN/m", 40, null),
  ),
  candidate(
    "Birch 60",
    property("abrasion loss", "mm³", 110, half),
    property("hardness", "Shore A", 66, null),
    property("tear strength", "kN/m", 44, null),
  ),
];
const birch: StatedSeries = {
  name: "black in Birch",
  members: [stated("Birch 40", 40), stated("Birch 50", 50), stated("Birch 60", 60)],
};

describe("what a step of filler did", () => {
  it("is the difference between neighbours, and the slope that over their loads", () => {
    const { steps, loadUnit } = leversFor([wear, soft], wearing(null), birch).series[0];
    expect(loadUnit).toBe("phr");
    expect(steps.map(({ from, to }) => [from, to])).toEqual([
      ["Birch 40", "Birch 50"],
      ["Birch 50", "Birch 60"],
    ]);
    const [, second] = steps;
    expect(
      second.changes.map(({ quantity, change, slope }) => [quantity, change.value, slope.value]),
    ).toEqual([
      ["abrasion loss", -30, -3],
      ["hardness", 6, 0.6],
      ["tear strength", 4, expect.closeTo(0.4, 12)],
    ]);
    expect(second.changes[0].change).toMatchObject({ low: null, high: null });
  });

  // Two independent means with 95 % half widths of 3: their difference has √(3² + 3²) = 4.243.
  it("has the interval of two independent means, and the slope a tenth of it", () => {
    const [step] = leversFor([wear], wearing(3), birch).series[0].steps;
    const { change, slope } = step.changes[0];
    expect(Math.abs(change.high! - change.low! - 2 * 4.243)).toBeLessThan(0.9);
    expect(slope.low!).toBeCloseTo(change.low! / 10, 12);
    expect(slope.high!).toBeCloseTo(change.high! / 10, 12);
  });

  it("cancels what both draws share", () => {
    const shared = Float64Array.from({ length: leverDraws }, (_, i) => i / leverDraws - 0.5);
    const reading = (value: number) => ({ value, drawn: shared.map((one) => value + one) });
    const { value, low, high } = changeBetween(reading(3), reading(5));
    expect([value, low, high]).toEqual([2, expect.closeTo(2, 12), expect.closeTo(2, 12)]);
  });

  it("is counted in per cent by volume where a member states no phr", () => {
    const byVolume = { ...birch, members: birch.members.map((one) => ({ ...one, phr: null })) };
    const { loadUnit, steps } = leversFor([wear], wearing(null), byVolume).series[0];
    expect(loadUnit).toBe("% by volume");
    expect(steps[1].changes[0].slope.value).toBe(-6);
  });
});

describe("a trade", () => {
  it("is found on the line between the measured compounds: 140 − 3·(x − 50) = 120 at 56.67 phr", () => {
    const { trades } = leversFor([wear, soft], wearing(null), birch);
    const trade = trades.find(({ compound }) => compound === "Birch 50")!;
    expect(trade.reaches).toEqual({ value: expect.closeTo(170 / 3, 9), low: null, high: null });
    expect(trade.between).toEqual(["Birch 50", "Birch 60"]);
    expect(trade.changedLoad).toBeCloseTo(170 / 3, 9);
    const of = (quantity: string) => trade.changes.find((one) => one.quantity === quantity)!;
    // Two thirds of the way from 60 to 66 Shore A, and from 40 to 44 kN/m.
    expect(of("hardness")).toMatchObject({ from: 60, to: expect.closeTo(64, 9), answer: "fails" });
    expect(of("tear strength").to).toBeCloseTo(40 + 8 / 3, 9);
    expect(trade.sentence).toContain("56.7 phr");
    expect(trade.sentence).toContain("measured between Birch 50 and Birch 60");
    expect(trade.sentence).toContain('"not too hard" fails');
  });

  it("on values without repeats stands on the limit and claims no probability", () => {
    const trade = leversFor([wear], wearing(null), birch).trades.find(
      ({ compound }) => compound === "Birch 50",
    )!;
    expect(trade.changes[0]).toMatchObject({ probability: null, answer: "meets" });
    expect(trade.sentence).not.toContain("probability");
  });

  it("has no interval where one of the two compounds beside it has no repeats", () => {
    const [birch40, birch50] = wearing(null);
    const mixed = [birch40, birch50, wearing(3)[2]];
    const { series, trades } = leversFor([wear], mixed, birch);
    expect(series[0].steps[1].changes[0].change).toMatchObject({ value: -30, low: null, high: null });
    expect(trades[1].reaches).toMatchObject({ low: null, high: null });
  });

  it("crosses more than one step where it has to, each on its own line", () => {
    const trade = leversFor([wear], wearing(null), birch).trades.find(
      ({ compound }) => compound === "Birch 40",
    )!;
    expect(trade.reaches!.value).toBeCloseTo(170 / 3, 9);
    expect(trade.between).toEqual(["Birch 50", "Birch 60"]);
    expect(trade.changes[0].slope.value).toBeCloseTo(-40 / (170 / 3 - 40), 9);
  });

  it("runs towards less filler where that is the way, with the sign of its slope", () => {
    const trade = leversFor([{ ...soft, atMost: 58 }], wearing(null), birch).trades.find(
      ({ compound }) => compound === "Birch 60",
    )!;
    // 60 − 0.5·(50 − x) = 58 at 46 phr.
    expect(trade.reaches!.value).toBeCloseTo(46, 9);
    expect(trade.changes[0].change.value).toBeCloseTo(-8, 9);
    expect(trade.changes[0].slope.value).toBeCloseTo(8 / 14, 9);
    expect(trade.sentence).toContain("Less filler");
  });

  it("goes on, with scatter, to where more than 0.95 of the draws meet the limit", () => {
    const trade = leversFor([wear], wearing(3), birch).trades.find(
      ({ compound }) => compound === "Birch 50",
    )!;
    expect(trade.reaches!.low!).toBeLessThan(170 / 3);
    expect(trade.reaches!.high!).toBeGreaterThan(170 / 3);
    expect(trade.changedLoad!).toBeGreaterThan(170 / 3);
    expect(trade.changes[0].probability!).toBeGreaterThan(0.95);
    expect(trade.changes[0].probability!).toBeLessThan(0.96);
    expect(trade.changes[0].answer).toBe("meets");
  });

  it("never leaves what was measured: the nearest compound is named, and no load", () => {
    const hard = { ...wear, atMost: 90 };
    const { trades } = leversFor([hard], wearing(null), birch);
    const trade = trades.find(({ compound }) => compound === "Birch 50")!;
    expect(trade).toMatchObject({ reaches: null, between: null, changedLoad: 60 });
    expect(trade.sentence).toContain("No load of the series");
    expect(trade.sentence).toContain("110 mm³");
    const nearest = trades.find(({ compound }) => compound === "Birch 60")!;
    expect(nearest).toMatchObject({ changedLoad: 60, changes: [] });
    expect(nearest.sentence).toContain("none comes nearer");
  });

  it("is said by nothing for a compound outside every series, or whose neighbours lack the quantity", () => {
    const alone = candidate("Rowan", property("abrasion loss", "mm³", 150, null));
    const [trade] = leversFor([wear], [alone, ...wearing(null)], birch).trades;
    expect(trade).toMatchObject({ compound: "Rowan", series: null, changes: [] });
    expect(trade.sentence).toContain("Nothing in this study says");
    const unmeasured = [wearing(null)[1], candidate("Birch 60", property("hardness", "Shore A", 66, null))];
    const [missing] = leversFor([wear], unmeasured, birch).trades;
    expect(missing).toMatchObject({ series: null, reaches: null });
    expect(missing.sentence).toContain("no other compound has a value of it");
  });

  // Without the middle one: 160 − 2.5·(x − 40) = 120 at 56 phr, and hardness still on its own two lines.
  it("goes by the nearest compounds in which a quantity was measured", () => {
    const [birch40, birch50, birch60] = wearing(null);
    const gap = { ...birch50, properties: birch50.properties.slice(1) };
    const trade = leversFor([wear, soft], [birch40, gap, birch60], birch).trades.find(
      (one) => one.compound === "Birch 40" && one.requirement === "wears little",
    )!;
    expect(trade.reaches!.value).toBeCloseTo(56, 9);
    expect(trade.between).toEqual(["Birch 40", "Birch 60"]);
    expect(trade.changes[1].to).toBeCloseTo(63.6, 9);
  });

  it("does not mix particles of two sizes", () => {
    const sizes = {
      ...birch,
      members: birch.members.map((one, i) => stated(one.compound, one.phr, i < 2 ? 30 : 60)),
    };
    const { series, trades } = leversFor([wear], wearing(null), sizes);
    expect(series[0].steps.map(({ from, to }) => [from, to])).toEqual([["Birch 40", "Birch 50"]]);
    expect(trades.every(({ reaches }) => reaches === null)).toBe(true);
  });
});

// Loss 140 with 60 nm, 110 with 30 nm, both at 50 phr.
describe("finer particles of the same load", () => {
  const coarse = wearing(null)[1];
  const fine = { ...wearing(null)[2], name: "Birch 50 fine" };
  const sizes = {
    name: "black in Birch",
    members: [stated("Birch 50", 50, 60), stated("Birch 50 fine", 50, 30)],
  };

  it("are a line of their own, between the sizes that were measured", () => {
    const { series, trades } = leversFor([wear], [coarse, fine], sizes);
    const line = series.find(({ loadUnit }) => loadUnit === "nm")!;
    expect(line.name).toBe("black in Birch, particle size at 50 phr");
    // From the finer to the coarser: +30 mm³ over 30 nm.
    expect(line.steps[0].changes[0].slope.value).toBe(1);
    // 140 − (60 − d) = 120 at 40 nm.
    expect(trades).toHaveLength(1);
    expect(trades[0].reaches!.value).toBeCloseTo(40, 9);
    expect(trades[0].sentence).toContain("Finer particles of the same load would reach the limit: 40 nm");
  });

  it("are no line where the loads differ", () => {
    const members = [sizes.members[0], stated("Birch 50 fine", 53, 30)];
    const { series } = leversFor([wear], [coarse, fine], { ...sizes, members });
    expect(series.map(({ loadUnit }) => loadUnit)).toEqual(["phr"]);
  });
});

describe("a load that reaches a limit", () => {
  const member = (load: number, value: number, drawn: number[] | null = null): LoadMember => ({
    ...{ compound: `at ${load}`, load },
    readings: [{ value, drawn: drawn === null ? null : Float64Array.from(drawn) }],
  });

  it("has an open end where some draws never reach it in what was measured", () => {
    // In every tenth draw the far compound stays at −1, short of 0.
    const far = Array.from({ length: leverDraws }, (_, i) => (i % 10 === 0 ? -1 : 1));
    const near = Array.from({ length: leverDraws }, () => -1);
    const found = loadReaching([member(0, -1, near), member(10, 1, far)], 0, 0, (value) => value, 0.95)!;
    expect(found.load).toEqual({ value: 5, low: 5, high: null });
    expect(found.surelyAt).toBeNull();
  });

  it("is the nearer one of two", () => {
    const members = [member(0, 1), member(10, -3), member(12, 1)];
    expect(loadReaching(members, 1, 0, (value) => value, 0.95)!.load.value).toBeCloseTo(11.5, 12);
  });

  it("is not read outside the measured loads", () => {
    const members = [member(10, 1), member(20, 3)];
    expect(readingAt(members, 0, 15)!.value).toBe(2);
    expect([readingAt(members, 0, 9.9), readingAt(members, 0, 20.1)]).toEqual([null, null]);
  });
});
