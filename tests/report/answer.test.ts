import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { decisionOf } from "../../src/predict/decision/decision-of.js";
import type { Requirement } from "../../src/predict/decision/requirement.js";
import type { Outlook } from "../../src/predict/outlook.js";
import type { Use } from "../../src/predict/use.js";
import {
  type Answer,
  type AnsweredCompound,
  answerOfStudy,
  bestFirst,
} from "../../src/report/html/answer/answer.js";
import { answerCard } from "../../src/report/html/answer/answer-card.js";
import { answerSentence } from "../../src/report/html/answer/answer-sentence.js";
import { startingUse } from "../../src/report/html/answer/composed-use.js";
import { decisionTable } from "../../src/report/html/answer/decision-section.js";
import { mapAxes } from "../../src/report/html/answer/trade-off-section.js";
import { reportContext } from "../../src/report/html/report-context.js";
import { requirementsText } from "../../src/report/page/tools/settings-text.js";
import { viewOfStudy, viewOfText, viewText } from "../../src/report/page/what-if/view.js";
import { pageData } from "../../src/report/page-data.js";
import { studyFromText } from "../../src/study/study-file/study-from-text.js";
import { cold, plain, states } from "./invented-verdicts.js";
import { asking, inventedRequirements, inventedUses, makeAssessment } from "./make-assessment.js";

function outlookAt(temperature_C: number, letters: string): Outlook {
  const hasSweep = letters !== "none";
  const verdict = hasSweep ? states[letters] : null;
  return {
    use: `at ${temperature_C}`,
    temperature_C,
    rebound: null,
    grip: null,
    cushioning: null,
    cold: verdict === null ? null : cold(verdict),
    nearestMeasurement: null,
    flags: hasSweep ? [] : ["predict.no-sweep"],
    ...(verdict === null && { verdictMissing: "Run a sweep from -90 °C." }),
  };
}

/** One compound's states in uses at these temperatures, coldest first. */
function compound(name: string, row: string, temperatures_C = [-30, -10, 20]): AnsweredCompound {
  return {
    name,
    inputs: [],
    glassTransitions: [],
    superposition: null,
    flags: [],
    isReference: false,
    properties: [],
    outlooks: row.split(" ").map((letters, k) => outlookAt(temperatures_C[k], letters)),
  };
}

const useAt = (temperature_C: number): Use => ({
  name: `at ${temperature_C}`,
  temperature_C,
  sliding: null,
  impact: null,
  assumed: false,
});

function answer(compounds: AnsweredCompound[], temperature_C: number): Answer {
  return {
    use: useAt(temperature_C),
    compounds,
    outlooks: compounds.map(({ outlooks }) => outlooks.find((one) => one.temperature_C === temperature_C)),
    decision: null,
    areLimitsMoved: false,
  };
}

describe("the use that the page opens with", () => {
  const uses = [-30, -20, 5].map(useAt);
  const compounds = [compound("A", "l r r", [-30, -20, 5]), compound("B", "l l r", [-30, -20, 5])];
  const start_C = (asked: Requirement[], of = uses, among = compounds) => {
    const decision = decisionOf(
      asked,
      among.map((one) => ({
        ...one,
        outlooks: one.outlooks.map((outlook) => ({
          outlook,
          draws: { rebound: null, grip: null, peakForce_N: null, indentation_m: null },
        })),
        softening: null,
        isAssumed: false,
      })),
    );
    return startingUse({ compounds, decision } as never, of)?.use.temperature_C;
  };
  const rubbery = (temperature_C: number): Requirement => ({
    name: "rubber",
    quantity: "verdict",
    use: `at ${temperature_C}`,
    unit: "",
    verdict: "rubbery",
  });

  test("is the coldest that is asked about and in which compounds answer differently", () => {
    expect(start_C([rubbery(-30), rubbery(-20), rubbery(5)])).toBe(-20);
  });

  test("where nothing is asked is none in which its numbers must not rank", () => {
    expect(start_C([])).toBe(5);
  });

  test("where all uses lie in frost is the coldest with some rubbery and some not", () => {
    expect(start_C([], [-30, -20].map(useAt))).toBe(-20);
  });

  test("is not chosen for grip that is asked in frost", () => {
    const grip: Requirement = { name: "grip", quantity: "grip", use: "at -30", unit: "1", atLeast: 0.2 };
    expect(start_C([grip])).toBe(5);
  });
});

