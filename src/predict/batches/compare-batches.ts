import type { GlassTransition } from "../../fit/material.js";
import type { Measurement } from "../../io/measurement.js";
import { exp } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { notice } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { type Batch, type Common, commonPeak, commonReading } from "./batch-common-state.js";
import type { BatchComparison, BatchDifference, BatchQuantity } from "./batch-difference.js";
import {
  type BatchEstimate,
  batchValue,
  differenceOf,
  type Equivalence,
  equivalence,
} from "./batch-difference.js";
import { batchNotices, comparisonSentence, differenceSentence } from "./batch-sentences.js";
import { commonRebound } from "./rebound-at-common-temperature.js";

export type { Batch } from "./batch-common-state.js";

/** Largest differences at which two batches count as equivalent; null: none stated. */
export interface BatchLimits {
  glassTransitionDifference_K: number | null;
  tanDeltaDifference: number | null;
  /** As an energy fraction. */
  reboundDifference: number | null;
}

/**
 * Batches of one compound held against the accepted one: differences in Tg, tan δ at 0 and 60 °C, M′ at −25 °C (as a
 * ratio) and rebound, each with its 95 % interval and what it says against the study's limit. Only readings of one
 * frequency (within 4 %), deformation mode and direction are compared; where two batches share several, the lowest
 * common frequency for Tg and the one nearest to 10 Hz for the others.
 *
 * @param batches two or more
 * @param accepted index of the accepted one: the others are compared with it
 * @example compareBatches([{ name: "accepted", measurements: [exampleSweep()], glassTransitions: glassTransitions(exampleSweep()).transitions }, { name: "delivery", measurements: [exampleSweep()], glassTransitions: glassTransitions(exampleSweep()).transitions }], { glassTransitionDifference_K: 3, tanDeltaDifference: 0.05, reboundDifference: null }).comparisons[0].statement // "equivalent"
 */
export function compareBatches(
  batches: Batch[],
  limits: BatchLimits,
  accepted = 0,
): { comparisons: BatchComparison[]; notices: Notice[] } {
  const reference = batches[accepted];
  const others = batches.filter((_, i) => i !== accepted);
  const notices: Notice[] = [];
  const comparisons = others.map((batch) => {
    const comparison = comparisonOf(reference, batch, limits);
    if (comparison.differences.length === 0) {
      const message = `${batch.name} and ${reference.name} share no state in which both were measured (frequency, deformation mode, direction, temperature), so nothing can be compared.`;
      notices.push(notice("predict.batches-not-comparable", message));
    }
    notices.push(...batchNotices(reference, batch));
    return comparison;
  });
  return { comparisons, notices };
}

/**
 * The files of one compound as batches of their own, in the order of their paths: for runs that the study does not
 * name. A file that holds several compounds, such as a rebound table, gives its part.
 */
export function batchesByFile(measurements: Measurement[], glassTransitions: GlassTransition[]): Batch[] {
  const paths = [...new Set(measurements.map(({ provenance }) => provenance.file))].sort();
  return paths.map((path) => ({
    name: path,
    measurements: measurements.filter(({ provenance }) => provenance.file === path),
    glassTransitions: glassTransitions.filter((transition) => transition.path === path),
  }));
}

/**
 * The files of one compound that repeat each other: the first that shares a state with any later one, and all that
 * share one with it. Fewer than two: none repeats another, and the list is empty.
 */
export function repeatedRuns(measurements: Measurement[], glassTransitions: GlassTransition[]): Batch[] {
  const files = batchesByFile(measurements, glassTransitions);
  const none = { glassTransitionDifference_K: null, tanDeltaDifference: null, reboundDifference: null };
  for (const [i, first] of files.entries()) {
    const repeats = files
      .slice(i + 1)
      .filter((other) => comparisonOf(first, other, none).differences.length > 0);
    if (repeats.length > 0) return [first, ...repeats];
  }
  return [];
}

/** What must stand beside a statement of equivalence. */
const batchCaution =
  "Equivalence holds for the quantities named and the limits of this study only; it releases no product: grip, impact and safety in the cold need the product's own tests and a qualified person.";

