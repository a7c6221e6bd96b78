import { ln } from "../../../numeric/elementary/logarithm.js";
import type { Outlook } from "../../../predict/outlook.js";
import { axis, baseLayout } from "../frame/base-layout.js";
import { compoundLine } from "../frame/colour-ramp.js";
import type { Trace } from "../frame/plot-library.js";
import type { Cell, PlotRoom, PlotSpec } from "../frame/plot-spec.js";
import { plotText, textWidth } from "../frame/plot-text.js";
import type { LiveCompound, PageState } from "../page-state.js";
import type { Theme } from "../theme.js";
import type { TemperatureCurve } from "../what-if/temperature-curves.js";
import { labelSize } from "./label-places.js";
import { byFrequency, screeningRemark, sourceRemarks } from "./series.js";
import { withAlpha } from "./shift-factor-plot.js";

interface CompoundCurve {
  compound: LiveCompound;
  x: number[];
  y: (number | null)[];
  note: string;
  band?: { x: number[]; low: (number | null)[]; high: (number | null)[] };
}

/** Up to so many curves all have their own colour and name; of more, those that stand out or are pinned. */
const mostNamed = 14;
const labelHeight = 13;
const plotHeight = 320;

function plot(
  state: PageState,
  curves: CompoundCurve[],
  theme: Theme,
  quantity: string,
  format: string,
  unit: string,
  remarks: string[],
  room: PlotRoom,
): PlotSpec {
  const chosen = state.highlighted;
  // Those of the legend, also where only some are pinned or were swept.
  const styleOf = ({ compound }: CompoundCurve) => compoundLine(compound.index, theme.dark);
  const many = curves.length > mostNamed;
  const isNamed = ({ compound }: CompoundCurve) => !many || compound.index === chosen;
  const opacity = ({ compound }: CompoundCurve) => (chosen === null || compound.index === chosen ? 1 : 0.22);
  const traces = curves.flatMap((curve): Trace[] => {
    const { compound, x, y, note, band } = curve;
    const { color, dash } = styleOf(curve);
    const stands = compound.index === chosen;
    const line: Trace = {
      type: "scatter",
      mode: "lines",
      x,
      y,
      name: plotText(compound.name, 18),
      customdata: x.map(() => compound.index),
      showlegend: false,
      opacity: opacity(curve),
      line: {
        color: isNamed(curve) ? color : theme.quiet,
        dash: isNamed(curve) ? dash : "solid",
        width: stands ? 3.2 : many ? 1 : 1.8,
      },
      hovertemplate: `${plotText(compound.name, 30)}<br>%{x:.1f} °C<br>${quantity} %{y:${format}}${unit}${note === "" ? "" : `<br>${note}`}<extra></extra>`,
    };
    if (band === undefined) return [line];
    const edge = { type: "scatter", mode: "lines", line: { width: 0 }, hoverinfo: "skip", showlegend: false };
    const fillcolor = withAlpha(color, 0.18 * opacity(curve));
    return [
      { ...edge, x: band.x, y: band.low },
      { ...edge, x: band.x, y: band.high, fill: "tonexty", fillcolor },
      line,
    ];
  });
  const title = `${quantity}${unit === "" ? "" : ` in ${unit.trim()}`}`;
  const height = room.height(plotHeight);
  const named = curves.filter(isNamed);
  const names = named.map(({ compound }) => plotText(compound.name, 16));
  const widest = Math.max(0, ...names.map((name) => textWidth(name, `${labelSize}px ${theme.font}`)));
  const margin = { l: 46, r: Math.min(130, 14 + widest), t: 12 + room.titleRoom, b: 42 };
  const top =
    1.05 *
    Math.max(
      1e-9,
      ...curves.flatMap(({ y, band }) => [...y, ...(band?.high ?? [])].map((value) => value ?? 0)),
    );
  const ends = spread(
    named.map(({ x, y }) => endOf(x, y)),
    top,
    height - margin.t - margin.b,
  );
  return {
    traces,
    height: plotHeight,
    margin,
    layout: baseLayout(theme, {
      xaxis: axis(theme, "Temperature in °C"),
      yaxis: axis(theme, title, { range: [0, top] }),
      // Names stand at the right, where the curves end, in the order in which they end.
      annotations: named.map((curve, k) => ({
        xref: "paper",
        yref: "paper",
        x: 1,
        y: ends[k],
        xanchor: "left",
        yanchor: "middle",
        xshift: 4,
        showarrow: false,
        text: names[k],
        opacity: opacity(curve),
        font: { size: labelSize, color: styleOf(curve).color },
      })),
    }),
    table: () => ({
      columns: ["Compound", "Temperature in °C", title],
      rows: curves.flatMap(({ compound, x, y }) => x.map((T, i): Cell[] => [compound.name, T, y[i]])),
      remarks,
    }),
  };
}

