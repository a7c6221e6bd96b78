/**
 * Frostline as a library: what a notebook or another program imports. ESM, typed. Everything but `assess`,
 * `outputFiles` and `writeOutputs` is pure: no file, no clock, no unseeded random number.
 *
 * Units stand in the names (`temperature_C`, `storageModulus_Pa`). Numeric columns are `Float64Array`.
 * Grip, rebound and cold verdicts are screening predictions, no friction or safety certificate.
 *
 * @packageDocumentation
 */

// Fitting: measurements to a material.
export {
  type GlassTransitionSettings,
  glassTransitionDefaults,
  glassTransitions,
} from "./fit/glass-transition.js";
export { type LeastSquaresProblem, type LeastSquaresResult, leastSquares } from "./fit/least-squares.js";
export type * from "./fit/material.js";
export type { MeasuredState } from "./fit/measured-states.js";
// Compounding: network, filler, strain.
export {
  chainMolarMass_g_mol,
  type NetworkOptions,
  networkDefaults,
  networkDensity_mol_m3,
  type RubberyNetwork,
  rubberyNetwork,
} from "./fit/network.js";
export { fitNoticeCodes } from "./fit/notice-codes.js";
export { type PayneEffect, type PayneSettings, payneEffects } from "./fit/payne.js";
export { type Random, seededRandom, seedFromText } from "./fit/random.js";
export {
  constantsAtGlassTransition,
  type Elastomer,
  type NamedConstants,
  publishedLaw,
  type ReferenceCurves,
  referenceCurves,
} from "./fit/reference-curves.js";
export {
  type FillerSeries,
  type FillerSeriesMember,
  fillerSeries,
  fillerVolumeFraction,
  guthGold,
  type ReinforcedMember,
  type StatedFiller,
} from "./fit/reinforcement.js";
export * from "./fit/relaxation-model.js";
export * from "./fit/shift-law.js";
export { fitSpectrum, type Spectrum, type SpectrumOptions } from "./fit/spectrum.js";
export { type SuperpositionResult, superpose } from "./fit/superpose.js";
export { defaultSuperpositionSettings, type SuperpositionSettings } from "./fit/superposition-settings.js";
export type { ValueInterval } from "./fit/value-interval.js";
// Reading: bytes to measurements.
export { describeReading } from "./io/describe-reading.js";
export type * from "./io/measurement.js";
export type * from "./io/problem.js";
export { readerCodes } from "./io/problem-codes.js";
export { readBytes } from "./io/read-bytes.js";
export type { ReadOptions } from "./io/read-options.js";
export { readText } from "./io/read-text.js";
export type { Equivalence } from "./predict/batch-difference.js";
// Predicting: a material in a use.
export {
  type CalibrationReading,
  calibrateRebound,
  type ReboundCalibration,
} from "./predict/calibrate-rebound.js";
export {
  type Batch,
  type BatchComparison,
  type BatchDifference,
  type BatchLimits,
  type BatchQuantity,
  compareBatches,
} from "./predict/compare-batches.js";
export { defaultUses, pendulumImpact } from "./predict/default-uses.js";
export { type Friction, hysteresisFriction, type SlidingState } from "./predict/friction.js";
export { type GlassAbsence, type GlassAtFrequency, glassAtFrequency } from "./predict/glass-at-frequency.js";
export {
  type ContactShape,
  hertzContact,
  type Impact,
  type ImpactOptions,
  linearContact,
  type RelaxingStiffness,
  simulateImpact,
} from "./predict/impact.js";
export { predictionNotices } from "./predict/notice-codes.js";
export type * from "./predict/outlook.js";
export { type OutlookDraws, type PredictedOutlook, predictOutlook } from "./predict/predict-outlook.js";
export { defaultPredictionSettings, type PredictionSettings } from "./predict/prediction-settings.js";
export { type QuickIndicator, type QuickIndicators, quickIndicators } from "./predict/quick-indicators.js";
export { predictRebound, type ReboundPrediction } from "./predict/rebound.js";
export { type Roughness, roughnessOf } from "./predict/roughness.js";
export { type Stiffening, type StiffeningTemperature, stiffening } from "./predict/stiffening.js";
export { type TensileSpectrum, tensileSpectrumAt } from "./predict/tensile-spectrum.js";
export { type HeightProfile, textureFromProfile } from "./predict/texture-from-profile.js";
export { namedTexture, textures } from "./predict/textures.js";
export type * from "./predict/use.js";
export {
  type JudgedUse,
  type SlowerContact,
  type WayAcross,
  type WhatItTakes,
  whatItTakes,
} from "./predict/what-it-takes.js";

// The whole job: a folder to an assessment, and its files.
export type * from "./report/assessment.js";
export { type Results, resultsSchema } from "./report/results.js";
export { type AssessOptions, type AssessOutcome, assess, type Progress } from "./study/assess.js";
export type { Cache } from "./study/cache.js";
// Invented data to try it on.
export { type DemoFile, demoFolder } from "./study/demo/demo-folder.js";
export {
  exampleIsotherms,
  exampleMaterial,
  exampleModel,
  exampleStrainSweep,
  exampleSweep,
} from "./study/demo/example-rubber.js";
export { outputFiles } from "./study/output-files.js";
export { studyCodes } from "./study/study-codes.js";
export { parseStudyFile } from "./study/study-file.js";
export { type StudyFile, studyFileSchema } from "./study/study-file-schema.js";
export { type OutputFile, writeOutputs } from "./study/write-outputs.js";
