/** Frostline as a library: what a notebook or another program imports. */
export { glassTransitionDefaults, glassTransitions } from "./fit/glass-transition.js";
export type * from "./fit/material.js";
export * from "./fit/relaxation-model.js";
export * from "./fit/shift-law.js";
export { superpose } from "./fit/superpose.js";
export { defaultSuperpositionSettings } from "./fit/superposition-settings.js";
export { describeReading } from "./io/describe-reading.js";
export type * from "./io/measurement.js";
export type * from "./io/problem.js";
export { readBytes } from "./io/read-bytes.js";
export { readText } from "./io/read-text.js";
export { defaultUses } from "./predict/default-uses.js";
export type * from "./predict/outlook.js";
export { predictOutlook } from "./predict/predict-outlook.js";
export { defaultPredictionSettings } from "./predict/prediction-settings.js";
export type * from "./predict/use.js";
export { type Results, resultsSchema } from "./report/results.js";
export { assess } from "./study/assess.js";
