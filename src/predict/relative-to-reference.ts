import { intervalAround } from "../numeric/value-interval.js";

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
  const count = Math.max(draws?.length ?? 0, referenceDraws?.length ?? 0);
  // Where one of the two has no draws its value stands for each; where it has fewer they are gone through again.
  const at = (from: Float64Array | null, otherwise: number, i: number) =>
    from === null || from.length === 0 ? otherwise : from[i % from.length];
  const ratios = new Float64Array(count);
  for (let i = 0; i < count; i++) ratios[i] = at(draws, value, i) / at(referenceDraws, referenceValue, i);
  return { ratio, ...intervalAround(ratio, ratios) };
}
