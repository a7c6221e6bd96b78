import { modulusLetter } from "../../html/modulus-letter.js";
import { axis, baseLayout, logAxis } from "../frame/base-layout.js";
import { rampColour } from "../frame/colour-ramp.js";
import type { Trace } from "../frame/plot-library.js";
import type { PlotSpec } from "../frame/plot-spec.js";
import type { LiveCompound } from "../page-state.js";
import type { Theme } from "../theme.js";
import { byFrequency, type Series, sourceRemarks, valueAt } from "./series.js";

function frequencyName(frequency_Hz: number): string {
  return `${frequency_Hz} Hz`;
}

/** Storage and loss modulus over temperature, tan δ beneath, with the three readings and their intervals. */
export function sweepPlot(compound: LiveCompound, theme: Theme): PlotSpec {
  const sweeps = compound.measurements.filter((measurement) => measurement.kind === "temperature sweep");
  const all = sweeps.flatMap(byFrequency);
  const frequencies = [...new Set(all.map((series) => series.shared))].sort((a, b) => a - b);
  const colourOf = (f: number) =>
    rampColour(frequencies.length < 2 ? 0.1 : frequencies.indexOf(f) / (frequencies.length - 1), theme.dark);
  const traces: Trace[] = [];
  const named = new Set<number>();
  for (const series of all) {
    const color = colourOf(series.shared);
    const curve = (y: number[], label: string, unit: string, further: Trace) =>
      traces.push({
        type: "scatter",
        mode: series.x.length > 120 ? "lines" : "lines+markers",
        x: series.x,
        y,
        name: frequencyName(series.shared),
        legendgroup: String(series.shared),
        showlegend: false,
        line: { color, width: 1.4, ...(further.line as object) },
        marker: { color, size: 3.4, symbol: further.symbol ?? "circle" },
        hovertemplate: `%{x:.1f} °C<br>${label} %{y:.4~g}${unit}<br>${frequencyName(series.shared)}<extra></extra>`,
        yaxis: further.yaxis ?? "y",
        xaxis: "x",
      });
    const letter = modulusLetter([series.measurement.deformation]);
    curve(series.storage_MPa, `${letter}′`, " MPa", {});
    curve(series.loss_MPa, `${letter}″`, " MPa", { line: { dash: "dash" }, symbol: "diamond" });
    curve(series.tanDelta, "tan δ", "", { yaxis: "y2" });
    if (!named.has(series.shared)) {
      named.add(series.shared);
      traces[traces.length - 1].showlegend = frequencies.length <= 8;
    }
  }
  traces.push(...readingMarks(compound, all, theme));
  return {
    traces,
    height: 470,
    layout: baseLayout(theme, {
      xaxis: axis(theme, "Temperature in °C", { anchor: "y2", domain: [0, 1] }),
      yaxis: logAxis(
        theme,
        `${letterOf(all)}′ and ${letterOf(all)}″ in MPa`,
        all.flatMap((series) => [...series.storage_MPa, ...series.loss_MPa]),
        { domain: [0.43, 1] },
      ),
      yaxis2: axis(theme, "tan δ", { domain: [0, 0.36], rangemode: "tozero" }),
    }),
    table: () => ({
      columns: [
        "Temperature in °C",
        "Frequency in Hz",
        "Storage modulus in MPa",
        "Loss modulus in MPa",
        "tan δ",
        "Mode",
      ],
      rows: all.flatMap((series) =>
        series.x.map((T, i) => [
          T,
          series.frequency_Hz[i],
          series.storage_MPa[i],
          series.loss_MPa[i],
          series.tanDelta[i],
          series.measurement.deformation,
        ]),
      ),
      remarks: sourceRemarks(sweeps),
    }),
  };
}

const letterOf = (all: Series[]) => modulusLetter(all.map(({ measurement }) => measurement.deformation));

/** Onset on M′, loss peak on M″, tan δ peak on tan δ; the bars are the 95 % intervals. */
function readingMarks(compound: LiveCompound, all: Series[], theme: Theme): Trace[] {
  const marks: Trace[] = [];
  const mark = (
    points: { x: number; low: number; high: number; y: number; f: number }[],
    name: string,
    symbol: string,
    yaxis: string,
  ) => {
    if (points.length === 0) return;
    marks.push({
      type: "scatter",
      mode: "markers",
      x: points.map((point) => point.x),
      y: points.map((point) => point.y),
      text: points.map((point) => frequencyName(point.f)),
      name,
      showlegend: false,
      yaxis,
      error_x: {
        type: "data",
        symmetric: false,
        array: points.map((point) => point.high - point.x),
        arrayminus: points.map((point) => point.x - point.low),
        color: theme.ink,
        thickness: 1.4,
        width: 4,
      },
      marker: { symbol, size: 9, color: theme.paper, line: { color: theme.ink, width: 1.5 } },
      hovertemplate: `${name} %{x:.1f} °C<br>%{text}<extra></extra>`,
    });
  };
  const onsets = [];
  const losses = [];
  const tans = [];
  for (const transition of compound.glassTransitions) {
    const f = Number(transition.frequency_Hz.toPrecision(3));
    const series =
      all.find(
        (candidate) =>
          candidate.shared === f &&
          candidate.measurement.file === transition.path &&
          candidate.measurement.direction === transition.direction,
      ) ?? all.find((candidate) => candidate.shared === f);
    if (series === undefined) continue;
    const at = (T: number, y: number[]) => valueAt(series.x, y, T);
    const onset = transition.storageModulusOnset;
    if (onset !== null) {
      const y = at(onset.temperature_C, series.storage_MPa);
      if (y !== null) onsets.push({ x: onset.temperature_C, low: onset.low_C, high: onset.high_C, y, f });
    }
    const loss = transition.lossModulusPeak;
    if (loss !== null && loss.temperature_C !== null) {
      const y = at(loss.temperature_C, series.loss_MPa);
      if (y !== null)
        losses.push({
          x: loss.temperature_C,
          low: loss.low_C ?? loss.temperature_C,
          high: loss.high_C ?? loss.temperature_C,
          y,
          f,
        });
    }
    const tan = transition.tanDeltaPeak;
    if (tan !== null && tan.temperature_C !== null) {
      const y = tan.height ?? at(tan.temperature_C, series.tanDelta);
      if (y !== null)
        tans.push({
          x: tan.temperature_C,
          low: tan.low_C ?? tan.temperature_C,
          high: tan.high_C ?? tan.temperature_C,
          y,
          f,
        });
    }
  }
  mark(onsets, `onset of ${letterOf(all)}′`, "x-thin", "y");
  mark(losses, `${letterOf(all)}″ peak`, "triangle-up", "y");
  mark(tans, "tan δ peak", "triangle-down", "y2");
  return marks;
}
