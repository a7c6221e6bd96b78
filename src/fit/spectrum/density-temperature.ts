import { zeroCelsius_K } from "./shift-law.js";

/** Volume expansion, 1/K: the order of unfilled rubbers above Tg (from memory). */
export const rubberExpansion_per_K = 6.6e-4;

/** The vertical factor bT = ρ0 T0/(ρ T) of rubber elasticity, the density by its thermal expansion. */
export function densityTemperatureFactor(
  temperature_C: number,
  reference_C: number,
  expansion_per_K: number,
): number {
  const ratio = (reference_C + zeroCelsius_K) / (temperature_C + zeroCelsius_K);
  return ratio * (1 + expansion_per_K * (temperature_C - reference_C));
}
