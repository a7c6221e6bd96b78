import type { Outlook } from "../../../predict/outlook.js";
import type { PlotTable } from "../frame/plot-spec.js";
import type { PageState } from "../page-state.js";
import { screeningRemark } from "./series.js";

/**
 * The numbers of the trade-off map, compound by compound.
 *
 * @param isComplete false while low and high only repeat the value, and the verdict knows no interval yet
 */
export function tradeOffTable(
  state: PageState,
  outlooks: Outlook[],
  isComplete: boolean,
  setting: string,
): PlotTable {
  const end = (value: number | undefined) => (isComplete ? (value ?? null) : null);
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
    ],
    rows: outlooks.map(({ cold, grip, rebound }, index) => [
      state.compounds[index].name,
      cold?.verdict ?? null,
      cold?.marginToGlassy_K ?? null,
      cold?.marginToLeathery_K ?? null,
      cold?.contactFrequency_Hz ?? null,
      grip?.frictionCoefficient ?? null,
      end(grip?.low),
      end(grip?.high),
      grip?.relativeToReference?.ratio ?? null,
      rebound === null ? null : 100 * rebound.fraction,
      end(rebound === null ? undefined : 100 * rebound.low),
      end(rebound === null ? undefined : 100 * rebound.high),
    ]),
    remarks: [
      setting,
      ...(isComplete ? [] : ["taken before the intervals were there; the verdicts take none into account"]),
      screeningRemark,
    ],
  };
}
