import type { ColdOutlook, ColdVerdict, Outlook } from "../../../predict/outlook.js";
import type { Answer } from "../../html/answer/answer.js";
import { axisTitle, type Quantity } from "../../html/answer/quantities.js";
import type { MapAxes } from "../../html/answer/trade-off-section.js";
import { verdictsWorstFirst } from "../../html/answer/verdict.js";
import { axis, baseLayout } from "../frame/base-layout.js";
import type { Trace } from "../frame/plot-library.js";
import type { PlotRoom, PlotSpec } from "../frame/plot-spec.js";
import { plotText, textWidth } from "../frame/plot-text.js";
import type { PageState } from "../page-state.js";
import type { Theme } from "../theme.js";
import type { Moment } from "../what-if/predictions.js";
import { placeLabels } from "./label-placement.js";
import { labelSize } from "./label-places.js";
import { axisRange, type Extent, mapMargins } from "./map-frame.js";
import { withAlpha } from "./shift-factor-plot.js";
import { tradeOffTable } from "./trade-off-table.js";

/** Full shapes for one state, open ones of the worse state where the intervals straddle a border. */
const symbols: Record<ColdVerdict | "none", string> = {
  glassy: "square",
  "glassy or leathery": "square-open",
  leathery: "diamond",
  "leathery or rubbery": "diamond-open",
  rubbery: "circle",
  none: "x-thin-open",
};

/** The colour of a verdict; of none that of what is not determined. */
function verdictColour(verdict: ColdVerdict | null, theme: Theme): string {
  if (verdict === null) return theme.quiet;
  if (verdict.startsWith("glassy")) return theme.glassy;
  return verdict.startsWith("leathery") ? theme.leathery : theme.rubbery;
}

interface Point {
  index: number;
  x: Extent;
  y: Extent;
  cold: ColdOutlook | null;
}

/** Beyond this many the shapes are smaller and only some of them are named. */
const manyPoints = 24;
const mostNamedOfMany = 12;
const ringSize = 24;

/**
 * Two quantities of all compounds against one another in one use; crosses are intervals.
 *
 * @param moment what is shown; until its intervals are there the axes keep room for those before
 * @param setting the use in words
 */
