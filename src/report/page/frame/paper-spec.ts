import type { Layout, Trace } from "./plot-library.js";
import type { PlotSpec } from "./plot-spec.js";

/** So many marks of one kind tell all that half a page's width can show. */
const mostMarks = 200;
const markShare = 0.6;
const sizes = { tick: 8, title: 8.5, legend: 8 };

type Named = Record<string, unknown>;

/** A plot for paper: small type, small marks, no more of them than can be told apart, a legend of one line. */
export function paperSpec(spec: PlotSpec): PlotSpec {
  const { layout } = spec;
  const axes = Object.entries(layout)
    .filter(([key]) => /^[xy]axis\d*$/.test(key))
    .map(([key, value]) => [key, paperAxis(key, value as Named)]);
  const legend = layout.legend as Named | undefined;
  return {
    ...spec,
    traces: spec.traces.map(paperTrace),
    layout: {
      ...layout,
      font: { ...(layout.font as Named), size: sizes.legend },
      legend: { ...legend, font: { ...(legend?.font as Named), size: sizes.legend }, itemwidth: 30 },
      margin: { l: 36, r: 6, t: 16, b: 34 },
      ...Object.fromEntries(axes),
    },
  };
}

function paperAxis(key: string, axis: Named): Layout {
  const title = axis.title as Named | undefined;
  const decades = axis.type === "log" && typeof axis.dtick === "number" ? axis.dtick : null;
  return {
    ...axis,
    tickangle: 0,
    // Beneath a low plot the library would lay the title over the ticks rather than grow the margin.
    ...(key.startsWith("x") ? { automargin: false } : {}),
    ticklen: 3,
    tickfont: { ...(axis.tickfont as Named), size: sizes.tick },
    title: { ...title, standoff: 3, font: { ...(title?.font as Named), size: sizes.title } },
    ...(decades !== null && key.startsWith("x") ? { dtick: Math.ceil(1.4 * decades) } : {}),
    ...(key.startsWith("y") && decades === null ? { nticks: 5 } : {}),
  };
}

function paperTrace(trace: Trace): Trace {
  const marker = trace.marker as Named | undefined;
  const line = trace.line as Named | undefined;
  const size = typeof marker?.size === "number" ? { size: markShare * marker.size } : {};
  const edge = marker?.line as Named | undefined;
  const error = trace.error_x as Named | undefined;
  const bar = marker?.colorbar as Named | undefined;
  const colorbar =
    bar === undefined
      ? {}
      : {
          colorbar: {
            ...bar,
            thickness: 6,
            tickfont: { ...(bar.tickfont as Named), size: sizes.tick },
            title: { ...(bar.title as Named), font: { size: sizes.tick } },
          },
        };
  const isMarks = trace.mode === "markers";
  const small = {
    ...trace,
    ...(marker === undefined
      ? {}
      : {
          marker: {
            ...marker,
            ...size,
            ...colorbar,
            ...(edge === undefined ? {} : { line: { ...edge, width: 0.8 } }),
          },
        }),
    ...(error === undefined ? {} : { error_x: { ...error, thickness: 0.8, width: 2 } }),
    ...(line === undefined ? {} : { line: { ...line, width: 0.8 * ((line.width as number) ?? 1.5) } }),
    // A line through many points needs no marks on them.
    ...(trace.mode === "lines+markers" && lengthOf(trace) > 30 ? { mode: "lines" } : {}),
  };
  return isMarks ? thinned(small) : small;
}

const lengthOf = ({ x }: Trace) => (Array.isArray(x) ? x.length : 0);

/** Every k-th point of a trace, and of all that goes along with its points. */
function thinned(trace: Trace): Trace {
  const count = lengthOf(trace);
  const every = Math.ceil(count / mostMarks);
  if (every < 2) return trace;
  const pick = (value: unknown) =>
    Array.isArray(value) && value.length === count ? value.filter((_, i) => i % every === 0) : value;
  const picked = Object.fromEntries(Object.entries(trace).map(([key, value]) => [key, pick(value)]));
  const marker = trace.marker as Named | undefined;
  return {
    ...picked,
    ...(marker === undefined
      ? {}
      : { marker: Object.fromEntries(Object.entries(marker).map(([key, value]) => [key, pick(value)])) }),
  };
}
