import { statedTemperature } from "../words/quantity-text.js";
import { namedTexture } from "./contact/textures.js";
import type { ImpactContact, Use } from "./use.js";

/**
 * Impact as in the pendulum of ISO 4662 and DIN 53512: 0.5 J at 1.98 m/s, so 0.255 kg, a hemispherical indenter
 * 15 mm in diameter (published). The specimen is taken as thick.
 */
export const pendulumImpact: ImpactContact = {
  method: "pendulum as in ISO 4662",
  mass_kg: 0.255,
  speed_m_s: 1.98,
  contact: "sphere",
  indenterRadius_m: 0.0075,
  thickness_m: null,
};

const defaultTemperatures_C = [23, 0, -10, -20, -30];

/** Whether two names of uses are the same, however their minus is written. */
export function isSameUse(one: string, other: string): boolean {
  return one.replaceAll("−", "-") === other.replaceAll("−", "-");
}

/** What a use is called that states no name. */
export function useNameAt(temperature_C: number): string {
  return `at ${statedTemperature(temperature_C)}`;
}

/**
 * Uses where the study states none: sliding at 0.3 m/s under 0.3 MPa on worn asphalt, and the pendulum's impact.
 * @example defaultUses().map(({ temperature_C }) => temperature_C) // [23, 0, -10, -20, -30]
 */
export function defaultUses(): Use[] {
  return defaultTemperatures_C.map((temperature_C) => ({
    name: useNameAt(temperature_C),
    temperature_C,
    sliding: { speed_m_s: 0.3, pressure_Pa: 0.3e6, texture: namedTexture("worn asphalt")! },
    impact: pendulumImpact,
    assumed: true,
  }));
}
