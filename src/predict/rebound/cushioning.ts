import { square } from "../../numeric/elementary/power.js";
import type { ImpactContact } from "../use.js";
import type { ReboundPrediction } from "./rebound.js";

/** Standard acceleration of free fall, m/s² (ISO 80000-3): the unit in which decelerations are given. */
const standardGravity_m_s2 = 9.80665;

/** What an impact does to the mass and the body. */
export interface Cushioning {
  peakForce_N: number;
  /** Peak force over the mass, in multiples of standard gravity. */
  peakDeceleration_g: number;
  indentation_m: number;
  /** (1 − R) ½ m v². */
  energyAbsorbed_J: number;
}

/**
 * Cushioning of an impact, read off the same simulation as its rebound.
 * @example cushioningOf({ fraction: 0.5, peakForce_N: 250, indentation_m: 4e-3 }, pendulumImpact).peakDeceleration_g // 99.97…
 */
export function cushioningOf(
  {
    fraction,
    peakForce_N,
    indentation_m,
  }: Pick<ReboundPrediction, "fraction" | "peakForce_N" | "indentation_m">,
  { mass_kg, speed_m_s }: Pick<ImpactContact, "mass_kg" | "speed_m_s">,
): Cushioning {
  return {
    peakForce_N,
    peakDeceleration_g: peakForce_N / (mass_kg * standardGravity_m_s2),
    indentation_m,
    energyAbsorbed_J: (1 - fraction) * 0.5 * mass_kg * square(speed_m_s),
  };
}
