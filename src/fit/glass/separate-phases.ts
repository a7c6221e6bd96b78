import type { FurtherPeak, GlassTransition } from "../material.js";

/** Two tan δ peaks of one sweep, both so high that each is a phase of its own. */
export interface SeparatePhases {
  frequency_Hz: number;
  governing_C: number;
  further_C: number;
}

/**
 * A further tan δ peak of this share of the main one is a phase of its own; a secondary relaxation, and the low hump
 * that a filler's losses leave on the plateau, stay far below (common practice).
 */
export const phaseShare = 0.3;

/** Those of a sweep's further peaks that are phases beside a main tan δ peak of this height. */
export function phasesAmong(furtherPeaks: FurtherPeak[], mainHeight: number): FurtherPeak[] {
  return furtherPeaks.filter(
    ({ quantity, height }) => quantity === "tan delta" && height >= phaseShare * mainHeight,
  );
}

/** The phases that a sweep shows apart; null where each sweep has one. */
export function separatePhases(transitions: GlassTransition[]): SeparatePhases | null {
  for (const { frequency_Hz, tanDeltaPeak, furtherPeaks } of transitions) {
    if (tanDeltaPeak === null || tanDeltaPeak.temperature_C === null || tanDeltaPeak.height === null)
      continue;
    const [further] = phasesAmong(furtherPeaks, tanDeltaPeak.height);
    if (further !== undefined) {
      return { frequency_Hz, governing_C: tanDeltaPeak.temperature_C, further_C: further.temperature_C };
    }
  }
  return null;
}
