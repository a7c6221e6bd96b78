import type { z } from "zod";
import { propertyUnits } from "../../io/measurement.js";
import type { Use } from "../use.js";
import type { requirementSchema } from "./decision-schema.js";

/** What a study asks of a quantity: at least, at most, or a state of the verdict; in a use, or of the compound. */
export type Requirement = z.infer<typeof requirementSchema>;

/** Quantities that are predicted in a use, with the unit a requirement states them in. */
export const predictedQuantities = {
  verdict: "",
  grip: "1",
  "grip relative to reference": "1",
  rebound: "1",
  "peak force": "N",
  "peak deceleration": "g",
  indentation: "mm",
  "absorbed energy": "J",
  "lowest rubbery temperature": "°C",
} as const;

export type PredictedQuantity = keyof typeof predictedQuantities;

/** Quantities of the compound, as measured, with the unit a requirement states them in. */
export const measuredQuantities = {
  "softening temperature": "°C",
  "measured rebound": "%",
  ...propertyUnits,
} as const;

export type MeasuredQuantity = keyof typeof measuredQuantities;

/** What a requirement is called that has no name of its own. @example "grip at least 0.3" */
export function requirementName({
  quantity,
  atLeast,
  atMost,
  verdict,
}: Pick<Requirement, "quantity" | "atLeast" | "atMost" | "verdict">): string {
  if (verdict !== undefined) return verdict;
  const least = atLeast === undefined ? [] : [`at least ${atLeast}`];
  const most = atMost === undefined ? [] : [`at most ${atMost}`];
  return `${quantity} ${[...least, ...most].join(" and ")}`;
}

/** Whether a use has the contact that a predicted quantity needs. */
export function hasContact(quantity: string, { sliding, impact }: Pick<Use, "sliding" | "impact">): boolean {
  if (quantity.startsWith("grip")) return sliding !== null;
  if (quantity === "verdict" || quantity === "lowest rubbery temperature") return true;
  return impact !== null;
}

/** Whether a quantity is predicted in a use; else it is measured, of the compound. */
export function isPredicted(quantity: string): quantity is PredictedQuantity {
  return quantity in predictedQuantities;
}
