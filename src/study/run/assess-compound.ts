import {
  glassTransitionDefaults,
  glassTransitions,
  glassTransitionsFromIsotherms,
} from "../../fit/glass/glass-transition.js";
import type { Material } from "../../fit/material.js";
import { measuredStates } from "../../fit/measured-states.js";
import { linearRangeNotices } from "../../fit/network/linear-range.js";
import {
  type NetworkOptions,
  networkDefaults,
  type RubberyNetwork,
  rubberyNetwork,
} from "../../fit/network/network.js";
import { type PayneEffect, payneEffects } from "../../fit/network/payne.js";
import { superposeIntoGlass } from "../../fit/single-frequency/isotherms-into-glass.js";
import { superpose } from "../../fit/superposition/superpose.js";
import type { SuperpositionSettings } from "../../fit/superposition/superposition-settings.js";
import type { DynamicMeasurement, Measurement, ReboundMeasurement } from "../../io/measurement.js";
import type { Notice } from "../../io/problem.js";
import type { BatchComparison } from "../../predict/batches/batch-difference.js";
import { type BatchLimits, compareBatches, repeatedRuns } from "../../predict/batches/compare-batches.js";
import { type Stiffening, stiffening } from "../../predict/cold/stiffening.js";
import { type WhatItTakes, whatItTakes } from "../../predict/cold/what-it-takes.js";
import { pendulumImpact } from "../../predict/default-uses.js";
import { type QuickIndicators, quickIndicators } from "../../predict/indicators/quick-indicators.js";
import { type PredictedOutlook, predictOutlook } from "../../predict/outlook-of.js";
import type { PredictionSettings } from "../../predict/prediction-settings.js";
import { calibrateRebound, type ReboundCalibration } from "../../predict/rebound/calibrate-rebound.js";
import type { Use } from "../../predict/use.js";

/** All that is needed to assess one compound; plain data, so that a worker can have it. */
export interface CompoundTask {
  name: string;
  measurements: Measurement[];
  uses: Use[];
  superposition: SuperpositionSettings;
  prediction: PredictionSettings;
  network: Pick<NetworkOptions, "density_kg_m3" | "fillerVolumeFraction" | "rubberDensity_kg_m3">;
  batchLimits: BatchLimits;
  seed: number;
}

export interface CompoundAssessment {
  material: Material;
  calibration: ReboundCalibration | null;
  outlooks: PredictedOutlook[];
  quickIndicators: QuickIndicators;
  stiffening: Stiffening | null;
  network: RubberyNetwork | null;
  payneEffects: PayneEffect[];
  /** Files of the compound that repeat each other, compared. */
  repeatedRuns: BatchComparison[];
  /** One a use; null where nothing needs to change or nothing is known. */
  whatItTakes: (WhatItTakes | null)[];
}

/** From one compound's measurements to its glass transitions, its model and its outlook in each use. */
export function assessCompound(task: CompoundTask): CompoundAssessment {
  const dynamic = task.measurements.filter(
    (measurement): measurement is DynamicMeasurement => measurement.kind !== "rebound",
  );
  const rebounds = task.measurements.filter(
    (measurement): measurement is ReboundMeasurement => measurement.kind === "rebound",
  );
  const notices: Notice[] = [];
  const glassSettings = { ...glassTransitionDefaults, seed: task.seed };
  const ofSweeps = dynamic.map((measurement) => glassTransitions(measurement, glassSettings));
  const transitions = ofSweeps.flatMap((found) => found.transitions);
  notices.push(...ofSweeps.flatMap((found) => found.notices));
  if (transitions.length === 0) {
    const ofIsotherms = glassTransitionsFromIsotherms(dynamic, glassSettings);
    transitions.push(...ofIsotherms.transitions);
    notices.push(...ofIsotherms.notices);
  }
  const superposed = superposeIntoGlass(
    task.name,
    superpose(task.name, dynamic, transitions, task.superposition),
    dynamic,
    transitions,
    task.superposition,
  );
  notices.push(...superposed.notices);
  const material: Material = {
    compound: task.name,
    glassTransitions: transitions,
    superposition: superposed.superposition,
    model: superposed.model,
    draws: superposed.draws,
    notices,
    measuredStates: measuredStates(dynamic, superposed.model),
  };
  let calibration: ReboundCalibration | null = null;
  if (rebounds.length > 0) {
    const impact = task.uses.find((use) => use.impact !== null)?.impact ?? pendulumImpact;
    const calibrated = calibrateRebound(material, rebounds, impact, task.prediction);
    calibration = calibrated.calibration;
    notices.push(...calibrated.notices);
  }
  const outlooks = task.uses.map((use) => predictOutlook(material, use, task.prediction, calibration));
  for (const outlook of outlooks) notices.push(...outlook.notices);
  const stiffened = stiffening(material, task.prediction);
  notices.push(...stiffened.notices);
  const network = rubberyNetwork(dynamic, material, { ...networkDefaults, ...task.network, seed: task.seed });
  const payne = payneEffects(dynamic, { draws: networkDefaults.draws, seed: task.seed });
  const runs = repeatedRuns(task.measurements, transitions);
  const compared =
    runs.length > 1 ? compareBatches(runs, task.batchLimits) : { comparisons: [], notices: [] };
  const takes = whatItTakes(
    material,
    task.uses.map((use, i) => ({ use, outlook: outlooks[i].outlook })),
    task.prediction,
    calibration,
  );
  notices.push(
    ...network.notices,
    ...payne.notices,
    ...linearRangeNotices(dynamic, payne.effects),
    ...compared.notices,
    ...takes.notices,
  );
  material.notices = withoutRepeats(notices);
  return {
    material,
    calibration,
    outlooks,
    quickIndicators: quickIndicators(dynamic),
    stiffening: stiffened.stiffening,
    network: network.network,
    payneEffects: payne.effects,
    repeatedRuns: compared.comparisons,
    whatItTakes: takes.answers,
  };
}

function withoutRepeats(notices: Notice[]): Notice[] {
  const seen = new Set<string>();
  return notices.filter((notice) => {
    const key = `${notice.code}\n${notice.message}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
