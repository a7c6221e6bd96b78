import { mapAxes } from "../html/answer/trade-off-section.js";
import { contactWords } from "../html/answer/verdict-matrix.js";
import { statedTemperature } from "../html/numbers.js";
import type { PlotKind } from "../html/plot-figures.js";
import type { PlotRoom, PlotSpec } from "./frame/plot-spec.js";
import type { LiveCompound, PageState } from "./page-state.js";
import { allPredictedPlot, allTanDeltaPlot, type PredictedKind } from "./plots/all-compounds-plot.js";
import { masterCurvePlot } from "./plots/master-curve-plot.js";
import { shiftFactorPlot } from "./plots/shift-factor-plot.js";
import { spectrumPlot } from "./plots/spectrum-plot.js";
import { strainSweepPlot } from "./plots/strain-sweep-plot.js";
import { sweepPlot } from "./plots/sweep-plot.js";
import { tradeOffPlot } from "./plots/trade-off-plot.js";
import { cushioningPlot, gripPlot, reboundPlot } from "./plots/use-curve-plot.js";
import { wicketPlot } from "./plots/wicket-plot.js";
import type { Theme } from "./theme.js";
import type { Moment, Setting } from "./what-if/predictions.js";
import { useOf } from "./what-if/predictions.js";
import type { TemperatureCurves } from "./what-if/temperature-curves.js";
import type { View } from "./what-if/view.js";

const predictedKinds = {
  "all-grip": "grip",
  "all-rebound": "rebound",
  "all-peak-force": "peak force",
} as const satisfies Partial<Record<PlotKind, PredictedKind>>;

const isPredictedOfAll = (kind: PlotKind): kind is keyof typeof predictedKinds => kind in predictedKinds;

const isPinned = ({ pinned }: View) => pinned.length >= 2;

/** The compounds that stand side by side: what is pinned, or all. */
function sideBySideOf(state: PageState, view: View): LiveCompound[] {
  return isPinned(view) ? view.pinned.map((index) => state.compounds[index]) : state.compounds;
}

/** What has to be predicted over temperature before a plot can be drawn; false where it was called off. */
export async function prepareCurves(
  kind: PlotKind,
  compoundIndex: number | null,
  state: PageState,
  view: View,
  curves: TemperatureCurves,
  setting: Setting,
): Promise<boolean> {
  if (["grip", "rebound", "cushioning"].includes(kind))
    return curves.prepare([state.compounds[compoundIndex ?? 0]], setting, true);
  if (!isPredictedOfAll(kind)) return true;
  return curves.prepare(sideBySideOf(state, view), setting, isPinned(view));
}

/** What a figure's `data-plot` and `data-compound` draw. */
export function specOf(
  kind: PlotKind,
  compoundIndex: number | null,
  state: PageState,
  view: View,
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
    const axes = now && mapAxes(now.answer, view.axes);
    if (now === null || axes === null) throw new Error("A map without anything to show has no figure.");
    return tradeOffPlot(state, now, axes, theme, at, room);
  }
  const shown = sideBySideOf(state, view);
  if (kind === "all-tan-delta") return allTanDeltaPlot(state, shown, theme, room);
  if (isPredictedOfAll(kind)) {
    const bandOf = isPinned(view) ? (one: LiveCompound) => curves.band(one, now!.setting) : null;
    return allPredictedPlot(
      state,
      shown,
      theme,
      predictedKinds[kind],
      (one) => curves.line(one, now!.setting),
      bandOf,
      contact,
      room,
    );
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
