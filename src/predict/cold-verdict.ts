import type { ColdVerdict } from "./outlook.js";

/** A border between two states with its interval, °C. */
export interface Border {
  temperature_C: number;
  low_C: number;
  high_C: number;
}

/**
 * glassy below the glassy border, leathery from there to the leathery border, rubbery above. Where a border's
 * interval holds the temperature, the verdict names both states; of two such borders the colder one speaks.
 * @example coldVerdict(-20, { temperature_C: -18, low_C: -21, high_C: -15 }, { temperature_C: 4, low_C: 2, high_C: 6 }) // "glassy or leathery"
 */
export function coldVerdict(temperature_C: number, glassy: Border, leathery: Border): ColdVerdict {
  if (straddles(temperature_C, glassy)) return "glassy or leathery";
  if (temperature_C < glassy.temperature_C) return "glassy";
  if (straddles(temperature_C, leathery)) return "leathery or rubbery";
  return temperature_C < leathery.temperature_C ? "leathery" : "rubbery";
}

function straddles(temperature_C: number, border: Border): boolean {
  return border.low_C < border.high_C && temperature_C >= border.low_C && temperature_C <= border.high_C;
}
