import type { Material } from "../fit/material.js";
import type { Measurement } from "../io/measurement.js";
import type { PredictionSettings } from "../predict/prediction-settings.js";
import type { ReboundCalibration } from "../predict/rebound/calibrate-rebound.js";
import type { OutlookAndDraws } from "../predict/relative-to-reference.js";
import type { Use } from "../predict/use.js";
import type { Results } from "./results/results.js";
import type { StudySettings } from "./results/study-file-schema.js";

/** One compound as assessed: the measurements, what was fitted to them, and the same facts as results.json has. */
export interface AssessedCompound {
  name: string;
  isReference: boolean;
  measurements: Measurement[];
  material: Material;
  /** What the rebound predictions were calibrated with; the page predicts with it again. */
  calibration: ReboundCalibration | null;
  /** In each use of the study, with the draws behind the intervals. */
  outlooks: OutlookAndDraws[];
}

/**
 * All that the report, the JSON and the tables are written from. `compounds` stand in the order of
 * `results.compounds`; `settings` is the study as understood, ready to be written as YAML.
 */
export interface Assessment {
  results: Results;
  compounds: AssessedCompound[];
  uses: Use[];
  settings: StudySettings;
  /** What the outlooks were predicted with. */
  predictionSettings: PredictionSettings;
}
