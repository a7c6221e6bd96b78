import type { Material } from "../../fit/material.js";
import { hasStatedFrequency, type MaterialSettings, materialOf } from "../../fit/material-of.js";
import type { DynamicMeasurement, Measurement, ReboundMeasurement } from "../../io/measurement.js";
import type { BatchComparison } from "../../predict/batches/batch-difference.js";
import { type BatchLimits, compareBatches, repeatedRuns } from "../../predict/batches/compare-batches.js";
import { type Stiffening, stiffening } from "../../predict/cold/stiffening.js";
import { type WhatItTakes, whatItTakes } from "../../predict/cold/what-it-takes.js";
import { pendulumImpact } from "../../predict/default-uses.js";
import { type QuickIndicators, quickIndicators } from "../../predict/indicators/quick-indicators.js";
import { outlookOf, type PredictedOutlook } from "../../predict/outlook-of.js";
import type { PredictionSettings } from "../../predict/prediction-settings.js";
import { calibrateRebound, type ReboundCalibration } from "../../predict/rebound/calibrate-rebound.js";
import { reboundBesideSweep } from "../../predict/rebound-beside-sweep.js";
import type { Use } from "../../predict/use.js";
import type { Notice } from "../../words/notice.js";

/** All that is needed to assess one compound; plain data, so that a worker can have it. */
export interface CompoundTask {
  measurements: Measurement[];
  uses: Use[];
  material: MaterialSettings;
  prediction: PredictionSettings;
  batchLimits: BatchLimits;
}

export interface CompoundAssessment {
  material: Material;
  calibration: ReboundCalibration | null;
  outlooks: PredictedOutlook[];
  quickIndicators: QuickIndicators;
  stiffening: Stiffening | null;
  /** Files of the compound that repeat each other, compared. */
  repeatedRuns: BatchComparison[];
  /** One a use; null where nothing needs to change or nothing is known. */
  whatItTakes: (WhatItTakes | null)[];
  /** All that was said of the compound on the way, each once. */
  notices: Notice[];
}

/** From one compound's measurements to its material and its outlook in each use. */
export function assessCompound(task: CompoundTask): CompoundAssessment {
  const { uses, prediction } = task;
  const material = materialOf(task.measurements, task.material);
  const measurements = task.measurements.filter((one) => !isDynamic(one) || hasStatedFrequency(one));
  const rebounds = measurements.filter((one): one is ReboundMeasurement => one.kind === "rebound");
  const impact = uses.find((use) => use.impact !== null)?.impact ?? pendulumImpact;
  const calibrated =
    rebounds.length > 0
      ? calibrateRebound(material, rebounds, impact, prediction)
      : { calibration: null, notices: [] };
  const contradiction =
    rebounds.length > 0 && calibrated.calibration === null
      ? reboundBesideSweep(material, rebounds, impact, prediction)
      : null;
  const outlooks = uses.map((use) => outlookOf(material, use, prediction, calibrated.calibration));
  const stiffened = stiffening(material, prediction);
  const runs = repeatedRuns(measurements, material.glassTransitions);
  const compared =
    runs.length > 1 ? compareBatches(runs, task.batchLimits) : { comparisons: [], notices: [] };
  const takes = whatItTakes(
    material,
    uses.map((use, i) => ({ use, ...outlooks[i] })),
    prediction,
    calibrated.calibration,
  );
  return {
    material,
    calibration: calibrated.calibration,
    outlooks,
    quickIndicators: quickIndicators(measurements.filter(isDynamic)),
    stiffening: stiffened.stiffening,
    repeatedRuns: compared.comparisons,
    whatItTakes: takes.answers,
    notices: withoutRepeats([
      ...material.notices,
      ...calibrated.notices,
      ...(contradiction === null ? [] : [contradiction]),
      ...outlooks.flatMap(({ notices }) => notices),
      ...stiffened.notices,
      ...compared.notices,
      ...takes.notices,
    ]),
  };
}

const isDynamic = (one: Measurement): one is DynamicMeasurement => one.kind !== "rebound";

function withoutRepeats(notices: Notice[]): Notice[] {
  const seen = new Set<string>();
  return notices.filter((notice) => {
    const key = `${notice.code}\n${notice.message}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
