import type { PredictedQuantity, Requirement } from "../predict/decision/requirement.js";
import type { OutlookDraws } from "../predict/outlook-of.js";

/** Which draws a predicted quantity is judged by; the others are judged by an interval that the outlook holds. */
const judgedBy: Partial<Record<PredictedQuantity, keyof OutlookDraws>> = {
  grip: "grip",
  "grip relative to reference": "grip",
  rebound: "rebound",
  "peak force": "peakForce_N",
  "peak deceleration": "peakForce_N",
  indentation: "indentation_m",
  "absorbed energy": "rebound",
};

/** The draws that requirements are judged by in a use, each kind once. */
export function drawnKinds(
  requirements: Pick<Requirement, "quantity" | "use">[],
  use: string,
): (keyof OutlookDraws)[] {
  const kinds = requirements.flatMap((one) =>
    one.use === use ? (judgedBy[one.quantity as PredictedQuantity] ?? []) : [],
  );
  return [...new Set(kinds)];
}
