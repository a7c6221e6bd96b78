import { modulusLetter } from "../../html/modulus-letter.js";
import { baseLayout, logAxis } from "../frame/base-layout.js";
import { rampColour } from "../frame/colour-ramp.js";
import type { Trace } from "../frame/plot-library.js";
import type { PlotSpec } from "../frame/plot-spec.js";
import type { LiveCompound } from "../page-state.js";
import type { Theme } from "../theme.js";
import { overStrain, type Series, sourceRemarks } from "./series.js";

/** Storage and loss modulus over strain amplitude. */
export function strainSweepPlot(compound: LiveCompound, theme: Theme): PlotSpec {
  const sweeps = compound.measurements.filter((measurement) => measurement.kind === "strain sweep");
  const all = sweeps.flatMap(overStrain);
  const traces: Trace[] = all.flatMap((series, k) =>
    (["storage", "loss"] as const).map((which) => ({
      type: "scatter",
      mode: "lines+markers",
      x: series.x.map((strain) => 100 * strain),
      y: which === "storage" ? series.storage_MPa : series.loss_MPa,
      name: `${symbolOf(series, which)}, ${series.shared} Hz`,
      line: {
        color: rampColour(k / Math.max(1, all.length), theme.dark),
        width: 1.4,
        dash: which === "loss" ? "dash" : "solid",
      },
      marker: { size: 4, symbol: which === "loss" ? "diamond" : "circle" },
      hovertemplate: `%{x:.3~g} %<br>${symbolOf(series, which)} %{y:.4~g} MPa<extra></extra>`,
    })),
  );
  return {
    traces,
    height: 320,
    layout: baseLayout(theme, {
      xaxis: logAxis(
        theme,
        "Strain amplitude in %",
        all.flatMap((series) => series.x),
      ),
      yaxis: logAxis(
        theme,
        "Modulus in MPa",
        all.flatMap((series) => [...series.storage_MPa, ...series.loss_MPa]),
      ),
    }),
    table: () => ({
      columns: [
        "Strain amplitude in %",
        "Frequency in Hz",
        "Temperature in °C",
        "Storage modulus in MPa",
        "Loss modulus in MPa",
      ],
      rows: all.flatMap((series) =>
        series.x.map((strain, i) => [
          100 * strain,
          series.frequency_Hz[i],
          series.temperature_C[i],
          series.storage_MPa[i],
          series.loss_MPa[i],
        ]),
      ),
      remarks: sourceRemarks(sweeps),
    }),
  };
}

const symbolOf = ({ measurement }: Series, which: "storage" | "loss") =>
  `${modulusLetter([measurement.deformation])}${which === "storage" ? "′" : "″"}`;
