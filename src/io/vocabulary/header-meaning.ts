import type { Quantity } from "./quantities.js";
import type { ModulusLetter } from "./terms/symbols.js";
import type { Unit } from "./units.js";

/** A fixed state that a header names for its column: "E' 10 Hz". */
export interface Tag {
  frequency_Hz?: number;
  temperature_C?: number;
}

/** What one header cell says. */
export interface HeaderMeaning {
  /** As the file writes it, trimmed. */
  text: string;
  quantity: Quantity | null;
  /** True where every word of the header is understood. */
  certain: boolean;
  /** Count of words that no term explains. */
  strays: number;
  letter: ModulusLetter | null;
  unit: Unit | null;
  unitText: string;
  /** What stands in the unit's place without being a known unit. */
  unknownUnit: string | null;
  /** Line of the unit row that gives the unit, where one does. */
  unitLine: number | null;
  /** Base of the logarithm the column holds; 0 for plain values. */
  logarithm: number;
  /**
   * Power of ten that the header puts beside the name and not into the unit: "tan δ ×10³". Whether the numbers are the
   * quantity times it or over it only the numbers can tell; a factor in front ("100 tan δ") leaves no doubt.
   */
  factor: { power: number; text: string; isSure: boolean } | null;
  /** True for the frequency of a master curve, f·aT: the rows were superposed, not measured at it. */
  isReduced: boolean;
  /** The standard that the header names beside the quantity: "ISO 4662". */
  standard: string | null;
  tag: Tag;
  repeat: number | null;
  mean: boolean;
}