function comparisonOf(accepted: Batch, batch: Batch, limits: BatchLimits): BatchComparison {
  const differences: BatchDifference[] = [];
  const notCompared: BatchComparison["notCompared"] = [];
  const add = (quantity: BatchQuantity, found: Common | string, limit: number | null) => {
    if (typeof found === "string") notCompared.push({ quantity, why: found, limitStated: limit !== null });
    else differences.push(batchDifference(quantity, found, limit, accepted.name, batch.name));
  };
  const tanDelta = (storageModulus_Pa: number, lossModulus_Pa: number) => lossModulus_Pa / storageModulus_Pa;
  add("glass transition", commonPeak(accepted, batch), limits.glassTransitionDifference_K);
  add("tan delta at 0 °C", commonReading(accepted, batch, 0, tanDelta), limits.tanDeltaDifference);
  add("tan delta at 60 °C", commonReading(accepted, batch, 60, tanDelta), limits.tanDeltaDifference);
  add(
    "storage modulus at −25 °C",
    commonReading(accepted, batch, -25, (storageModulus_Pa) => storageModulus_Pa),
    null,
  );
  add("rebound", commonRebound(accepted.measurements, batch.measurements), limits.reboundDifference);
  const statement = overall(differences, notCompared);
  return {
    accepted: accepted.name,
    batch: batch.name,
    differences,
    notCompared,
    statement,
    sentence: comparisonSentence(accepted.name, batch.name, statement, differences, notCompared),
    basis: basisOf(differences),
    caution: batchCaution,
  };
}

function batchDifference(
  quantity: BatchQuantity,
  common: Common,
  limit: number | null,
  acceptedName: string,
  batchName: string,
): BatchDifference {
  const isRatio = quantity === "storage modulus at −25 °C";
  // The log of a modulus is what scatters evenly; its difference is the log of the ratio.
  const onScale = (reading: BatchEstimate): BatchEstimate =>
    isRatio
      ? {
          ...reading,
          value: ln(reading.value),
          standardError: reading.standardError === null ? null : reading.standardError / reading.value,
        }
      : reading;
  const a = batchValue(common.accepted.map(onScale));
  const b = batchValue(common.batch.map(onScale));
  const back = (value: number) => (isRatio ? exp(value) : value);
  const { difference, low, high } = differenceOf(b, a);
  const { accepted, batch, ...state } = common;
  const paths = (readings: BatchEstimate[]) => [...new Set(readings.map(({ path }) => path))];
  const found: Omit<BatchDifference, "sentence"> = {
    quantity,
    comparison: isRatio ? "ratio" : "difference",
    unit: quantity === "glass transition" ? "°C" : isRatio ? "Pa" : "1",
    acceptedValue: back(a.value),
    batchValue: back(b.value),
    result: back(difference),
    low: low === null ? null : back(low),
    high: high === null ? null : back(high),
    limit,
    statement: equivalence(low, high, limit),
    ...state,
    acceptedRuns: a.runs,
    batchRuns: b.runs,
    acceptedPaths: paths(accepted),
    batchPaths: paths(batch),
  };
  return { ...found, sentence: differenceSentence(found, acceptedName, batchName) };
}

function overall(differences: BatchDifference[], notCompared: BatchComparison["notCompared"]): Equivalence {
  const held = differences.filter(({ limit }) => limit !== null);
  const isMissing = notCompared.some(({ limitStated }) => limitStated);
  if (held.length === 0 && !isMissing) return "no limit stated";
  if (held.some(({ statement }) => statement === "different")) return "different";
  const areAll = held.every(({ statement }) => statement === "equivalent");
  return areAll && !isMissing ? "equivalent" : "not decided";
}

function basisOf(differences: BatchDifference[]): string {
  const held =
    "Each 95 % interval is compared with its limit: equivalent where all of it lies inside, different where all of it lies outside. Lying inside is the same as passing two one-sided tests at 2.5 % each.";
  const single = differences.some(({ acceptedRuns, batchRuns }) => acceptedRuns === 1 || batchRuns === 1);
  return single
    ? `${held} Where a batch has one run, its interval holds the scatter inside that run only, not how specimens, days and operators differ: measure two specimens or more of each batch for that.`
    : `${held} The intervals hold the spread between the runs of each batch.`;
}
