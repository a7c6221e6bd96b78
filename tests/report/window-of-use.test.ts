import { expect, test } from "vitest";
import { measuredFacts } from "../../src/report/html/compound/measured-facts.js";
import { windowOfUse } from "../../src/report/html/compound/window-of-use.js";
import { reportContext } from "../../src/report/html/report-context.js";
import { makeAssessment } from "./make-assessment.js";

const assessment = makeAssessment();
const [compound] = assessment.results.compounds;
const context = reportContext(assessment);
const softening = {
  ...{ temperature_C: 81.07, low_C: 80.3, high_C: 81.9, bracketed: true },
  ...{ frequency_Hz: 1, deformation: "tension" as const, paths: [] },
};
const words = (one: typeof compound) =>
  windowOfUse(context, one)
    .markup.replace(/<[^>]+>/g, "")
    .replace(/\s/g, " ");
const measured = (one: typeof compound) =>
  measuredFacts(one)
    .markup.replace(/<[^>]+>/g, "")
    .replace(/\s/g, " ");
const rubbery = compound.outlooks.find(({ cold }) => (cold?.lowestRubbery_C ?? null) !== null)!;
const lowest = String(Math.round(rubbery.cold!.lowestRubbery_C!)).replace("-", "−");

test("the window of use runs from the lowest rubbery temperature to where the interval of the softening starts", () => {
  const said = words({ ...compound, softening });
  expect(said).toContain("Softens at 1 Hz81.1 °C 80.3 to 81.9");
  expect(said).toContain(`Rubbery in “${rubbery.use}”${lowest} °C to 80 °C`);
});

test("where the data end first it runs at least that far, and without a plateau nothing is said", () => {
  const bound = { ...softening, temperature_C: null, low_C: 60, high_C: null, bracketed: false };
  const said = words({ ...compound, softening: bound });
  expect(said).toContain("Softens at 1 Hznot up to 60 °C, where the data end");
  expect(measured({ ...compound, softening: bound })).toContain("Softensnot up to 60 °C");
  expect(said).toContain(`${lowest} °C to at least 60 °C`);
  expect(windowOfUse(context, { ...compound, softening: null }).markup).toBe("");
});
