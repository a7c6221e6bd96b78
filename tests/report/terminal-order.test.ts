import { expect, test } from "vitest";
import { answerOfStudy, bestFirst } from "../../src/report/html/answer/answer.js";
import { worstFirst } from "../../src/report/html/answer/ranking.js";
import { terminalSummary } from "../../src/report/terminal/terminal-summary.js";
import { asking, inventedRequirements, makeAssessment } from "./make-assessment.js";

test("the terminal has compounds and words in the report's order: verdicts worst first, what is asked best first", () => {
  const assessment = asking(makeAssessment({ draws: 6 }), inventedRequirements);
  const { results, uses } = assessment;
  const text = terminalSummary(assessment);
  const [matrix, asked] = text.split("What is asked");
  const named = (part: string, order: number[]) =>
    order.map((index) => part.indexOf(`${results.compounds[index].name}`));
  const rising = (places: number[]) =>
    places.every((place, k) => place >= 0 && (k === 0 || place > places[k - 1]));
  expect(rising(named(matrix, worstFirst(results.compounds)))).toBe(true);
  expect(rising(named(asked, bestFirst(answerOfStudy(results, uses))))).toBe(true);
  for (const line of text.split("\n")) expect([...line].length, line).toBeLessThanOrEqual(80);
  // A short word of a cell is explained by the whole one.
  for (const word of [
    "leathery?: leathery or rubbery",
    "glassy?: glassy or leathery",
    "unknown: not determined",
  ])
    expect(matrix).toContain(word);
});

test("the terminal says once what compounds lack alike, and what an assumed use is", () => {
  const assessment = makeAssessment({ draws: 6 });
  const { results, uses } = assessment;
  const bare = ["Quay 1", "Quay 2"].map((name) => ({
    ...results.compounds[0],
    name,
    outlooks: results.compounds[0].outlooks.map((outlook) => ({
      ...outlook,
      cold: null,
      verdictMissing: `Nothing was measured on ${name} that allows a prediction.`,
    })),
  }));
  const text = terminalSummary({
    ...assessment,
    results: { ...results, compounds: [...results.compounds, ...bare] },
    uses: uses.map((use) => ({ ...use, assumed: true })),
  });
  const flat = text.replace(/\s+/g, " ");
  expect(flat).toContain("Quay 1, Quay 2 (each use): Nothing was measured on them that allows a prediction.");
  expect(flat.match(/Use assumed at /g)).toHaveLength(1);
  expect(flat).toMatch(/for the study states none: sliding at [\d.]+ m\/s under \d+ kPa on /);
  for (const line of text.split("\n")) expect([...line].length, line).toBeLessThanOrEqual(80);
});
