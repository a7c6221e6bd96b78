import { square } from "../../../numeric/elementary/power.js";
import { fixed } from "../../../words/quantity-text.js";
import { fitLaw, type LawFit, lawSlope, runOffset_K, runShift } from "./law-fit.js";
import { type MeasuredShifts, subsetOfShifts } from "./measured-shifts.js";

/** How far an isotherm's own shift stands from the law, and what that would be as an error of its temperature. */
export interface ShiftDeviation {
  isotherm: number;
  temperature_C: number;
  /** log10 aT less the law's. */
  off_decades: number;
  /** Standard error of the difference. */
  error_decades: number;
  /** By how much warmer than stated the specimen would have been. */
  warmer_K: number;
}

/** An isotherm is said to stand off the law from this many standard errors on. */
const tellingErrors = 3;
/** Below this an error of temperature is what a good oven has (common practice). */
const smallestError_K = 0.5;
/** At most this share of the isotherms is set aside, and only where the others then scatter this much less. */
const largestShare = 0.2;
const scatterLeft = 0.35;

/**
 * Deviations of all isotherms from a law; the mean of those that the law was fitted to is zero.
 * @param fitted indices of the isotherms that the law was fitted to
 */
export function deviationsFromLaw(shifts: MeasuredShifts, law: LawFit, fitted: number[]): ShiftDeviation[] {
  const { temperature_C, log10aT, run, covariance } = shifts;
  const count = temperature_C.length;
  const { shape, parameters } = law;
  const away = log10aT.map((shift, k) => shift - runShift(shape, parameters, temperature_C[k], run[k]));
  // Weighted, so that an isotherm on a plateau, whose shift is hardly known, does not move the others.
  const weight = (k: number) => 1 / (covariance[k * count + k] + 1e-4);
  const total = fitted.reduce((sum, k) => sum + weight(k), 0);
  const mean = fitted.reduce((sum, k) => sum + weight(k) * away[k], 0) / total;
  return Array.from(away, (value, k) => {
    let variance = covariance[k * count + k];
    for (const a of fitted) {
      variance -= (2 * weight(a) * covariance[k * count + a]) / total;
      for (const b of fitted) variance += (weight(a) * weight(b) * covariance[a * count + b]) / square(total);
    }
    const slope = lawSlope(shape, parameters, temperature_C[k] - runOffset_K(shape, parameters, run[k]));
    const off_decades = value - mean;
    return {
      isotherm: k,
      temperature_C: temperature_C[k],
      off_decades,
      error_decades: Math.sqrt(Math.max(0, variance)),
      warmer_K: off_decades / slope,
    };
  });
}

/** Whether an isotherm stands off by more than its own error, and a scatter common to all. */
export const standsOff = (
  { off_decades, error_decades, warmer_K }: ShiftDeviation,
  scatter_decades = 0,
): boolean =>
  Math.abs(warmer_K) > smallestError_K &&
  Math.abs(off_decades) > tellingErrors * Math.sqrt(square(error_decades) + square(scatter_decades));

/**
 * The few isotherms that alone make the shifts scatter about the law, as after too short a wait at a temperature:
 * taken away one by one, each time the one without which the others scatter least. None where the scatter is common
 * to all, or where the coldest of a run would have to go, which is the glass's business.
 */
export function isothermsOffTheLaw(shifts: MeasuredShifts, chosen: LawFit): ShiftDeviation[] {
  if (chosen.scatter_decades === 0) return [];
  const count = shifts.temperature_C.length;
  const coldest = new Set(
    Array.from({ length: shifts.runCount }, (_, run) => {
      const own = Array.from(shifts.run.keys()).filter((k) => shifts.run[k] === run);
      return own.reduce(
        (best, k) => (shifts.temperature_C[k] < shifts.temperature_C[best] ? k : best),
        own[0],
      );
    }),
  );
  let kept = Array.from({ length: count }, (_, k) => k);
  let law = fitLaw(shifts, chosen.shape);
  const initial = law?.scatter_decades ?? 0;
  const aside: number[] = [];
  while (law !== null && law.scatter_decades > 0 && aside.length + 1 <= largestShare * count) {
    let best: { k: number; law: LawFit } | null = null;
    for (const k of furthestOff(shifts, law, kept, coldest)) {
      const fit = fitLaw(
        subsetOfShifts(
          shifts,
          kept.filter((other) => other !== k),
        ),
        chosen.shape,
      );
      if (fit === null) continue;
      const better =
        best === null ||
        fit.scatter_decades < best.law.scatter_decades ||
        (fit.scatter_decades === best.law.scatter_decades && fit.aicc < best.law.aicc);
      if (better) best = { k, law: fit };
    }
    if (best === null) break;
    const { k } = best;
    aside.push(k);
    kept = kept.filter((other) => other !== k);
    law = best.law;
  }
  if (law === null || aside.length === 0 || law.scatter_decades > scatterLeft * initial) return [];
  const deviations = deviationsFromLaw(shifts, law, kept);
  const off = aside.map((k) => deviations[k]);
  return off.every((one) => standsOff(one, law.scatter_decades)) ? off : [];
}

/** How many isotherms are tried at each step: a fit without each of 90 in turn cost more than all other fits together. */
const mostTried = 8;

/** Of the isotherms kept, those furthest off the law for their error and the common scatter. */
function furthestOff(shifts: MeasuredShifts, law: LawFit, kept: number[], never: Set<number>): number[] {
  const deviations = deviationsFromLaw(shifts, law, kept);
  const score = (k: number) => {
    const { off_decades, error_decades } = deviations[k];
    return Math.abs(off_decades) / Math.sqrt(square(error_decades) + square(law.scatter_decades));
  };
  return kept
    .filter((k) => !never.has(k))
    .sort((a, b) => score(b) - score(a))
    .slice(0, mostTried);
}

/** A distance from a law in words; what two decimals do not show is not said to be none. */
export const decadesText = (value: number): string =>
  value < 0.005 ? "less than 0.01 decades" : `${fixed(value, 2)} decades`;
