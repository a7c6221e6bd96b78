import { describe, expect, it } from "vitest";
import { compareContacts, compareJobs } from "../../bench/agreement.js";
import type { DrawnFriction } from "../../bench/drawn-friction.js";

/** One compound in one use, as both whole jobs and the job run once more write it; the cut-off rules the interval. */
function jobs() {
  const cutOff = { halved: 0.35, doubled: 0.44 };
  const ours = {
    compounds: Array.from({ length: 16 }, (_, i) => ({
      name: `Fjordtread ${i + 1}`,
      glassTransitions: [{ tanDeltaPeak: { temperature_C: -20, low_C: -21, high_C: -19 } }],
      superposition: { wlf: { c1: 8, c2_K: 100 } },
      outlooks: [
        {
          temperature_C: -10,
          rebound: { fraction: 0.3, low: 0.28, high: 0.32 },
          grip: { frictionCoefficient: 0.4, low: 0.35, high: 0.44, cutOffSensitivity: cutOff },
          cold: { verdict: "leathery" },
        },
      ],
    })),
  };
  const theirs = {
    compounds: ours.compounds.map(({ name }) => ({
      name,
      glassTransition: { tanDelta: { temperature_C: -20 } },
      superposition: { c1: 8, c2_K: 100 },
      outlooks: [
        {
          temperature_C: -10,
          rebound: { value: 0.3, low: 0.28, high: 0.32 },
          friction: { value: 0.4, low: 0.39, high: 0.41 },
          cutOff: { ...cutOff },
          verdict: "leathery",
        },
      ],
    })),
  };
  const drawn: DrawnFriction[] = ours.compounds.map(({ name }) => ({
    name,
    uses: [{ value: 0.4, low: 0.39, high: 0.41 }],
  }));
  return { ours, theirs, drawn };
}

/** What a comparison finds beyond its tolerance. */
function failures({ ours, theirs, drawn }: ReturnType<typeof jobs>): string[] {
  const { ok, checks } = compareJobs(ours, theirs, drawn);
  const failed = checks.filter(({ difference, allowed }) => difference > allowed).map(({ what }) => what);
  expect(ok).toBe(failed.length === 0);
  return failed;
}

describe("the comparison of two whole jobs", () => {
  it("finds nothing where both say the same", () => {
    expect(failures(jobs())).toEqual([]);
  });

  it("notices draws of friction half as wide again, though the cut-off's interval hides them", () => {
    const wider = jobs();
    for (const { outlooks } of wider.theirs.compounds) {
      outlooks[0].friction.low = 0.385;
      outlooks[0].friction.high = 0.415;
    }
    expect(failures(wider)).toEqual(["mean interval of the draws of friction, relative"]);
  });

  it("notices an end of the cut-off's that is off by 1 %", () => {
    const off = jobs();
    off.theirs.compounds[3].outlooks[0].cutOff.halved *= 1.01;
    expect(failures(off)).toEqual(["friction, cut-off halved, relative"]);
  });

  it("notices an interval that leaves out draws beyond the cut-off's", () => {
    const narrow = jobs();
    for (const { uses } of narrow.drawn) uses[0]!.low = 0.34;
    for (const { outlooks } of narrow.theirs.compounds) outlooks[0].friction.low = 0.34;
    expect(failures(narrow)).toEqual(["lower end of friction"]);
  });

  it("notices a job that came to another friction when it ran once more, or to none", () => {
    const other = jobs();
    other.drawn[5].uses[0]!.value = 0.401;
    expect(failures(other)).toEqual(["friction of the job run once more"]);
    const none = jobs();
    for (const { uses } of none.drawn) uses[0] = null;
    expect(failures(none)).toContain("draws of friction by one side only");
    expect(failures(none)).toContain("friction compared anywhere not the same");
  });

  it("notices C1·C2, rebound and a verdict", () => {
    const wrong = jobs();
    wrong.theirs.compounds[0].superposition.c1 = 8.01;
    wrong.theirs.compounds[1].outlooks[0].rebound.value = 0.302;
    wrong.theirs.compounds[2].outlooks[0].verdict = "rubbery";
    expect(failures(wrong)).toEqual(["C1·C2, relative", "rebound", "verdict not the same"]);
  });
});

it("the comparison of contacts notices a cut-off's friction off by 0.2 %", () => {
  const one = {
    temperature_C: 0,
    rebound: { value: 0.3, low: 0.28, high: 0.32 },
    friction: { value: 0.4, low: 0.39, high: 0.41 },
    cutOff: { halved: 0.35, doubled: 0.44 },
    contactTime_s: 4e-3,
    textbookFraction: 0.25,
    contactAreaRatio: 0.02,
    contactFrequency_Hz: 1e4,
  };
  expect(compareContacts([[one]], [[one]]).ok).toBe(true);
  const other = { ...one, cutOff: { halved: 0.35, doubled: 0.44 * 1.002 } };
  expect(compareContacts([[one]], [[other]]).ok).toBe(false);
});
