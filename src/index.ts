/**
 * Frostline as a library: what a notebook or another program imports. ESM, typed. Everything but `assess`,
 * `outputFiles` and `writeOutputs` is pure: no file, no clock, no unseeded random number.
 *
 * Units stand in the names (`temperature_C`, `storageModulus_Pa`). Numeric columns are `Float64Array`.
 * Grip, rebound and cold verdicts are screening predictions, no friction or safety certificate.
 *
 * @packageDocumentation
 */

export {
  type GlassAbsence,
  type GlassAtFrequency,
  glassAtFrequency,
} from "./fit/glass/glass-at-frequency.js";
// Fitting: measurements to a material.
export {
  type GlassTransitionSettings,
  glassTransitionDefaults,
  glassTransitions,
} from "./fit/glass/glass-transition.js";
export type * from "./fit/material.js";
export type { RubberyNetwork, SuperpositionResult } from "./fit/material.js";
export { defaultMaterialSettings, type MaterialSettings, materialOf } from "./fit/material-of.js";
export type { MeasuredState } from "./fit/measured-states.js";
// Compounding: network, filler, strain.
export {
  chainMolarMass_g_mol,
  type NetworkOptions,
  networkDefaults,
  networkDensity_mol_m3,
  rubberyNetwork,
} from "./fit/network/network.js";
export { type PayneSettings, payneEffects } from "./fit/network/payne.js";
export {
  type FillerSeries,
  type FillerSeriesMember,
  fillerSeries,
  fillerVolumeFraction,
  guthGold,
  type ReinforcedMember,
  type StatedFiller,
} from "./fit/network/reinforcement.js";
export type { ComplexModulus } from "./fit/spectrum/complex-modulus.js";
export type { MixedPhase, PhaseMixing } from "./fit/spectrum/phase-mixing.js";
export * from "./fit/spectrum/relaxation-model.js";
export * from "./fit/spectrum/shift-law.js";
export type { SpectrumAt } from "./fit/spectrum/spectra-at.js";
export { fitSpectrum, type Spectrum, type SpectrumOptions } from "./fit/spectrum/spectrum.js";
export {
  constantsAtGlassTransition,
  type Elastomer,
  type NamedConstants,
  publishedLaw,
  type ReferenceCurves,
  referenceCurves,
} from "./fit/superposition/law/reference-curves.js";
export {
  defaultSuperpositionSettings,
  type SuperpositionSettings,
} from "./fit/superposition/superposition-settings.js";
// Reading: bytes to measurements.
export { describeReading } from "./io/describe-reading.js";
export type * from "./io/measurement.js";
export { readBytes } from "./io/read-bytes.js";
export type { ReadOptions } from "./io/read-options.js";
export { readText } from "./io/read-text.js";
export {
  type LeastSquaresProblem,
  type LeastSquaresResult,
  leastSquares,
} from "./numeric/least-squares/least-squares.js";
export { type Random, seededRandom, seedFromText } from "./numeric/statistics/random.js";
export type { ValueInterval } from "./numeric/statistics/value-interval.js";
export type {
  BatchComparison,
  BatchDifference,
  BatchQuantity,
  Equivalence,
} from "./predict/batches/batch-difference.js";
export { type Batch, type BatchLimits, compareBatches } from "./predict/batches/compare-batches.js";
export { type Stiffening, type StiffeningTemperature, stiffening } from "./predict/cold/stiffening.js";
export {
  type JudgedUse,
  type SlowerContact,
  type WayAcross,
  type WhatItTakes,
  whatItTakes,
} from "./predict/cold/what-it-takes.js";
export { type Friction, hysteresisFriction, type SlidingState } from "./predict/contact/friction.js";
export type { HeightProfile } from "./predict/contact/profile.js";
export { type Roughness, roughnessOf } from "./predict/contact/roughness.js";
export { type TensileSpectrum, tensileSpectrumAt } from "./predict/contact/tensile-spectrum.js";
export { textureFromProfile } from "./predict/contact/texture-from-profile.js";
export { namedTexture, textures } from "./predict/contact/textures.js";
export { defaultUses, pendulumImpact } from "./predict/default-uses.js";
export {
  type QuickIndicator,
  type QuickIndicators,
  quickIndicators,
} from "./predict/indicators/quick-indicators.js";
export type * from "./predict/outlook.js";
export {
  type ContactFrequency,
  type OutlookDraws,
  type OutlookScope,
  outlookOf,
  type PredictedOutlook,
} from "./predict/outlook-of.js";
export { defaultPredictionSettings, type PredictionSettings } from "./predict/prediction-settings.js";
// Predicting: a material in a use.
export {
  type CalibrationPoint,
  calibrateRebound,
  type ReboundCalibration,
} from "./predict/rebound/calibrate-rebound.js";
export {
  type ContactShape,
  hertzContact,
  type Impact,
  type ImpactOptions,
  linearContact,
  type RelaxingStiffness,
  simulateImpact,
} from "./predict/rebound/impact.js";
export { predictRebound, type ReboundPrediction } from "./predict/rebound/rebound.js";
export type { OutlookAndDraws } from "./predict/relative-to-reference.js";
export type * from "./predict/use.js";
// The whole job: a folder to an assessment, and its files.
export type * from "./report/assessment.js";
export { type Results, type ResultsCompound, resultsSchema } from "./report/results/results.js";
export { type StudyFile, studyFileSchema } from "./report/results/study-file-schema.js";
// Invented data to try it on.
export { type DemoFile, demoFolder } from "./study/demo/demo-folder.js";
export {
  exampleIsotherms,
  exampleMaterial,
  exampleModel,
  exampleStrainSweep,
  exampleSweep,
} from "./study/demo/example-rubber.js";
export { outputFiles } from "./study/outputs/output-files.js";
export { type OutputFile, writeOutputs } from "./study/outputs/write-outputs.js";
export { type AssessOptions, assess } from "./study/run/assess.js";
export type { AssessOutcome, Progress } from "./study/run/assess-from.js";
export type { Cache } from "./study/run/cache.js";
export { parseStudyFile } from "./study/study-file/study-file.js";
export { fitNoticeCodes } from "./words/codes/fit-codes.js";
export { predictionNotices } from "./words/codes/prediction-codes.js";
export { readerCodes } from "./words/codes/reader-codes.js";
export { studyCodes } from "./words/codes/study-codes.js";
export type * from "./words/notice.js";
