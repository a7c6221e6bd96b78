import { log10ShiftFactor, type ShiftLaw } from "../../../fit/spectrum/shift-law.js";
import { axis, baseLayout } from "../frame/base-layout.js";
import type { Trace } from "../frame/plot-library.js";
import type { PlotSpec } from "../frame/plot-spec.js";
import type { LiveCompound } from "../page-state.js";
import type { Theme } from "../theme.js";
import { extent } from "./master-curve-plot.js";
import { plainNumber, sourceRemarks } from "./series.js";

/** log10 aT at one temperature, moved to the reference temperature of the plot. */
function atReference(law: ShiftLaw, reference_C: number, temperature_C: number): number {
  return log10ShiftFactor(law, temperature_C) - log10ShiftFactor(law, reference_C);
}

/** Shift factors over temperature with the law and its 95 % band. */
export function shiftFactorPlot(compound: LiveCompound, theme: Theme): PlotSpec {
  const superposition = compound.superposition;
  const model = compound.live;
  const shifts = superposition?.shifts ?? [];
  const reference_C = superposition?.referenceTemperature_C ?? 0;
  const measured = shifts.map((shift) => shift.temperature_C);
  const [low, high] =
    measured.length > 1
      ? extent(measured)
      : [model?.lowestTemperature_C ?? reference_C - 20, model?.highestTemperature_C ?? reference_C + 60];
  const grid = Array.from({ length: 81 }, (_, i) => low + ((high - low) * i) / 80);
  const traces: Trace[] = [];
  const laws = compound.liveDraws().map((draw) => draw.law);
  if (laws.length >= 10) {
    const band = grid.map((T) => {
      const values = laws.map((law) => atReference(law, reference_C, T)).sort((a, b) => a - b);
      return [
        values[Math.floor(0.025 * (values.length - 1))],
        values[Math.ceil(0.975 * (values.length - 1))],
      ];
    });
    traces.push(
      {
        type: "scatter",
        mode: "lines",
        x: grid,
        y: band.map((b) => b[0]),
        line: { width: 0 },
        hoverinfo: "skip",
        showlegend: false,
      },
      {
        type: "scatter",
        mode: "lines",
        x: grid,
        y: band.map((b) => b[1]),
        line: { width: 0 },
        fill: "tonexty",
        fillcolor: withAlpha(theme.accent, 0.18),
        hoverinfo: "skip",
        name: "95 % band of the law",
      },
    );
  }
  if (model !== null) {
    traces.push({
      type: "scatter",
      mode: "lines",
      x: grid,
      y: grid.map((T) => atReference(model.law, reference_C, T)),
      name: `${model.law.kind === "wlf" ? "Williams–Landel–Ferry" : "Arrhenius"}, ${superposition?.source ?? ""}`,
      line: { color: theme.accent, width: 1.8 },
      hovertemplate: "%{x:.1f} °C<br>log₁₀ a<sub>T</sub> %{y:.2f}<extra></extra>",
    });
  }
  if (shifts.length > 0) {
    traces.push({
      type: "scatter",
      mode: "markers",
      x: measured,
      y: shifts.map((shift) => shift.log10aT),
      name: "isotherms",
      error_y: {
        type: "data",
        symmetric: false,
        array: shifts.map((shift) => (shift.log10aTHigh ?? shift.log10aT) - shift.log10aT),
        arrayminus: shifts.map((shift) => shift.log10aT - (shift.log10aTLow ?? shift.log10aT)),
        color: theme.ink,
        thickness: 1,
        width: 2,
      },
      marker: { size: 5, color: theme.paper, line: { color: theme.ink, width: 1.2 } },
      hovertemplate: "%{x:.1f} °C<br>log₁₀ a<sub>T</sub> %{y:.2f}<extra>isotherm</extra>",
    });
  }
  return {
    traces,
    height: 320,
    layout: baseLayout(theme, {
      xaxis: axis(theme, "Temperature in °C"),
      yaxis: axis(theme, `log₁₀ a<sub>T</sub> to ${reference_C.toFixed(0).replace("-", "−")} °C`),
    }),
    table: () => ({
      columns: ["Temperature in °C", "log10 aT", "low", "high", "log10 bT"],
      rows: shifts.map((shift) => [
        shift.temperature_C,
        shift.log10aT,
        shift.log10aTLow,
        shift.log10aTHigh,
        shift.log10bT,
      ]),
      remarks: [
        `reference temperature ${plainNumber(reference_C)} °C, ${superposition?.source ?? ""} ${superposition?.law ?? ""}`,
        ...sourceRemarks(compound.measurements),
      ],
    }),
  };
}

/** A colour from the style sheet with transparency; hexadecimal colours only. */
export function withAlpha(color: string, alpha: number): string {
  const match = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(color);
  if (match === null) return color;
  return `rgba(${match
    .slice(1)
    .map((part) => Number.parseInt(part, 16))
    .join(",")},${alpha})`;
}
