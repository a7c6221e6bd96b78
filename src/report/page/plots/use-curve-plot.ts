import type { Outlook } from "../../../predict/outlook.js";
import { medianAfterConditioning } from "../../../predict/rebound/rebound-readings.js";
import { axis, baseLayout } from "../frame/base-layout.js";
import type { Trace } from "../frame/plot-library.js";
import type { PlotSpec } from "../frame/plot-spec.js";
import { plotText } from "../frame/plot-text.js";
import type { LiveCompound } from "../page-state.js";
import type { Theme } from "../theme.js";
import type { TemperatureCurve } from "../what-if/temperature-curves.js";
import { screeningRemark, sourceRemarks } from "./series.js";
import { withAlpha } from "./shift-factor-plot.js";

type Value = (outlook: Outlook) => number | null;

function line(curve: TemperatureCurve, value: Value, further: Trace): Trace {
  return {
    type: "scatter",
    mode: "lines",
    x: curve.temperature_C,
    y: curve.outlooks.map(value),
    connectgaps: false,
    ...further,
  };
}

function bandTraces(band: TemperatureCurve, low: Value, high: Value, theme: Theme): Trace[] {
  const known = band.outlooks
    .map((outlook, i) => ({ T: band.temperature_C[i], low: low(outlook), high: high(outlook) }))
    .filter((point) => point.low !== null);
  return [
    {
      type: "scatter",
      mode: "lines",
      x: known.map((p) => p.T),
      y: known.map((p) => p.low),
      line: { width: 0, shape: "spline" },
      hoverinfo: "skip",
      showlegend: false,
    },
    {
      type: "scatter",
      mode: "lines",
      x: known.map((p) => p.T),
      y: known.map((p) => p.high),
      line: { width: 0, shape: "spline" },
      fill: "tonexty",
      fillcolor: withAlpha(theme.accent, 0.18),
      hoverinfo: "skip",
      name: "95 % band",
    },
  ];
}

function useLines(temperatures_C: number[], theme: Theme): Trace[] {
  return [...new Set(temperatures_C)].map((T) => ({
    type: "line",
    x0: T,
    x1: T,
    yref: "paper",
    y0: 0,
    y1: 0.03,
    line: { color: theme.ink, width: 1.5 },
  }));
}

/** One quantity from zero up over temperature, with the temperatures of the uses marked. */
function overTemperature(theme: Theme, title: string, uses_C: number[]): Trace {
  return baseLayout(theme, {
    xaxis: axis(theme, "Temperature in °C"),
    yaxis: axis(theme, title, { rangemode: "tozero" }),
    shapes: useLines(uses_C, theme),
  });
}

/** Predicted grip over temperature with its band, and with the cut-off halved and doubled. */
export function gripPlot(
  compound: LiveCompound,
  theme: Theme,
  curve: TemperatureCurve,
  band: TemperatureCurve,
  contact: string,
  uses_C: number[],
): PlotSpec {
  const dotted = { color: theme.quiet, width: 1.1, dash: "dot", shape: "spline" };
  return {
    height: 320,
    traces: [
      ...bandTraces(
        band,
        (o) => o.grip?.low ?? null,
        (o) => o.grip?.high ?? null,
        theme,
      ),
      line(curve, (o) => o.grip?.cutOffSensitivity.halved ?? null, {
        name: "q₁ halved, doubled",
        line: dotted,
        hovertemplate: "%{x:.0f} °C<br>µ %{y:.3f}<extra>q₁ halved</extra>",
      }),
      line(curve, (o) => o.grip?.cutOffSensitivity.doubled ?? null, {
        showlegend: false,
        line: dotted,
        hovertemplate: "%{x:.0f} °C<br>µ %{y:.3f}<extra>q₁ doubled</extra>",
      }),
      line(curve, (o) => o.grip?.frictionCoefficient ?? null, {
        name: "grip µ",
        line: { color: theme.accent, width: 2, shape: "spline" },
        hovertemplate: "%{x:.0f} °C<br>µ %{y:.3f}<extra></extra>",
      }),
    ],
    layout: overTemperature(theme, "Grip µ (hysteresis)", uses_C),
    table: () => ({
      columns: ["Temperature in °C", "Grip µ", "q1 halved", "q1 doubled", "Contact area ratio"],
      rows: curve.temperature_C.map((T, i) => {
        const grip = curve.outlooks[i].grip;
        return [
          T,
          grip?.frictionCoefficient ?? null,
          grip?.cutOffSensitivity.halved ?? null,
          grip?.cutOffSensitivity.doubled ?? null,
          grip?.contactAreaRatio ?? null,
        ];
      }),
      remarks: [contact, screeningRemark, ...sourceRemarks(compound.measurements)],
    }),
  };
}