export function tradeOffPlot(
  state: PageState,
  { answer, isComplete, before }: Pick<Moment, "answer" | "isComplete" | "before">,
  axes: MapAxes,
  theme: Theme,
  setting: string,
  room: PlotRoom,
): PlotSpec {
  const all = pointsOf(answer, answer.outlooks, axes);
  const many = all.length > manyPoints;
  const size = many ? 8 : 12;
  const chosen = state.highlighted;
  const isReference = ({ index }: Point) => state.compounds[index].isReference;
  const named = new Set(many ? namedOfMany(all, chosen, isReference) : all);
  // Names are placed in this order.
  const points = [...named, ...all.filter((point) => !named.has(point))];
  const groups = verdictsWorstFirst
    .map((verdict) => ({
      verdict,
      members: points.filter(({ cold }) => (cold?.verdict ?? null) === verdict),
    }))
    .filter(({ members }) => members.length > 0);
  const entries: string[] = groups.map(({ verdict }) => verdict ?? "verdict not determined");
  if (points.some(isReference)) entries.push("reference compound");

  const height = room.height(440);
  const margin = mapMargins(entries, theme, room);
  const area = { width: room.width - margin.l - margin.r, height: height - margin.t - margin.b };
  const extents = isComplete ? points : [...points, ...pointsOf(answer, before, axes)];
  const range = {
    x: axisRange(
      extents.map(({ x }) => x),
      false,
    ),
    y: axisRange(
      extents.map(({ y }) => y),
      true,
    ),
  };
  const pixel = {
    x: (value: number) => (area.width * (value - range.x[0])) / (range.x[1] - range.x[0]),
    y: (value: number) => area.height * (1 - (value - range.y[0]) / (range.y[1] - range.y[0])),
  };
  const labelOf = ({ index, cold }: Point) =>
    `${plotText(state.compounds[index].name, 20)}${cold?.verdict.startsWith("glassy") ? ` (${cold.verdict})` : ""}`;
  const labels = placeLabels(
    points.map((point) => ({
      x: pixel.x(point.x.value),
      y: pixel.y(point.y.value),
      radius: isReference(point) ? ringSize / 2 : size / 2,
      bars: {
        left: pixel.x(point.x.low),
        right: pixel.x(point.x.high),
        top: pixel.y(point.y.high),
        bottom: pixel.y(point.y.low),
      },
      isOptional: many && !isReference(point) && point.index !== chosen,
      labelWidth: named.has(point)
        ? textWidth(unescaped(labelOf(point)), `${labelSize}px ${theme.font}`)
        : null,
    })),
    area,
  );
  const labelColour = ({ cold }: Point) => (cold?.verdict.startsWith("glassy") ? theme.glassy : theme.ink);
  /** The names beside the shapes of a trace; the plot library sets them. */
  const besides = (members: Point[], has: (point: Point) => boolean) => {
    const texts = members.map((point) => {
      const label = labels[points.indexOf(point)];
      return label?.beside && has(point) ? { text: labelOf(point), position: label.beside } : null;
    });
    return {
      mode: "markers+text",
      // Of an empty text the plot library removes the place, and finds none when a later drawing has one.
      text: texts.map((label) => label?.text ?? " "),
      textposition: texts.map((label) => label?.position ?? "top right"),
      textfont: { size: labelSize, color: members.map(labelColour) },
    };
  };

  const reference = points.filter(isReference);
  const ring: Trace = {
    type: "scatter",
    ...besides(reference, () => true),
    x: reference.map(({ x }) => x.value),
    y: reference.map(({ y }) => y.value),
    name: "reference compound",
    marker: { symbol: "circle-open", size: ringSize, color: theme.ink, line: { width: 1.5 } },
    hoverinfo: "skip",
  };
  const traces = groups.map(({ verdict, members }): Trace => {
    const color = verdictColour(verdict, theme);
    const bar = (extent: (point: Point) => Extent) => ({
      type: "data",
      symmetric: false,
      array: members.map((point) => extent(point).high - extent(point).value),
      arrayminus: members.map((point) => extent(point).value - extent(point).low),
      color: withAlpha(color, 0.55),
      thickness: many ? 0.6 : 1.2,
      width: 0,
    });
    return {
      type: "scatter",
      ...besides(members, (point) => !isReference(point)),
      x: members.map(({ x }) => x.value),
      y: members.map(({ y }) => y.value),
      error_x: bar(({ x }) => x),
      error_y: bar(({ y }) => y),
      hovertext: members.map(({ index, x, y }) => {
        const line = (quantity: Quantity, { value, low, high }: Extent) => {
          const decimals = quantity.isMeasured ? 1 : quantity.decimals;
          const range =
            isComplete && high > low ? `, ${low.toFixed(decimals)} to ${high.toFixed(decimals)}` : "";
          return `${quantity.label} ${value.toFixed(decimals)}${range} ${quantity.unit}`.trim();
        };
        return [
          plotText(state.compounds[index].name, 40),
          verdict ?? "verdict not determined",
          line(axes.y, y),
          line(axes.x, x),
        ].join("<br>");
      }),
      hovertemplate: "%{hovertext}<extra></extra>",
      customdata: members.map(({ index }) => index),
      name: verdict ?? "verdict not determined",
      marker: {
        symbol: symbols[verdict ?? "none"],
        size: members.map(({ index }) => (index === chosen ? 17 : size)),
        color,
        opacity: members.map(({ index }) => (chosen === null || index === chosen ? 1 : 0.35)),
        line: { width: verdict?.includes(" or ") ? 2 : 0, color },
      },
    };
  });
  return {
    traces: reference.length > 0 ? [ring, ...traces] : traces,
    height: 440,
    margin,
    layout: baseLayout(theme, {
      // Measuring each number on the axes takes longer than drawing them.
      xaxis: axis(theme, axisTitle(axes.x), { range: range.x, ticklabeloverflow: "allow" }),
      yaxis: axis(theme, axisTitle(axes.y), { range: range.y, ticklabeloverflow: "allow" }),
      annotations: points.flatMap((point, k) => {
        const label = labels[k];
        if (label === null || label.beside !== null) return [];
        const { box } = label;
        return {
          x: point.x.value,
          y: point.y.value,
          ax: (box.left + box.right) / 2 - pixel.x(point.x.value),
          ay: (box.top + box.bottom) / 2 - pixel.y(point.y.value),
          text: labelOf(point),
          font: { size: labelSize, color: labelColour(point) },
          borderpad: 0,
          xanchor: "center",
          yanchor: "middle",
          arrowhead: 0,
          arrowwidth: 0.8,
          arrowcolor: theme.quiet,
          standoff: (isReference(point) ? ringSize : size) / 2,
        };
      }),
    }),
    table: () => tradeOffTable(state, answer, axes, isComplete, setting),
  };
}

function pointsOf({ compounds }: Answer, outlooks: (Outlook | undefined)[], axes: MapAxes): Point[] {
  return outlooks.flatMap((outlook, index) => {
    const extent = (quantity: Quantity): Extent | null => {
      const reading = quantity.read({ outlook, properties: compounds[index].properties });
      return (
        reading && { ...reading, low: reading.low ?? reading.value, high: reading.high ?? reading.value }
      );
    };
    const [x, y] = [extent(axes.x), extent(axes.y)];
    return x === null || y === null ? [] : [{ index, x, y, cold: outlook?.cold ?? null }];
  });
}

/** The reference, the one that stands out, and the worst of those that are glassy or may be. */
function namedOfMany(
  points: Point[],
  chosen: number | null,
  isReference: (point: Point) => boolean,
): Point[] {
  const flagged = points
    .filter(({ cold }) => cold?.verdict.startsWith("glassy"))
    .sort((a, b) => (a.cold?.marginToGlassy_K ?? 0) - (b.cold?.marginToGlassy_K ?? 0));
  return [
    ...points.filter((point) => isReference(point) || point.index === chosen),
    ...flagged.slice(0, mostNamedOfMany),
  ];
}

/** The text that `plotText` made safe, as it is drawn. */
function unescaped(text: string): string {
  return text.replaceAll("&lt;", "<").replaceAll("&gt;", ">").replaceAll("&amp;", "&");
}
