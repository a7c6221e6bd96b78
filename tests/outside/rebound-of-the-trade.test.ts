import { expect, it } from "vitest";
import type { Material } from "../../src/fit/material.js";
import type { RelaxationModel } from "../../src/fit/spectrum/relaxation-model.js";
import { defaultUses } from "../../src/predict/default-uses.js";
import { outlookOf } from "../../src/predict/outlook-of.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";
import { levelRubber } from "../make/level-rubber.js";
import { wedgeModel } from "../make/wedge-material.js";
import { exampleDraws, exampleMaterial } from "../predict/example-materials.js";

/**
 * Rebound as the trade measures it, against what is predicted from dynamic data at small strain: common practice, all
 * numbers from memory. The loss factors are those of a sweep at small strain near the contact's 100 Hz.
 */
const ofTheTrade: {
  name: string;
  model: RelaxationModel;
  filler: Material["strainSoftening"];
  rebound: [number, number];
}[] = [
  {
    name: "natural gum at 23 °C",
    model: levelRubber(1.6e6, 0.07),
    filler: "unfilled",
    rebound: [0.75, 0.85],
  },
  {
    name: "natural rubber with carbon black at 70 °C",
    model: levelRubber(5e6, 0.12),
    filler: null,
    rebound: [0.62, 0.7],
  },
  { name: "silica summer tread at 23 °C", model: levelRubber(9e6, 0.27), filler: null, rebound: [0.3, 0.38] },
  {
    name: "silica summer tread at 70 °C",
    model: levelRubber(5e6, 0.14),
    filler: null,
    rebound: [0.55, 0.62],
  },
  {
    // Polyisobutylene's constants (Ferry, 3rd ed., Table 11-II, from memory) and a transition of usual slope.
    name: "butyl at 23 °C",
    model: {
      ...wedgeModel({
        glassTemperature_C: -71,
        c1: 16.6,
        c2_K: 104,
        glassyModulus_Pa: 2e9,
        rubberyModulus_Pa: 2e6,
        slope: 0.6,
      }),
      lowestReducedFrequency_Hz: 1e-14,
      highestReducedFrequency_Hz: 1e3,
    },
    filler: "unfilled",
    rebound: [0.08, 0.12],
  },
];

it.each(ofTheTrade)(
  "rebound of $name: the trade's range lies inside the interval or reaches into it",
  ({ model, filler, rebound }) => {
    const material = { ...exampleMaterial(), model, draws: exampleDraws(model, 60), strainSoftening: filler };
    const { outlook } = outlookOf(material, { ...defaultUses()[0], temperature_C: 23 }, settings, null);
    const { low, high } = outlook.rebound!;
    expect(low).toBeLessThan(rebound[1]);
    expect(high).toBeGreaterThan(rebound[0]);
    // Of what is filled and known at small strain only, the middle of the trade's range lies inside the interval.
    const middle = (rebound[0] + rebound[1]) / 2;
    if (filler === null) expect([low <= middle, middle <= high]).toEqual([true, true]);
    // An interval that holds anything would say nothing.
    expect(high! - low!).toBeLessThan(0.3);
  },
);