/** The last value of a curve, at its warm end. */
function endOf(x: number[], y: (number | null)[]): number {
  let last = 0;
  let warmest = Number.NEGATIVE_INFINITY;
  for (const [i, value] of y.entries()) {
    if (value !== null && Number.isFinite(value) && x[i] > warmest) {
      warmest = x[i];
      last = value;
    }
  }
  return last;
}

/** Places for names at these values, as shares of the height, moved apart so that none covers another. */
function spread(values: number[], top: number, height: number): number[] {
  const order = values.map((_, k) => k).sort((a, b) => values[a] - values[b]);
  const step = Math.min(labelHeight / height, 1 / Math.max(1, values.length));
  const places = new Array<number>(values.length);
  let free = step / 2;
  for (const k of order) {
    places[k] = Math.max(free, Math.min(1, values[k] / top));
    free = places[k] + step;
  }
  let most = 1 - step / 2;
  for (const k of [...order].reverse()) {
    places[k] = Math.min(places[k], most);
    most = places[k] - step;
  }
  return places;
}

/** tan δ as measured, at each compound's frequency nearest to 1 Hz. */
export function allTanDeltaPlot(
  state: PageState,
  shown: LiveCompound[],
  theme: Theme,
  room: PlotRoom,
): PlotSpec {
  const curves = shown.flatMap((compound): CompoundCurve[] => {
    const series = compound.measurements
      .filter((measurement) => measurement.kind === "temperature sweep")
      .flatMap(byFrequency)
      .sort((a, b) => Math.abs(ln(a.shared)) - Math.abs(ln(b.shared)))[0];
    return series === undefined
      ? []
      : [
          {
            compound,
            x: series.x,
            y: series.tanDelta,
            note: `${series.shared} Hz, ${plotText(series.measurement.file, 40)}`,
          },
        ];
  });
  const files = shown.flatMap((compound) => compound.measurements);
  return plot(state, curves, theme, "tan δ", ".3f", "", sourceRemarks(files), room);
}

export type PredictedKind = "grip" | "rebound" | "peak force";

const kinds: Record<
  PredictedKind,
  { title: string; format: string; unit: string; read(outlook: Outlook): [number, number, number] | null }
> = {
  grip: {
    title: "Grip µ",
    format: ".3f",
    unit: "",
    read: ({ grip }) => grip && [grip.frictionCoefficient, grip.low, grip.high],
  },
  rebound: {
    title: "Rebound",
    format: ".1f",
    unit: " %",
    read: ({ rebound }) => rebound && [100 * rebound.fraction, 100 * rebound.low, 100 * rebound.high],
  },
  "peak force": {
    title: "Peak force",
    format: ".0f",
    unit: " N",
    read: ({ cushioning }) =>
      cushioning && [cushioning.peakForce_N.value, cushioning.peakForce_N.low, cushioning.peakForce_N.high],
  },
};

/** A predicted quantity of several compounds over temperature; with bands where there are any. */
export function allPredictedPlot(
  state: PageState,
  shown: LiveCompound[],
  theme: Theme,
  what: PredictedKind,
  curveOf: (compound: LiveCompound) => TemperatureCurve,
  bandOf: ((compound: LiveCompound) => TemperatureCurve) | null,
  contact: string,
  room: PlotRoom,
): PlotSpec {
  const { title, format, unit, read } = kinds[what];
  const curves = shown
    .filter((compound) => compound.live !== null)
    .map((compound): CompoundCurve => {
      const curve = curveOf(compound);
      const band = bandOf?.(compound);
      const y = curve.outlooks.map((outlook) => read(outlook)?.[0] ?? null);
      return {
        compound,
        x: curve.temperature_C,
        y,
        note: "",
        ...(band && {
          band: {
            x: band.temperature_C,
            low: band.outlooks.map((outlook) => read(outlook)?.[1] ?? null),
            high: band.outlooks.map((outlook) => read(outlook)?.[2] ?? null),
          },
        }),
      };
    })
    .filter((curve) => curve.y.some((value) => value !== null));
  return plot(state, curves, theme, title, format, unit, [contact, screeningRemark], room);
}
