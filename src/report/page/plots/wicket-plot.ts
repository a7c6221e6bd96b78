import { hypotenuse } from "../../../numeric/elementary/power.js";
import { modulusLetter } from "../../html/modulus-letter.js";
import { baseLayout, logAxis } from "../frame/base-layout.js";
import { rampScale } from "../frame/colour-ramp.js";
import type { PlotSpec } from "../frame/plot-spec.js";
import type { LiveCompound } from "../page-state.js";
import type { Theme } from "../theme.js";
import { extent } from "./master-curve-plot.js";
import { sourceRemarks } from "./series.js";

/** tan δ against |M*|, both logarithmic, unshifted, coloured by temperature (ISO 18437-6). */
export function wicketPlot(compound: LiveCompound, theme: Theme): PlotSpec {
  const used = compound.measurements.filter((measurement) => measurement.kind !== "strain sweep");
  const points = used
    .flatMap((measurement) =>
      measurement.temperature_C.map((T, i) => ({
        T,
        f: measurement.frequency_Hz[i],
        magnitude_MPa: hypotenuse(measurement.storageModulus_Pa[i], measurement.lossModulus_Pa[i]) / 1e6,
        tanDelta: measurement.lossModulus_Pa[i] / measurement.storageModulus_Pa[i],
      })),
    )
    .filter((point) => point.tanDelta > 0 && point.magnitude_MPa > 0 && Number.isFinite(point.T));
  const magnitude = `|${modulusLetter(used.map(({ deformation }) => deformation))}*|`;
  const temperatures = points.map((point) => point.T);
  const [coldest, warmest] = extent(temperatures);
  return {
    traces: [
      {
        type: "scatter",
        mode: "markers",
        x: points.map((point) => point.magnitude_MPa),
        y: points.map((point) => point.tanDelta),
        text: points.map((point) => `${point.T.toFixed(1)} °C, ${Number(point.f.toPrecision(3))} Hz`),
        showlegend: false,
        marker: {
          size: 4,
          color: temperatures,
          cmin: coldest,
          cmax: warmest,
          colorscale: rampScale(theme.dark),
          showscale: true,
          colorbar: {
            title: { text: "°C", side: "top", font: { size: 11, color: theme.quiet } },
            thickness: 8,
            outlinewidth: 0,
            tickfont: { size: 11, color: theme.quiet },
            x: 1.01,
          },
        },
        hovertemplate: `${magnitude} %{x:.4~g} MPa<br>tan δ %{y:.3~g}<br>%{text}<extra></extra>`,
      },
    ],
    height: 320,
    layout: baseLayout(theme, {
      xaxis: logAxis(
        theme,
        `${magnitude} in MPa`,
        points.map((point) => point.magnitude_MPa),
      ),
      yaxis: logAxis(
        theme,
        "tan δ",
        points.map((point) => point.tanDelta),
      ),
    }),
    table: () => ({
      columns: ["Temperature in °C", "Frequency in Hz", `${magnitude} in MPa`, "tan δ"],
      rows: points.map((point) => [point.T, point.f, point.magnitude_MPa, point.tanDelta]),
      remarks: sourceRemarks(used),
    }),
  };
}