describe("the sentence", () => {
  test.each([
    [["r r r", "r r r"], 20, "At 20 °C both compounds are rubbery."],
    [["g l r", "l r r"], 20, "At 20 °C both compounds are rubbery. Colder, at −30 °C, 1 is glassy."],
    [
      ["g g r", "l r r", "gl r r"],
      -10,
      "At −10 °C C2 and C3 are rubbery; C1 is glassy. Colder, at −30 °C, 1 is glassy and 1 may be.",
    ],
    [
      ["g gl r", "l r r"],
      20,
      "At 20 °C both compounds are rubbery. Colder, at −10 °C, 1 may be glassy; at −30 °C 1 is glassy.",
    ],
    [
      ["g l r", "gl lr r"],
      -10,
      "At −10 °C no compound is surely rubbery; nearest is C2: leathery or rubbery. Colder, at −30 °C, 1 is glassy and 1 may be.",
    ],
    [["l r r"], -30, "At −30 °C C1 is leathery, 12 K above the glassy border."],
    [
      ["g r r"],
      -10,
      "At −10 °C C1 is rubbery, 12 K above the glassy border. Colder, at −30 °C, it is glassy.",
    ],
    [
      ["? l r", "l l r"],
      -30,
      "At −30 °C no compound is surely rubbery; nearest is C2: leathery, 12 K above the glassy border; C1 is not determined, so possibly glassy. Run a sweep from −90 °C.",
    ],
    [
      ["l r r", "? l r", "none none none", "none none none"],
      -30,
      "At −30 °C no compound is surely rubbery; nearest is C1: leathery, 12 K above the glassy border; C2 is not determined, so possibly glassy; C3 and C4 have no sweep, so no verdict, and could be glassy. Run a sweep from −90 °C.",
    ],
    [["?"], -30, "At −30 °C C1 is not determined, so possibly glassy. Run a sweep from −90 °C."],
  ])("of %j at %i °C", (rows, temperature_C, words) => {
    const compounds = rows.map((row, k) => compound(`C${k + 1}`, row));
    const hint = compounds.length > 1 ? " No requirements are stated, so none is chosen." : "";
    expect(plain(answerSentence(answer(compounds, temperature_C)))).toBe(`${words}${hint}`);
  });

  test("names no compound that is in doubt without its doubt", () => {
    const doubted = compound("Doubted", "l r r");
    doubted.flags = ["fit.assumed-shift-constants"];
    const words = plain(answerSentence(answer([doubted, compound("Sure", "l l r")], -10)));
    expect(words).toMatch(/^At −10 °C Doubted \(in doubt: assumed shift\) is rubbery\./);
  });

  test("says where nothing is predicted that it gives no verdict", () => {
    const words = plain(answerSentence({ ...answer([compound("A", "?")], -30), use: null }));
    expect(words).toContain("No verdict on cold weather");
  });
});

describe("what is asked", () => {
  const requirements = inventedRequirements;
  const asked = asking(makeAssessment({ draws: 20 }), requirements);
  const first = answerOfStudy(asked.results, asked.uses);

  test("decides the order, then the state", () => {
    const fails = bestFirst(first).map(
      (index) => first.decision!.compounds[index].meets.filter(({ answer: one }) => one === "fails").length,
    );
    expect([...fails].sort((a, b) => a - b)).toEqual(fails);
    expect(new Set(fails).size).toBeGreaterThan(1);
  });

  test("opens the report in the coldest use asked about, and heads it with the choice and its state there", () => {
    expect(first.use?.temperature_C).toBe(-10);
    const words = plain(answerSentence(first));
    expect(words.startsWith(first.decision!.choice.sentence.split(";")[0].replaceAll("-", "−"))).toBe(true);
    expect(words).toContain("Nearest is Alder 45: it fails nothing for certain; open: “");
    expect(words).toMatch(/At −10 °C it is \w+/);
  });

  test("is met plainly by rubber alone", () => {
    const { atLeast: _, ...rebound } = requirements[0];
    const most = asking(makeAssessment({ draws: 20 }), [{ ...rebound, atMost: 0.999 }]);
    const answer = answerOfStudy(most.results, most.uses);
    // Spruce stiff is glassy at −10 °C and there as springy as a glass.
    const spruce = answer.compounds.findIndex(({ name }) => name === "Spruce stiff");
    expect(answer.decision!.compounds[spruce].meets[0].answer).toBe("meets");
    expect(plain(decisionTable(answer))).toContain("but is glassy there");
  });

  test("counts only compounds of which all is known among those that no other beats", () => {
    const decision = structuredClone(first.decision!);
    for (const one of decision.compounds) {
      one.onFrontier = one !== decision.compounds[0];
      for (const judged of one.meets) judged.value ??= 1;
    }
    decision.compounds[0].meets[0].value = null;
    expect(plain(decisionTable({ ...first, decision }))).toContain(
      "For 5 of the 5 compounds of which all that is asked is known no other",
    );
  });

  test("is a least rebound that data at small strain alone leave open, however far above it lies", () => {
    const spruce = first.compounds.findIndex(({ name }) => name === "Spruce stiff");
    const [rebound] = first.decision!.compounds[spruce].meets;
    expect(first.compounds[spruce].outlooks[0].rebound!.strainBasis).toBe("small strain");
    expect(rebound.probability).toBeGreaterThan(0.95);
    expect(rebound.answer).toBe("open");
    expect(plain(decisionTable(first))).toContain(
      "from data at small strain only, an upper bound in tendency",
    );
    expect(first.decision!.nextTest!.test).toContain("strain sweep");
  });

  test("goes out as the requirements of a study file, which gives the same answer", async () => {
    const data = pageData(reportContext(asked));
    const view = viewOfStudy(data);
    view.asked[0] = { isOn: true, requirement: { ...requirements[0], atLeast: 0.35 } };
    view.asked[1] = { isOn: false, requirement: requirements[1] };
    const uses = inventedUses.map(({ name, temperature_C }) => ({ name, temperature_C }));
    const text = `${requirementsText(view)}uses: ${JSON.stringify(uses)}\n`;
    const study = await studyFromText(text, "study.yaml", async () => null);
    if (!study.ok) throw new Error(study.problem.message);
    expect(study.value.requirements).toEqual([{ ...requirements[0], atLeast: 0.35 }, requirements[2]]);
    // A name that the study file would make itself follows a limit moved there.
    expect(parse(text).requirements[1]).toEqual({ quantity: "grip", use: "5 °C", atLeast: 0.05 });
  });
});

