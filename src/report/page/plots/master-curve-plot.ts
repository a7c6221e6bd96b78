import { maxwellModulus } from "../../../fit/spectrum/relaxation-model.js";
import { exp } from "../../../numeric/elementary/exponential.js";
import { ln, log10 } from "../../../numeric/elementary/logarithm.js";
import { modulusSymbol } from "../../../words/quantity-text.js";
import { axis, baseLayout, logAxis } from "../frame/base-layout.js";
import { rampScale } from "../frame/colour-ramp.js";
import type { Trace } from "../frame/plot-library.js";
import type { PlotSpec } from "../frame/plot-spec.js";
import type { LiveCompound } from "../page-state.js";
import type { Theme } from "../theme.js";
import { plainNumber, sourceRemarks } from "./series.js";

/** All points at the reference temperature, the fitted spectrum as a line, residuals beneath. */
export function masterCurvePlot(compound: LiveCompound, theme: Theme): PlotSpec {
  const curve = compound.masterCurve;
  const model = compound.live;
  if (curve === null) return { traces: [], layout: {}, height: 0, table: emptyTable };
  const [coldest, warmest] = extent(curve.temperature_C);
  const marker = (symbol: string, showscale: boolean) => ({
    symbol,
    size: 4.5,
    color: curve.temperature_C,
    cmin: coldest,
    cmax: warmest,
    colorscale: rampScale(theme.dark),
    showscale,
    colorbar: {
      title: { text: "°C", side: "top", font: { size: 11, color: theme.quiet } },
      thickness: 8,
      outlinewidth: 0,
      tickfont: { size: 11, color: theme.quiet },
      len: 0.57,
      y: 1,
      yanchor: "top",
      x: 1.01,
    },
  });
  const points = (
    y: number[],
    label: string,
    unit: string,
    symbol: string,
    yaxis: string,
    showscale = false,
  ): Trace => ({
    type: "scatter",
    mode: "markers",
    x: curve.reducedFrequency_Hz,
    y,
    yaxis,
    name: label,
    showlegend: false,
    text: curve.temperature_C.map((T, i) => `${T.toFixed(1)} °C, ${curve.frequency_Hz[i]} Hz`),
    marker: marker(symbol, showscale),
    hovertemplate: `${label} %{y:.4~g}${unit}<br>reduced %{x:.3~g} Hz<br>measured at %{text}<extra></extra>`,
  });
  const M = modulusSymbol(model?.deformation ?? "unstated");
  const MPa = (values: number[]) => values.map((value) => value / 1e6);
  const traces: Trace[] = [
    points(MPa(curve.storageModulus_Pa), `${M}′`, " MPa", "circle", "y", true),
    points(MPa(curve.lossModulus_Pa), `${M}″`, " MPa", "diamond-open", "y"),
    points(curve.storageResidualLog10, `${M}′ residual`, "", "circle", "y2"),
    points(curve.lossResidualLog10, `${M}″ residual`, "", "diamond-open", "y2"),
  ];
  // Two phases, each with a law of its own, have no line in common.
  if (model !== null && model.furtherPhase === undefined) {
    const [low, high] = extent(curve.reducedFrequency_Hz);
    const grid = logGrid(low, high, 160);
    const moduli = grid.map((f) => maxwellModulus(model, 2 * Math.PI * f));
    const line = (y: number[], name: string, dash: string): Trace => ({
      type: "scatter",
      mode: "lines",
      x: grid,
      y,
      name,
      line: { color: theme.ink, width: 1.2, dash },
      hoverinfo: "skip",
      showlegend: true,
    });
    traces.push(
      line(
        moduli.map((m) => m.storageModulus_Pa / 1e6),
        `${M}′ of the spectrum`,
        "solid",
      ),
    );
    traces.push(
      line(
        moduli.map((m) => m.lossModulus_Pa / 1e6),
        `${M}″ of the spectrum`,
        "dash",
      ),
    );
  }
  const measured_MPa = MPa([...curve.storageModulus_Pa, ...curve.lossModulus_Pa]).filter(
    (value) => value > 0,
  );
  const [lowest_MPa, highest_MPa] = extent(measured_MPa);
  return {
    traces,
    height: 470,
    layout: baseLayout(theme, {
      xaxis: logAxis(theme, "Reduced frequency f·a<sub>T</sub> in Hz", curve.reducedFrequency_Hz, {
        anchor: "y2",
      }),
      yaxis: logAxis(theme, `${M}′ and ${M}″ in MPa`, measured_MPa, {
        domain: [0.43, 1],
        // The line runs on where M″ of the glass was not superposed; the points say what is shown.
        range: [log10(lowest_MPa) - 0.15, log10(highest_MPa) + 0.15],
      }),
      yaxis2: axis(theme, "Residual in log₁₀", {
        domain: [0, 0.34],
        zeroline: true,
        zerolinecolor: theme.line,
      }),
    }),
    table: () => ({
      columns: [
        "Temperature in °C",
        "Frequency in Hz",
        "Reduced frequency in Hz",
        "Storage modulus in MPa",
        "Loss modulus in MPa",
        "Storage residual in log10",
        "Loss residual in log10",
      ],
      rows: curve.temperature_C.map((T, i) => [
        T,
        curve.frequency_Hz[i],
        curve.reducedFrequency_Hz[i],
        curve.storageModulus_Pa[i] / 1e6,
        curve.lossModulus_Pa[i] / 1e6,
        curve.storageResidualLog10[i],
        curve.lossResidualLog10[i],
      ]),
      remarks: [
        ...(model === null
          ? []
          : [
              `reduced to ${plainNumber(model.law.referenceTemperature_C)} °C, in ${model.deformation}; residuals are log10 of measured over model`,
            ]),
        ...sourceRemarks(compound.measurements),
      ],
    }),
  };
}

const emptyTable = () => ({ columns: [], rows: [], remarks: [] });

/** Least and greatest of some finite values; not empty. */
export function extent(values: number[]): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value === null || !Number.isFinite(value)) continue;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return [low, high];
}

/** So many values from `low` to `high`, evenly spaced in their logarithm, both ends included. */
function logGrid(low: number, high: number, count: number): number[] {
  const step = ln(high / low) / (count - 1);
  return Array.from({ length: count }, (_, i) => low * exp(i * step));
}
