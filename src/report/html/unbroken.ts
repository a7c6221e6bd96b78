/** Narrow, and no line breaks at it. */
export const narrowSpace = "\u202f";

const unit =
  "(?:%|°C|K|[kmMG]?Hz|[kMG]?Pa|m/s|mm³|mm|nm|µm|N|J|g/cm³|g|kN/m|Shore A|K/min|1/µm)(?![\\p{L}\\d])";
const beforeUnit = new RegExp(`(?<=\\d) (?=${unit})`, "gu");
const unitFirst = new RegExp(`^ (?=${unit})`, "u");

/**
 * A text whose lines break at no space between a number and its unit.
 * @example unbroken("Below 0 °C") // "Below 0\u202f°C"
 */
export const unbroken = (text: string): string => text.replace(beforeUnit, narrowSpace);

/** The same of what follows a value in a template: a unit that it begins with belongs to the value. */
export const unbrokenAfterValue = (text: string): string => unbroken(text).replace(unitFirst, narrowSpace);
