import { exp10 } from "../../../numeric/elementary/exponential.js";
import { pushTo } from "../../../numeric/push-to.js";
import type { Notice } from "../../../words/notice.js";
import { fixed, frequencyText, temperatureText } from "../../../words/quantity-text.js";
import type { RowSource } from "../../glass/ramp-steps.js";
import type { ShiftDeviation } from "../law/off-the-law.js";
import type { IsothermSet } from "./isotherms.js";
import type { OutlyingModulus } from "./rough-points.js";

/** So many points are named one by one. */
const mostNamed = 20;

/** The points that were left out of a superposition, each with its place and how far off it is. */
export function pointsLeftOutNotice(moduli: OutlyingModulus[]): Notice | null {
  if (moduli.length === 0) return null;
  const points = new Map<RowSource, OutlyingModulus[]>();
  for (const one of moduli) pushTo(points, one.source, one);
  const named = [...points.values()]
    .toSorted(([a], [b]) => inOrder(a.source, b.source) || a.frequency_Hz - b.frequency_Hz)
    .slice(0, mostNamed)
    .map((ofOne) => {
      const { source, temperature_C, frequency_Hz } = ofOne[0];
      const factors = ofOne
        .map(({ quantity, off_decades }) => `${quantity} ${exp10(off_decades).toPrecision(2)} times`)
        .join(" and ");
      return `${placeOf(source)}, ${temperatureText(temperature_C, 1)}, ${frequencyText(frequency_Hz)}: ${factors} what the points beside it say`;
    });
  const more = points.size > mostNamed ? `; and ${points.size - mostNamed} more` : "";
  return {
    severity: "caution",
    code: "fit.points-left-out",
    message: `${points.size === 1 ? "One point stands" : `${points.size} points stand`} far off the curve and ${points.size === 1 ? "was" : "were"} left out of the superposition (${named.join("; ")}${more}). Look at the export and the instrument there; if the value is right, measure that isotherm again.`,
  };
}

function inOrder(a: RowSource, b: RowSource): number {
  if (a.file !== b.file) return a.file < b.file ? -1 : 1;
  return (a.line ?? a.firstLine) - (b.line ?? b.firstLine);
}

function placeOf({ file, sheet, line, firstLine, lastLine }: RowSource): string {
  const inSheet = sheet === null ? "" : `, sheet "${sheet}"`;
  const word = sheet === null ? "line" : "row";
  return `${file}${inSheet}, ${line === null ? `${word}s ${firstLine} to ${lastLine}` : `${word} ${line}`}`;
}

/** An isotherm whose moduli all stand apart from the others by one factor. */
export function slippedIsothermNotice(isotherm: IsothermSet, off_decades: number): Notice {
  const [{ temperature_C }] = isotherm.isotherms;
  return {
    severity: "caution",
    code: "fit.isotherm-apart",
    message: `The isotherm at ${temperatureText(temperature_C, 1)} (${placeOf({ ...isotherm.source[0], line: null })}) stands vertically apart: all its moduli are ${exp10(off_decades).toPrecision(2)} times what the others say. It was left out. Look for a slipped clamp, a wrong specimen dimension or a change of range there, and measure it again.`,
  };
}

/**
 * The isotherms that were set aside because their shifts stand off the law of the others.
 * @param factors on all moduli that would explain each as well; null where none does
 */
export function offTheLawNotice(off: ShiftDeviation[], factors: (number | null)[]): Notice {
  const one = off.length === 1;
  const slips = off.flatMap(({ temperature_C }, i) => {
    const factor = factors[i];
    return factor === null ? [] : [`${factor.toPrecision(2)} at ${temperatureText(temperature_C, 1)}`];
  });
  const slip =
    slips.length === 0
      ? ""
      : ` A factor on all its moduli would look the same (${slips.join(", ")}): look for a slipped clamp, too.`;
  return {
    severity: "caution",
    code: "fit.isotherms-off-law",
    message: `The ${one ? "isotherm" : "isotherms"} at ${deviationsInWords(off)} ${one ? "stands" : "stand"} off the law that the others follow and ${one ? "was" : "were"} set aside. Look at how long the specimen was held there before the sweep, and measure ${one ? "it" : "them"} again.${slip}`,
  };
}

/** "−15.0 °C (0.23 decades below, as if 3.4 K warmer), …", coldest first. */
export function deviationsInWords(off: ShiftDeviation[]): string {
  return off
    .toSorted((a, b) => a.temperature_C - b.temperature_C)
    .map(({ temperature_C, off_decades, warmer_K }) => {
      const where = off_decades < 0 ? "below" : "above";
      const how = warmer_K > 0 ? "warmer" : "colder";
      return `${temperatureText(temperature_C, 1)} (${fixed(Math.abs(off_decades), 2)} decades ${where}, as if ${fixed(Math.abs(warmer_K), 1)} K ${how})`;
    })
    .join(", ");
}
