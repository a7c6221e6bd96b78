import { ln } from "../../../numeric/elementary/logarithm.js";
import { axis, baseLayout } from "../frame/base-layout.js";
import { compoundLine } from "../frame/colour-ramp.js";
import type { Trace } from "../frame/plot-library.js";
import type { Cell, PlotSpec } from "../frame/plot-spec.js";
import { plotText } from "../frame/plot-text.js";
import type { LiveCompound, PageState } from "../page-state.js";
import type { Theme } from "../theme.js";
import type { TemperatureCurve } from "../what-if/temperature-curves.js";
import { byFrequency, screeningRemark, sourceRemarks } from "./series.js";

interface CompoundCurve {
  compound: LiveCompound;
  x: number[];
  y: (number | null)[];
  note: string;
}

function plot(
  state: PageState,
  curves: CompoundCurve[],
  theme: Theme,
  quantity: string,
  format: string,
  unit: string,
  remarks: string[],
): PlotSpec {
  const chosen = state.highlighted;
  const many = curves.length > 14;
  const traces: Trace[] = curves.map(({ compound, x, y, note }) => {
    const { color, dash } = compoundLine(compound.index, theme.dark);
    const stands = compound.index === chosen;
    return {
      type: "scatter",
      mode: "lines",
      x,
      y,
      name: plotText(compound.name, 18),
      customdata: x.map(() => compound.index),
      showlegend: false,
      opacity: chosen === null || stands ? 1 : 0.22,
      line: {
        color: many && !stands ? theme.quiet : color,
        dash: many && !stands ? "solid" : dash,
        width: stands ? 3.2 : many ? 1 : 1.8,
      },
      hovertemplate: `${plotText(compound.name, 30)}<br>%{x:.1f} °C<br>${quantity} %{y:${format}}${unit}${note === "" ? "" : `<br>${note}`}<extra></extra>`,
    };
  });
  const title = `${quantity}${unit === "" ? "" : " in %"}`;
  return {
    traces,
    height: 320,
    layout: baseLayout(theme, {
      xaxis: axis(theme, "Temperature in °C"),
      yaxis: axis(theme, title, { rangemode: "tozero" }),
    }),
    table: () => ({
      columns: ["Compound", "Temperature in °C", title],
      rows: curves.flatMap(({ compound, x, y }) => x.map((T, i): Cell[] => [compound.name, T, y[i]])),
      remarks,
    }),
  };
}

/** tan δ as measured, at each compound's frequency nearest to 1 Hz. */
export function allTanDeltaPlot(state: PageState, theme: Theme): PlotSpec {
  const curves = state.compounds.flatMap((compound): CompoundCurve[] => {
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
  const files = state.compounds.flatMap((compound) => compound.measurements);
  return plot(state, curves, theme, "tan δ", ".3f", "", sourceRemarks(files));
}

/** Predicted grip or rebound of all compounds over temperature. */
export function allPredictedPlot(
  state: PageState,
  theme: Theme,
  what: "grip" | "rebound",
  curveOf: (compound: LiveCompound) => TemperatureCurve,
  contact: string,
): PlotSpec {
  const curves = state.compounds
    .filter((compound) => compound.live !== null)
    .map((compound): CompoundCurve => {
      const curve = curveOf(compound);
      const y = curve.outlooks.map((outlook) =>
        what === "grip"
          ? (outlook.grip?.frictionCoefficient ?? null)
          : outlook.rebound === null
            ? null
            : 100 * outlook.rebound.fraction,
      );
      return { compound, x: curve.temperature_C, y, note: "" };
    })
    .filter((curve) => curve.y.some((value) => value !== null));
  const remarks = [contact, screeningRemark];
  return what === "grip"
    ? plot(state, curves, theme, "Grip µ", ".3f", "", remarks)
    : plot(state, curves, theme, "Rebound", ".1f", " %", remarks);
}
