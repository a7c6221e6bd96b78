import { type PropertyName, propertyUnits } from "../measurement.js";
import type { Dimension } from "./units.js";

/** What a column can hold. "not used" are columns of a known kind that nothing is made of. */
export type Quantity =
  | "temperature"
  | "set temperature"
  | "frequency"
  | "angular frequency"
  | "time"
  | "storage modulus"
  | "loss modulus"
  | "complex modulus"
  | "tan delta"
  | "phase angle"
  | "storage compliance"
  | "loss compliance"
  | "complex compliance"
  | "strain amplitude"
  | "double strain amplitude"
  | "displacement amplitude"
  | "sample"
  | "name"
  | "method"
  | "rebound resilience"
  | "rebound height"
  | "drop height"
  | "rebound angle"
  | "drop angle"
  | "impact number"
  | PropertyName
  | "laboratory"
  | "operator"
  | "date"
  | "batch"
  | "not used";

/** Dimensions in which a quantity may be written. Empty: text. */
export const dimensionsOf: Record<Quantity, readonly Dimension[]> = {
  temperature: ["temperature"],
  "set temperature": ["temperature"],
  frequency: ["frequency", "angular frequency", "per second"],
  "angular frequency": ["angular frequency", "per second", "frequency"],
  time: ["time"],
  "storage modulus": ["stress"],
  "loss modulus": ["stress"],
  "complex modulus": ["stress"],
  "tan delta": ["ratio"],
  "phase angle": ["angle"],
  "storage compliance": ["compliance"],
  "loss compliance": ["compliance"],
  "complex compliance": ["compliance"],
  "strain amplitude": ["ratio"],
  "double strain amplitude": ["ratio"],
  "displacement amplitude": ["length"],
  sample: [],
  name: [],
  method: [],
  "rebound resilience": ["ratio"],
  "rebound height": ["length"],
  "drop height": ["length"],
  "rebound angle": ["angle"],
  "drop angle": ["angle"],
  "impact number": ["ratio"],
  hardness: ["hardness"],
  "abrasion loss": ["volume"],
  "abrasion resistance index": ["ratio"],
  "tensile strength": ["stress"],
  "elongation at break": ["ratio"],
  "stress at 50 %": ["stress"],
  "stress at 100 %": ["stress"],
  "stress at 200 %": ["stress"],
  "stress at 300 %": ["stress"],
  "tear strength": ["line force"],
  "compression set": ["ratio"],
  density: ["density"],
  "flex cracking": ["cycles"],
  laboratory: [],
  operator: [],
  date: [],
  batch: [],
  "not used": [],
};

/** Columns that a complex modulus can be made from. */
export const modulusQuantities: readonly Quantity[] = [
  "storage modulus",
  "loss modulus",
  "complex modulus",
  "tan delta",
  "phase angle",
];

/** A modulus is one over its compliance: M* = 1/J*. */
export const complianceQuantities: readonly Quantity[] = [
  "storage compliance",
  "loss compliance",
  "complex compliance",
];

export const reboundQuantities: readonly Quantity[] = [
  "rebound resilience",
  "rebound height",
  "drop height",
  "rebound angle",
  "drop angle",
];

/** Durability and routine properties, read as measured. */
export const propertyQuantities = Object.keys(propertyUnits) as PropertyName[];

/** Whether a quantity is a durability or routine property. */
export function isProperty(quantity: Quantity): quantity is PropertyName {
  return quantity in propertyUnits;
}

/** Quantities of which a row may hold several values: the repeats of a test. */
export function isRepeatable(quantity: Quantity): boolean {
  return reboundQuantities.includes(quantity) || isProperty(quantity);
}

const conditions: readonly Quantity[] = [
  "temperature",
  "set temperature",
  "frequency",
  "angular frequency",
  "time",
  "strain amplitude",
  "double strain amplitude",
];

/** A condition of the test that is set or measured beside the responses. */
export function isCondition(quantity: Quantity): boolean {
  return conditions.includes(quantity);
}

/** A column that answers to the others: a table has at least one. */
export function isResponse(quantity: Quantity): boolean {
  return (
    modulusQuantities.includes(quantity) ||
    reboundQuantities.includes(quantity) ||
    complianceQuantities.includes(quantity) ||
    isProperty(quantity)
  );
}

/** Columns that say who measured a specimen and when: they tell tests apart, and nothing is computed from them. */
export function isLabel(quantity: Quantity): boolean {
  return quantity === "laboratory" || quantity === "operator" || quantity === "date" || quantity === "batch";
}

/** Whether a quantity is given in words, such as a sample’s name. */
export function isText(quantity: Quantity): boolean {
  return quantity === "sample" || quantity === "name" || quantity === "method";
}