describe("the card", () => {
  test("shows of many compounds the best and the reference first, and all of them", () => {
    const { results, uses } = makeAssessment({ compounds: 60, draws: 5 });
    const card = answerCard(answerOfStudy(results, uses)).markup;
    expect(card.match(/<tr data-compound/g)).toHaveLength(60);
    const [best, rest] = card.split('<tr class="rest">');
    expect(best).toContain("reference");
    expect(best.match(/<tr data-compound/g)!.length).toBeLessThanOrEqual(11);
    expect(rest).toContain("The other ");
  });

  test("is one sentence however many are chosen: four names, and each doubt and state once", () => {
    const { results, uses } = asking(makeAssessment({ compounds: 60, draws: 5 }), [
      { ...inventedRequirements[0], atLeast: 0.01 },
    ]);
    const answer = answerOfStudy(results, uses);
    expect(answer.decision!.choice.names.length).toBeGreaterThan(4);
    const words = plain(answerSentence(answer));
    expect(words).toMatch(/^[^,]+, [^,]+, [^,]+ and \d+ others would meet the one requirement/);
    expect(words.match(/upper bound in tendency/g)).toHaveLength(1);
    expect(words.length).toBeLessThan(600);
  });

  test("says in frost that grip is not to rank by, and the map shows the margin in its place", () => {
    const { results, uses } = makeAssessment({ draws: 5 });
    const warm = answerOfStudy(results, uses);
    expect(warm.use!.temperature_C).toBe(5);
    expect(plain(answerCard(warm))).not.toContain("not to rank by");
    const frosty: Answer = {
      ...warm,
      use: uses.find(({ temperature_C }) => temperature_C === -20)!,
      outlooks: results.compounds.map(({ outlooks }) => outlooks.find((one) => one.temperature_C === -20)),
    };
    expect(plain(answerCard(frosty))).toContain("frost: not to rank by");
    const unchosen = { x: null, y: null };
    expect(mapAxes(warm, unchosen)?.y.key).toBe("grip");
    expect(mapAxes(frosty, unchosen)?.y.key).toBe("margin");
    expect(mapAxes(frosty, { x: "grip", y: "rebound" })?.x.key).toBe("grip");
  });
});

describe("a link", () => {
  const data = pageData(reportContext(makeAssessment({ draws: 5 })));

  test("carries all that was set, and nothing where nothing was", () => {
    expect(viewText(data, viewOfStudy(data))).toBe("");
    const view = viewOfStudy(data);
    view.setting = { ...view.setting!, temperature_C: -15.5, speed_m_s: 2, pressure_Pa: 250000 };
    view.axes.x = "abrasion loss";
    view.pinned = [4, 1];
    const text = viewText(data, view);
    expect(text).toContain("pin=rowan-cast%2Calder-45");
    expect(viewOfText(data, text)).toEqual({ view, refused: [] });
  });

  test("for another report is followed as far as it goes, and says what it could not have", () => {
    const { view, refused } = viewOfText(data, "use=elsewhere&at=400&pin=oak,birch-60&speed=");
    expect(refused).toEqual(["use=elsewhere", "at=400", "speed=", "pin=oak,birch-60"]);
    expect(view.setting).toEqual(viewOfStudy(data).setting);
    expect(view.pinned).toEqual([0]);
  });
});
