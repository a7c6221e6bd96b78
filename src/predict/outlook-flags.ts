import type { Notice } from "../io/problem.js";
import type { PredictedOutlook } from "./predict-outlook.js";

/**
 * Codes of the notices that cast doubt on what they stand beside: cautions and errors, each once, in their
 * order. What a screening prediction is in general (codes that end in "-screening") sets no number apart.
 */
export function doubtCodes(notices: Notice[]): string[] {
  const codes = notices
    .filter(({ severity, code }) => severity !== "info" && !code.endsWith("-screening"))
    .map(({ code }) => code);
  return [...new Set(codes)];
}

/** What can leave a use without a verdict, the most telling first. */
const reasons = [
  "predict.transition-outside-range",
  "predict.no-model",
  "predict.use-without-contact",
  "predict.texture-unusable",
  "predict.contact-outside-range",
];

/** Puts into the outlook which of its notices cast doubt on it, and why it has no verdict where it has none. */
export function withFlags(predicted: PredictedOutlook): PredictedOutlook {
  const { outlook, notices } = predicted;
  const flagged = { ...outlook, flags: doubtCodes(notices) };
  if (outlook.cold !== null) return { ...predicted, outlook: flagged };
  const reason = reasons.flatMap((code) => notices.find((notice) => notice.code === code) ?? [])[0];
  return {
    ...predicted,
    outlook: reason === undefined ? flagged : { ...flagged, verdictMissing: reason.message },
  };
}
