import { exp10 } from "../elementary/exponential.js";
import type { Notice } from "../io/problem.js";
import type { RowSource } from "./ramp-steps.js";
import type { OutlyingModulus } from "./rough-points.js";

/** So many points are named one by one. */
const mostNamed = 20;

/** The points that were left out of a superposition, each with its place and how far off it is. */
export function pointsLeftOutNotice(moduli: OutlyingModulus[]): Notice | null {
  if (moduli.length === 0) return null;
  const points = new Map<RowSource, OutlyingModulus[]>();
  for (const one of moduli) points.set(one.source, [...(points.get(one.source) ?? []), one]);
  const named = [...points.values()]
    .toSorted(([a], [b]) => inOrder(a.source, b.source) || a.frequency_Hz - b.frequency_Hz)
    .slice(0, mostNamed)
    .map((ofOne) => {
      const { source, temperature_C, frequency_Hz } = ofOne[0];
      const factors = ofOne
        .map(({ quantity, off_decades }) => `${quantity} ${exp10(off_decades).toPrecision(2)} times`)
        .join(" and ");
      return `${placeOf(source)}, ${temperature_C.toFixed(1)} °C, ${Number(frequency_Hz.toPrecision(3))} Hz: ${factors} what the points beside it say`;
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
