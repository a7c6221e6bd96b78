import { exp10 } from "../../../numeric/elementary/exponential.js";
import { log10 } from "../../../numeric/elementary/logarithm.js";
import type { Margins, PlotRoom } from "../frame/plot-spec.js";
import { textWidth } from "../frame/plot-text.js";
import type { Theme } from "../theme.js";

/** A value with the ends of its interval; where none is known they repeat the value. */
export interface Extent {
  value: number;
  low: number;
  high: number;
}

/**
 * Whole steps with room for shapes and names, so that the axis rests while values move a little; from zero where the
 * values reach down near it.
 */
export function axisRange(extents: Extent[], isUpwards: boolean): [number, number] {
  if (extents.length === 0) return [0, 1];
  const low = Math.min(...extents.map((one) => one.low));
  const high = Math.max(...extents.map((one) => one.high));
  const span = Math.max(high - low, 1e-9 * Math.abs(high), 1e-12);
  const fromZero = isUpwards && low >= 0 && low < 0.5 * high;
  const room = (isUpwards ? 0.08 : 0.07) * (fromZero ? high : span);
  const bottom = fromZero ? 0 : low - room;
  const step = niceStep((high + room - bottom) / 12);
  return [step * Math.floor(bottom / step), step * Math.ceil((high + room) / step)];
}

/** The next of 1, 2, 5 times a power of ten. */
function niceStep(atLeast: number): number {
  const power = exp10(Math.floor(log10(atLeast)));
  return power * ([1, 2, 5, 10].find((digit) => digit * power >= atLeast) ?? 10);
}

/** Margins as they will be: above stands the legend, in as many rows as the plot library will need. */
export function mapMargins(entries: string[], theme: Theme, { width, titleRoom }: PlotRoom): Margins {
  const [l, r, b] = [56, width < 460 ? 8 : 14, 44];
  // A little wider than measured: rather an empty row than one that is cut off.
  const widths = entries.map((entry) => 42 + 1.03 * textWidth(entry, `11px ${theme.font}`));
  const gap = 5;
  const room = width - l - r;
  const inOneRow = widths.reduce((sum, each) => sum + each + gap, -gap) < room;
  const widest = Math.max(0, ...widths);
  const columns = inOneRow ? entries.length : Math.max(1, Math.ceil((room + gap) / (widest + gap)) - 1);
  const rows = Math.ceil(entries.length / Math.max(1, columns));
  return { l, r, b, t: titleRoom + 16 + 19 * rows };
}
