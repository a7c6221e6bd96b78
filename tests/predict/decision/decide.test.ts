import { describe, expect, it } from "vitest";
import { decide } from "../../../src/predict/decision/decide.js";
import type { StandingCompound } from "../../../src/predict/decision/decision.js";
import type { Standing } from "../../../src/predict/decision/judge.js";
import type { Requirement } from "../../../src/predict/decision/requirement.js";

const draws = 600;
const grip: Requirement = {
  name: "grips in the wet corner",
  quantity: "grip",
  use: "corner",
  unit: "1",
  atLeast: 0.3,
};
const wear: Requirement = {
  name: "wears little",
  quantity: "abrasion loss",
  use: null,
  unit: "mm³",
  atMost: 120,
};

const standing = (value: number, met: (draw: number) => boolean): Standing => ({
  value,
  met: Uint8Array.from({ length: draws }, (_, i) => (met(i) ? 1 : 0)),
  asStated: false,
});
const always = (value: number) => standing(value, () => true);
const never = (value: number) => standing(value, () => false);
const unknown: Standing = { value: null, met: null, asStated: false };
const compound = (name: string, ...standings: Standing[]): StandingCompound => ({
  name,
  standings,
  isAssumed: false,
  verdictMissing: new Map(),
  predictionMissing: new Map(),
});

describe("probabilities", () => {
  it("of independent draws multiply: ½ · ½", () => {
    const first = standing(0.3, (i) => i < draws / 2);
    const second = standing(120, (i) => i % 2 === 0);
    const [decided] = decide([grip, wear], [compound("Alder N", first, second)]).compounds;
    expect(decided.meets.map(({ probability, answer }) => [probability, answer])).toEqual([
      [0.5, "open"],
      [0.5, "open"],
    ]);
    expect(decided.meetsAllProbability).toBe(0.25);
  });

  it("of fully correlated draws do not: ½, and of opposed ones 0", () => {
    const half = (i: number) => i < draws / 2;
    const together = compound("together", standing(0.3, half), standing(120, half));
    const opposed = compound(
      "opposed",
      standing(0.3, half),
      standing(120, (i) => !half(i)),
    );
    const { compounds } = decide([grip, wear], [together, opposed]);
    expect(compounds.map(({ meetsAllProbability }) => meetsAllProbability)).toEqual([0.5, 0]);
  });

  it("are words: above 0.95 meets, below 0.05 fails", () => {
    const share = (n: number) =>
      compound(
        "one",
        standing(0.3, (i) => i < n),
      );
    const answer = (n: number) => decide([grip], [share(n)]).compounds[0].meets[0].answer;
    expect([571, 570, 30, 29].map(answer)).toEqual(["meets", "open", "open", "fails"]);
  });
});

describe("what is unknown", () => {
  it("leaves all together unknown, unless what is known fails for sure", () => {
    const { compounds, choice } = decide(
      [grip, wear],
      [compound("Alder N", always(0.4), unknown), compound("Spruce H", never(0.1), unknown)],
    );
    expect(compounds.map(({ meetsAllProbability }) => meetsAllProbability)).toEqual([null, 0]);
    expect(compounds[0].meets[1]).toMatchObject({ answer: "unknown", probability: null, value: null });
    expect(choice.names).toEqual([]);
    expect(choice.sentence).toBe(
      'Whether a compound meets both requirements is open, for something that is asked was not measured; Spruce H grips too little in "corner" (0.1 against 0.3).',
    );
  });

  it("is the next test, of a compound that fails nothing", () => {
    const { nextTest } = decide(
      [grip, wear],
      [compound("Spruce H", never(0.1), unknown), compound("Alder N", always(0.4), unknown)],
    );
    expect(nextTest).toEqual({
      compound: "Alder N",
      test: "Measure the abrasion loss by ISO 4649, with repeats.",
      why: 'Without it "wears little" stays open for Alder N.',
    });
    expect(decide([grip], [compound("Alder N", always(0.4))]).nextTest).toBeNull();
  });

  it("asks for the very sweep that the notice of the missing prediction asks for", () => {
    const why = "Too cold for what was measured. To settle it, run a temperature sweep from -90 to 0.5 °C.";
    const missing = { ...compound("Alder N", unknown), predictionMissing: new Map([["corner", why]]) };
    expect(decide([grip], [missing]).nextTest?.test).toBe("Run a temperature sweep from -90 to 0.5 °C.");
  });
});

describe("the choice", () => {
  it("names the compound, the probability, and what the others do wrong, with both numbers", () => {
    const { choice } = decide(
      [grip, wear],
      [
        compound(
          "Alder N",
          always(0.4),
          standing(110, (i) => i < 558),
        ),
        compound("Birch 60", always(0.5), never(142)),
        compound("Spruce H", never(0.12), always(90)),
      ],
    );
    expect(choice.names).toEqual(["Alder N"]);
    expect(choice.sentence).toBe(
      'Alder N meets both requirements with a probability of 0.93; Birch 60 wears too much (142 mm³ against 120 mm³); Spruce H grips too little in "corner" (0.12 against 0.3).',
    );
  });

  it("is several where they tie", () => {
    const tied = [
      compound("Alder N", always(0.4)),
      compound("Rowan W", always(0.5)),
      compound("Linden", never(0.1)),
    ];
    const { choice } = decide([grip], tied);
    expect(choice.names).toEqual(["Alder N", "Rowan W"]);
    expect(choice.sentence).toContain("Alder N and Rowan W meet the one requirement");
  });

  it("is none where no compound can meet all", () => {
    const { choice } = decide([grip, wear], [compound("Birch 60", always(0.5), never(142))]);
    expect(choice).toEqual({
      names: [],
      sentence: "Birch 60 does not meet both requirements; it wears too much (142 mm³ against 120 mm³).",
    });
  });
});

describe("the frontier", () => {
  const frontier = (...compounds: StandingCompound[]) =>
    decide([grip, wear], compounds)
      .compounds.filter(({ onFrontier }) => onFrontier)
      .map(({ name }) => name);

  // By hand: B has less grip and more wear than A; C wears least, A grips most; D equals A.
  it("holds what no other beats in all that is asked", () => {
    expect(
      frontier(
        compound("A", always(0.5), always(100)),
        compound("B", always(0.4), always(110)),
        compound("C", always(0.3), always(80)),
        compound("D", always(0.5), always(100)),
      ),
    ).toEqual(["A", "C", "D"]);
  });

  it("is empty where no compound is known in all that is asked", () => {
    expect(frontier(compound("A", always(0.5), unknown), compound("B", unknown, always(100)))).toEqual([]);
  });
});
