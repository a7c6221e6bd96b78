import { measuredModes, superposedEnd_Hz } from "../../superposed-part.js";
import { baseLayout, logAxis } from "../frame/base-layout.js";
import type { PlotSpec } from "../frame/plot-spec.js";
import type { LiveCompound } from "../page-state.js";
import type { Theme } from "../theme.js";
import { plainNumber, sourceRemarks } from "./series.js";
import { withAlpha } from "./shift-factor-plot.js";

/** The modes of the generalised Maxwell model as stems, the measured range shaded. */
export function spectrumPlot(compound: LiveCompound, theme: Theme): PlotSpec {
  const model = compound.live;
  const modes = model
    ? measuredModes(model).map(({ time_s, modulus_Pa }) => ({ time_s, modulus_MPa: modulus_Pa / 1e6 }))
    : [];
  const floor = Math.min(...modes.map((mode) => mode.modulus_MPa)) / 2;
  const inside = model && {
    from: 1 / (2 * Math.PI * superposedEnd_Hz(model)),
    to: 1 / (2 * Math.PI * model.lowestReducedFrequency_Hz),
  };
  const reference = model?.law.referenceTemperature_C ?? 0;
  return {
    traces: [
      {
        type: "scatter",
        mode: "lines",
        x: modes.flatMap((mode) => [mode.time_s, mode.time_s, null]),
        y: modes.flatMap((mode) => [floor, mode.modulus_MPa, null]),
        line: { color: theme.accent, width: 1.4 },
        hoverinfo: "skip",
        showlegend: false,
      },
      {
        type: "scatter",
        mode: "markers",
        x: modes.map((mode) => mode.time_s),
        y: modes.map((mode) => mode.modulus_MPa),
        marker: { size: 6, color: theme.accent },
        showlegend: false,
        hovertemplate: "τ %{x:.3~g} s<br>M %{y:.4~g} MPa<extra></extra>",
      },
    ],
    height: 320,
    layout: baseLayout(theme, {
      xaxis: logAxis(
        theme,
        `Relaxation time τ at ${reference.toFixed(0).replace("-", "−")} °C in s`,
        modes.map((mode) => mode.time_s),
      ),
      yaxis: logAxis(
        theme,
        "Strength in MPa",
        modes.map((mode) => mode.modulus_MPa),
      ),
      shapes: inside
        ? [
            {
              type: "rect",
              xref: "x",
              yref: "paper",
              x0: inside.from,
              x1: inside.to,
              y0: 0,
              y1: 1,
              line: { width: 0 },
              fillcolor: withAlpha(theme.accent, 0.07),
              layer: "below",
            },
          ]
        : [],
    }),
    table: () => ({
      columns: ["Relaxation time in s", "Strength in MPa"],
      rows: modes.map((mode) => [mode.time_s, mode.modulus_MPa]),
      remarks: [
        `generalised Maxwell model at ${plainNumber(reference)} °C in ${model?.deformation ?? ""}, equilibrium modulus ${plainNumber((model?.equilibriumModulus_Pa ?? 0) / 1e6)} MPa`,
        ...sourceRemarks(compound.measurements),
      ],
    }),
  };
}
