import { log10 } from "../../../numeric/elementary/logarithm.js";
import type { Outlook } from "../../../predict/outlook.js";
import type { JudgedCompound } from "../../results/results.js";

type GlassTransition = JudgedCompound["glassTransitions"][number];

/** In decades; a peak at an unstated frequency is quoted only where there is no other. */
function distanceFrom1Hz({ frequency_Hz }: GlassTransition): number {
  return frequency_Hz === null ? Number.MAX_VALUE : Math.abs(log10(frequency_Hz));
}

/** The tan δ peak measured nearest to 1 Hz, the one people quote; null where none is bracketed. */
export function quotedPeak(
  compound: JudgedCompound,
): { transition: GlassTransition; temperature_C: number } | null {
  let best: { transition: GlassTransition; temperature_C: number } | null = null;
  for (const transition of compound.glassTransitions) {
    const temperature_C = transition.tanDeltaPeak?.temperature_C ?? null;
    if (temperature_C === null) continue;
    if (best === null || distanceFrom1Hz(transition) < distanceFrom1Hz(best.transition)) {
      best = { transition, temperature_C };
    }
  }
  return best;
}

/** Where the tan δ peak stands at the contact's own frequency; null where it was not seen there. */
export function peakInContact_C({ cold }: Outlook): number | null {
  return cold === null ? null : cold.glassTemperatureAtUse.tanDeltaPeak.temperature_C;
}
