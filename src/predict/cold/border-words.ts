import type { ColdVerdict } from "../outlook.js";
import type { PredictionSettings } from "../prediction-settings.js";

/** Where the words of a verdict part: settings of the study, in K above the peaks at the contact's frequency. */
export type VerdictBorders = Pick<PredictionSettings, "glassyBorder_K" | "leatheryBorder_K">;

/** "the M″ peak", "5 K above the M″ peak", "3 K below the M″ peak". */
function place(border_K: number, peak: string): string {
  if (border_K === 0) return `the ${peak} peak`;
  return `${Math.abs(border_K)} K ${border_K > 0 ? "above" : "below"} the ${peak} peak`;
}

/**
 * The rule of the verdict with its borders as they are set.
 * @example verdictRule({ glassyBorder_K: 0, leatheryBorder_K: 10 }) // "glassy: below the M″ peak; leathery: from there to 10 K above the tan δ peak; rubbery: above"
 */
export function verdictRule({ glassyBorder_K, leatheryBorder_K }: VerdictBorders): string {
  return `glassy: below ${place(glassyBorder_K, "M″")}; leathery: from there to ${place(leatheryBorder_K, "tan δ")}; rubbery: above`;
}

/** What a word of one state means, for those who have never met it. */
export function verdictMeaning(
  verdict: Extract<ColdVerdict, "glassy" | "leathery" | "rubbery">,
  { glassyBorder_K, leatheryBorder_K }: VerdictBorders,
): string {
  switch (verdict) {
    case "glassy":
      return `stiff as a glass at the contact’s frequency: below ${place(glassyBorder_K, "M″")}`;
    case "leathery":
      return `in the transition zone, up to ${place(leatheryBorder_K, "tan δ")}`;
    case "rubbery":
      return "above the transition zone";
  }
}
