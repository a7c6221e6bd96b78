import type { Answer } from "../../html/answer/answer.js";
import { axisTitle } from "../../html/answer/quantities.js";
import type { MapAxes } from "../../html/answer/trade-off-section.js";
import type { PlotTable } from "../frame/plot-spec.js";
import type { PageState } from "../page-state.js";
import { screeningRemark } from "./series.js";

/**
 * The numbers of the trade-off map, compound by compound, and beside its axes what the first screen shows.
 *
 * @param isComplete false while low and high only repeat the value, and the verdict knows no interval yet
 */
export function tradeOffTable(
  state: PageState,
  { outlooks, compounds }: Answer,
  axes: MapAxes,
  isComplete: boolean,
  setting: string,
): PlotTable {
  const end = (value: number | null | undefined) => (isComplete ? (value ?? null) : null);
  const measured = [axes.y, axes.x].filter(({ isMeasured }) => isMeasured);
  return {
    columns: [
      "Compound",
      "Verdict",
      "Above glassy in K",
      "Above leathery in K",
      "Contact frequency in Hz",
      "Grip µ",
      "Grip low",
      "Grip high",
      "Grip to reference",
      "Rebound in %",
      "Rebound low in %",
      "Rebound high in %",
      "Peak force in N",
      ...measured.map(axisTitle),
    ],
    rows: compounds.map(({ properties }, index) => {
      const outlook = outlooks[index];
      const { cold, grip, rebound, cushioning } = outlook ?? {};
      return [
        state.compounds[index].name,
        cold?.verdict ?? null,
        cold?.marginToGlassy_K ?? null,
        cold?.marginToLeathery_K ?? null,
        cold?.contactFrequency_Hz ?? null,
        grip?.frictionCoefficient ?? null,
        end(grip?.low),
        end(grip?.high),
        grip?.relativeToReference?.ratio ?? null,
        rebound ? 100 * rebound.fraction : null,
        end(rebound ? 100 * rebound.low : null),
        end(rebound ? 100 * rebound.high : null),
        cushioning?.peakForce_N.value ?? null,
        ...measured.map((quantity) => quantity.read({ outlook, properties })?.value ?? null),
      ];
    }),
    remarks: [
      setting,
      ...(isComplete ? [] : ["taken before the intervals were there; the verdicts take none into account"]),
      screeningRemark,
    ],
  };
}
