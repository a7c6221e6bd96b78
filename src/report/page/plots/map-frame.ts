import type { Margins, PlotRoom } from "../frame/plot-spec.js";
import { textWidth } from "../frame/plot-text.js";
import type { Theme } from "../theme.js";

interface Interval {
  low: number;
  high: number;
}

/** Whole steps with room for shapes and names, so that the axes rest while values move a little. */
export function mapRange(points: { grip: Interval; rebound: Interval }[]): {
  left: number;
  right: number;
  top: number;
} {
  if (points.length === 0) return { left: 0, right: 100, top: 1 };
  const low = Math.min(...points.map(({ rebound }) => 100 * rebound.low));
  const high = Math.max(...points.map(({ rebound }) => 100 * rebound.high));
  const top = 1.08 * Math.max(0.05, ...points.map(({ grip }) => grip.high));
  const room = Math.max(2, 0.07 * (high - low));
  const step = high - low > 30 ? 5 : 2;
  const stepUp = top > 1 ? 0.1 : top > 0.2 ? 0.05 : 0.01;
  return {
    left: step * Math.floor((low - room) / step),
    right: step * Math.ceil((high + room) / step),
    top: stepUp * Math.ceil(top / stepUp),
  };
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
