import type { GlassTransition } from "./material.js";

/** Two tan δ peaks of one sweep, both so high that each is a phase of its own. */
export interface SeparatePhases {
  frequency_Hz: number;
  governing_C: number;
  further_C: number;
}

/** A further tan δ peak of this share of the main one is a phase; a secondary relaxation stays far below (common practice). */
const phaseShare = 0.3;

/** The phases that a sweep shows apart; null where each sweep has one. */
export function separatePhases(transitions: GlassTransition[]): SeparatePhases | null {
  for (const { frequency_Hz, tanDeltaPeak, furtherPeaks } of transitions) {
    if (tanDeltaPeak === null || tanDeltaPeak.temperature_C === null || tanDeltaPeak.height === null)
      continue;
    const least = phaseShare * tanDeltaPeak.height;
    const further = furtherPeaks.find(({ quantity, height }) => quantity === "tan delta" && height >= least);
    if (further !== undefined) {
      return { frequency_Hz, governing_C: tanDeltaPeak.temperature_C, further_C: further.temperature_C };
    }
  }
  return null;
}
