import { expect, test } from "vitest";
import { useTable } from "../../src/report/html/compound/use-table.js";
import { reportContext } from "../../src/report/html/report-context.js";
import { makeAssessment } from "./make-assessment.js";

test("tells a use without an impact from one whose rebound could not be determined", () => {
  const assessment = makeAssessment({ compounds: 1 });
  const [compound] = assessment.results.compounds;
  const [first, second, ...rest] = compound.outlooks;
  const without = { rebound: null, cushioning: null };
  const outlooks = [{ ...first, ...without }, { ...second, ...without }, ...rest];
  const uses = assessment.uses.map((use) => (use.name === first.use ? { ...use, impact: null } : use));
  const { markup } = useTable({ ...reportContext(assessment), uses }, { ...compound, outlooks });
  const count = (words: string) => markup.split(words).length - 1;
  // Rebound and peak force, and how each comes about.
  expect(count("no impact")).toBe(4);
  expect(count("not determined")).toBe(4);
});
