import { intervalAround } from "../numeric/statistics/value-interval.js";
import type { PredictedOutlook } from "./outlook-of.js";

/** Value and draws of an outlook: what ratios are formed from. */
export type OutlookAndDraws = Pick<PredictedOutlook, "outlook" | "draws">;

/** The same outlook with grip, rebound and peak force relative to the reference compound's in the same use, draw against draw. */
export function besideReference<Predicted extends OutlookAndDraws>(
  predicted: Predicted,
  reference: OutlookAndDraws,
): Predicted {
  const { outlook, draws } = predicted;
  const grip =
    outlook.grip &&
    withRatio(
      outlook.grip,
      relativeToReference(
        outlook.grip.frictionCoefficient,
        draws.grip,
        reference.outlook.grip?.frictionCoefficient ?? null,
        reference.draws.grip,
      ),
    );
  const rebound =
    outlook.rebound &&
    withRatio(
      outlook.rebound,
      relativeToReference(
        outlook.rebound.fraction,
        draws.rebound,
        reference.outlook.rebound?.fraction ?? null,
        reference.draws.rebound,
      ),
    );
  const cushioning =
    outlook.cushioning &&
    withRatio(
      outlook.cushioning,
      relativeToReference(
        outlook.cushioning.peakForce_N.value,
        draws.peakForce_N,
        reference.outlook.cushioning?.peakForce_N.value ?? null,
        reference.draws.peakForce_N,
      ),
    );
  return { ...predicted, outlook: { ...outlook, grip, rebound, cushioning } };
}

function withRatio<Value extends object>(value: Value, ratio: Ratio | null): Value {
  return ratio === null ? value : { ...value, relativeToReference: ratio };
}

export interface Ratio {
  ratio: number;
  low: number;
  high: number;
}

/**
 * A compound's value over the reference compound's, with the 95 % interval of the ratio, formed draw by draw:
 * what both share (the surface, the contact, a common calibration) cancels, and a compound against itself is
 * exactly 1. Null where either value is missing or the reference is zero.
 * @example relativeToReference(0.6, Float64Array.of(0.5, 0.7), 0.5, Float64Array.of(0.4, 0.6)) // { ratio: 1.2, low: 1.168…, high: 1.247… }
 */
export function relativeToReference(
  value: number | null,
  draws: Float64Array | null,
  referenceValue: number | null,
  referenceDraws: Float64Array | null,
): Ratio | null {
  if (value === null || referenceValue === null || !(referenceValue > 0)) return null;
  const ratio = value / referenceValue;
  return { ratio, ...intervalAround(ratio, ratioDraws(value, draws, referenceValue, referenceDraws)) };
}

/**
 * The ratios behind that interval, draw against draw.
 * @returns one ratio a draw; the ratio of the values alone where either has no draws
 */
export function ratioDraws(
  value: number,
  draws: Float64Array | null,
  referenceValue: number,
  referenceDraws: Float64Array | null,
): Float64Array {
  const count = Math.max(draws?.length ?? 0, referenceDraws?.length ?? 0);
  // Where one of the two has no draws its value stands for each; where it has fewer they are gone through again.
  const at = (from: Float64Array | null, otherwise: number, i: number) =>
    from === null || from.length === 0 ? otherwise : from[i % from.length];
  const ratios = new Float64Array(count);
  for (let i = 0; i < count; i++) ratios[i] = at(draws, value, i) / at(referenceDraws, referenceValue, i);
  return ratios;
}
