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

test("gives the contact's frequency and the bound of its tan δ peak without a verdict, too", () => {
  const assessment = makeAssessment({ compounds: 1 });
  const [compound] = assessment.results.compounds;
  const [first, ...rest] = compound.outlooks;
  const open = { temperature_C: null, low_C: null, high_C: 30.94, reason: "tan δ still climbs" };
  const outlook = {
    ...first,
    cold: null,
    transitionAtContact: {
      contactFrequency_Hz: 274,
      contact: "sliding" as const,
      tanDeltaPeak: open,
      lossModulusPeak: open,
      tangentBelow_C: -42,
    },
  };
  const { markup } = useTable(reportContext(assessment), { ...compound, outlooks: [outlook, ...rest] });
  expect(markup).toMatch(/274\u202fHz <span class="interval">sliding/);
  expect(markup).toContain("below 30.9\u202f°C");
});