/** Predicted peak force of the impact over temperature with its band. */
export function cushioningPlot(
  compound: LiveCompound,
  theme: Theme,
  curve: TemperatureCurve,
  band: TemperatureCurve,
  contact: string,
  uses_C: number[],
): PlotSpec {
  return {
    height: 320,
    traces: [
      ...bandTraces(
        band,
        (o) => o.cushioning?.peakForce_N.low ?? null,
        (o) => o.cushioning?.peakForce_N.high ?? null,
        theme,
      ),
      line(curve, (o) => o.cushioning?.peakForce_N.value ?? null, {
        name: "peak force",
        line: { color: theme.accent, width: 2, shape: "spline" },
        hovertemplate: "%{x:.0f} °C<br>%{y:.0f} N<extra></extra>",
      }),
    ],
    layout: overTemperature(theme, "Peak force in N", uses_C),
    table: () => ({
      columns: ["Temperature in °C", "Peak force in N", "Peak deceleration in g", "Indentation in mm"],
      rows: curve.temperature_C.map((T, i) => {
        const { cushioning } = curve.outlooks[i];
        return [
          T,
          cushioning?.peakForce_N.value ?? null,
          cushioning?.peakDeceleration_g.value ?? null,
          cushioning ? 1000 * cushioning.indentation_m.value : null,
        ];
      }),
      remarks: [contact, screeningRemark, ...sourceRemarks(compound.measurements)],
    }),
  };
}

/** Predicted and measured rebound over temperature. */
export function reboundPlot(
  compound: LiveCompound,
  theme: Theme,
  curve: TemperatureCurve | null,
  band: TemperatureCurve | null,
  contact: string,
  uses_C: number[],
): PlotSpec {
  const percent = (value: number | undefined) => (value === undefined ? null : 100 * value);
  const measured = compound.rebounds.flatMap((rebound) =>
    rebound.readings.flatMap(({ temperature_C, fractions }) => {
      const reduced = medianAfterConditioning(fractions);
      return reduced === null || temperature_C === null
        ? []
        : [
            {
              T: temperature_C,
              percent: 100 * reduced.fraction,
              method: rebound.method ?? "method not stated",
            },
          ];
    }),
  );
  const traces: Trace[] = [];
  if (band !== null)
    traces.push(
      ...bandTraces(
        band,
        (o) => percent(o.rebound?.low),
        (o) => percent(o.rebound?.high),
        theme,
      ),
    );
  if (curve !== null) {
    traces.push(
      line(curve, (o) => percent(o.rebound?.textbookFraction), {
        name: "textbook",
        line: { color: theme.quiet, width: 1.1, dash: "dot", shape: "spline" },
        hovertemplate: "%{x:.0f} °C<br>%{y:.1f} %<extra>textbook</extra>",
      }),
      line(curve, (o) => percent(o.rebound?.fraction), {
        name: "predicted",
        line: { color: theme.accent, width: 2, shape: "spline" },
        hovertemplate: "%{x:.0f} °C<br>%{y:.1f} %<extra>predicted</extra>",
      }),
    );
  }
  if (measured.length > 0) {
    traces.push({
      type: "scatter",
      mode: "markers",
      x: measured.map((point) => point.T),
      y: measured.map((point) => point.percent),
      text: measured.map((point) => plotText(point.method, 40)),
      name: "measured",
      marker: { size: 8, symbol: "circle", color: theme.paper, line: { color: theme.second, width: 2 } },
      hovertemplate: "%{x:.1f} °C<br>%{y:.1f} %<br>%{text}<extra>measured</extra>",
    });
  }
  return {
    traces,
    height: 320,
    layout: overTemperature(theme, "Rebound in %", curve === null ? [] : uses_C),
    table: () => ({
      columns: ["Temperature in °C", "Rebound in %", "Textbook in %", "Contact time in ms", "Kind"],
      rows: [
        ...measured.map((point) => [point.T, point.percent, null, null, `measured, ${point.method}`]),
        ...(curve?.temperature_C ?? []).map((T, i) => {
          const rebound = curve?.outlooks[i].rebound;
          return [
            T,
            percent(rebound?.fraction),
            percent(rebound?.textbookFraction),
            rebound ? 1000 * rebound.contactTime_s : null,
            "predicted",
          ];
        }),
      ],
      remarks: [contact, screeningRemark, ...sourceRemarks([...compound.rebounds, ...compound.measurements])],
    }),
  };
}
