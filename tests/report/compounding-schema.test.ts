import { describe, expect, it } from "vitest";
import type { z } from "zod";
import { glassTransitions } from "../../src/fit/glass/glass-transition.js";
import { fillerSeriesSchema, networkSchema, payneEffectSchema } from "../../src/fit/material-schema.js";
import { networkDefaults, rubberyNetwork } from "../../src/fit/network/network.js";
import { payneEffects } from "../../src/fit/network/payne.js";
import { fillerSeries, guthGold } from "../../src/fit/network/reinforcement.js";
import { batchComparisonSchema } from "../../src/predict/batches/batch-schema.js";
import { compareBatches } from "../../src/predict/batches/compare-batches.js";
import { whatItTakes } from "../../src/predict/cold/what-it-takes.js";
import { defaultUses } from "../../src/predict/default-uses.js";
import { outlookOf } from "../../src/predict/outlook-of.js";
import { whatItTakesSchema } from "../../src/predict/outlook-schema.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";
import { filledRubber, makeStrainSweep } from "../make/kraus-sweep.js";
import { makeSweep, wedgeMaterials, wedgeModel } from "../make/wedge-material.js";
import { exampleMaterial } from "../predict/example-materials.js";

/** A strict parse that also goes through JSON, as results.json does. */
function passes(schema: z.ZodObject, value: unknown) {
  const parsed = schema.strict().safeParse(JSON.parse(JSON.stringify(value)));
  expect(parsed.error?.issues ?? []).toEqual([]);
}

describe("the schema of the compounder's results", () => {
  it("takes what the functions give, and nothing misspelt", () => {
    const sweep = makeSweep(wedgeModel(wedgeMaterials["natural-rubber-like"]), { to_C: 80 });
    const other = makeSweep(wedgeModel(wedgeMaterials["natural-rubber-like"]), { to_C: 80, seed: 2 });
    const transitions = [sweep, other].map((one) => glassTransitions(one).transitions);
    const { network } = rubberyNetwork(
      [sweep],
      { compound: "a", glassTransitions: transitions[0], model: null, draws: [] },
      { ...networkDefaults, fillerVolumeFraction: 0.2 },
    );
    passes(networkSchema, network);
    passes(payneEffectSchema, payneEffects([makeStrainSweep(filledRubber)]).effects[0]);
    const members = [0, 0.2].map((volumeFraction) => ({
      compound: `${volumeFraction}`,
      volumeFraction,
      plateauModulus_Pa: 1e6 * guthGold(volumeFraction),
      low_Pa: null,
      high_Pa: null,
      deformation: "shear" as const,
      temperature_C: null,
      frequency_Hz: null,
    }));
    passes(fillerSeriesSchema, fillerSeries("series", members).series);
    const batches = [sweep, other].map((one, i) => ({
      name: `${i}`,
      measurements: [one],
      glassTransitions: transitions[i],
    }));
    const noLimits = { glassTransitionDifference_K: 3, tanDeltaDifference: null, reboundDifference: null };
    passes(batchComparisonSchema, compareBatches(batches, noLimits).comparisons[0]);
    const material = exampleMaterial({}, 25);
    const use = { ...defaultUses()[0], temperature_C: -50 };
    const outlook = outlookOf(material, use, settings, null);
    passes(whatItTakesSchema, whatItTakes(material, [{ use, ...outlook }], settings, null).answers[0]);
    expect(whatItTakesSchema.strict().safeParse({ ...network }).success).toBe(false);
  });
});
