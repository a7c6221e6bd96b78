import { contactWords } from "../html/answer/verdict-matrix.js";
import { statedTemperature } from "../html/numbers.js";
import type { PlotKind } from "../html/plot-figures.js";
import type { PlotRoom, PlotSpec } from "./frame/plot-spec.js";
import type { PageState } from "./page-state.js";
import { allPredictedPlot, allTanDeltaPlot } from "./plots/all-compounds-plot.js";
import { masterCurvePlot } from "./plots/master-curve-plot.js";
import { shiftFactorPlot } from "./plots/shift-factor-plot.js";
import { spectrumPlot } from "./plots/spectrum-plot.js";
import { strainSweepPlot } from "./plots/strain-sweep-plot.js";
import { sweepPlot } from "./plots/sweep-plot.js";
import { tradeOffPlot } from "./plots/trade-off-plot.js";
import { cushioningPlot, gripPlot, reboundPlot } from "./plots/use-curve-plot.js";
import { wicketPlot } from "./plots/wicket-plot.js";
import type { Theme } from "./theme.js";
import type { Moment } from "./what-if/predictions.js";
import { useOf } from "./what-if/predictions.js";
import type { TemperatureCurves } from "./what-if/temperature-curves.js";

/** What a figure's `data-plot` and `data-compound` draw. */
export function specOf(
  kind: PlotKind,
  compoundIndex: number | null,
  state: PageState,
  curves: TemperatureCurves,
  moment: () => Moment | null,
  theme: Theme,
  room: PlotRoom,
): PlotSpec {
  const now = moment();
  const contact = now === null ? "" : contactWords(useOf(now.setting));
  const uses_C = state.data.uses.map((use) => use.temperature_C);
  if (kind === "trade-off") {
    const at = now === null ? "" : `at ${statedTemperature(now.setting.temperature_C)}, ${contact}`;
    return tradeOffPlot(state, now ?? { outlooks: [], isComplete: true, before: [] }, theme, at, room);
  }
  if (kind === "all-tan-delta") return allTanDeltaPlot(state, theme);
  if (kind === "all-grip" || kind === "all-rebound") {
    const what = kind === "all-grip" ? "grip" : "rebound";
    return allPredictedPlot(state, theme, what, (compound) => curves.line(compound, now!.setting), contact);
  }
  const compound = state.compounds[compoundIndex ?? 0];
  const predicted = now !== null && compound.live !== null;
  switch (kind) {
    case "sweep":
      return sweepPlot(compound, theme);
    case "strain-sweep":
      return strainSweepPlot(compound, theme);
    case "master-curve":
      return masterCurvePlot(compound, theme);
    case "shift-factors":
      return shiftFactorPlot(compound, theme);
    case "wicket":
      return wicketPlot(compound, theme);
    case "spectrum":
      return spectrumPlot(compound, theme);
    case "grip":
      return gripPlot(
        compound,
        theme,
        curves.line(compound, now!.setting),
        curves.band(compound, now!.setting),
        contact,
        uses_C,
      );
    case "cushioning":
      return cushioningPlot(
        compound,
        theme,
        curves.line(compound, now!.setting),
        curves.band(compound, now!.setting),
        contact,
        uses_C,
      );
    case "rebound":
      return reboundPlot(
        compound,
        theme,
        predicted ? curves.line(compound, now.setting) : null,
        predicted ? curves.band(compound, now.setting) : null,
        contact,
        uses_C,
      );
  }
}
