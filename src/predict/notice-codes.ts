import type { Notice, Severity } from "../io/problem.js";

interface NoticeCode {
  severity: Severity;
  /** What the reader can do about it. */
  whatToDo: string;
}

/** Every notice a prediction can carry: how grave it is and what to do. Codes are stable. */
export const predictionNotices = {
  "grip-screening": {
    severity: "caution",
    whatToDo: "Test friction on the product's surface before anybody relies on it.",
  },
  "rebound-screening": {
    severity: "caution",
    whatToDo: "Test the product's protection against impact by its own standard.",
  },
  "cold-screening": {
    severity: "caution",
    whatToDo: "Test the product in the cold by its own standard; store a sample cold to see crystallisation.",
  },
  "no-model": {
    severity: "caution",
    whatToDo:
      "Run a temperature sweep at 1 or 10 Hz from −100 to +80 °C, or frequency sweeps from 0.1 to 100 Hz every 5 K over that range.",
  },
  "use-without-contact": {
    severity: "caution",
    whatToDo: "Give the use a sliding or an impact contact.",
  },
  "assumed-shift-law": {
    severity: "caution",
    whatToDo: "Measure at several frequencies, so that the shift constants come from the compound itself.",
  },
  "not-thermorheologically-simple": {
    severity: "caution",
    whatToDo:
      "Measure near the use temperature and contact frequency; superposition fails for this compound.",
  },
  "shear-to-tension": {
    severity: "info",
    whatToDo: "Measure in tension or compression where the glassy range matters.",
  },
  "deformation-unstated": {
    severity: "caution",
    whatToDo:
      "State the deformation mode of the measurement; for shear data the modulus is three times higher.",
  },
  "contact-outside-range": {
    severity: "caution",
    whatToDo: "Run the sweep the message names.",
  },
  "contact-partly-outside-range": {
    severity: "caution",
    whatToDo: "Run the sweep the message names, or read the number as extrapolated.",
  },
  "law-outside-range": {
    severity: "caution",
    whatToDo: "Measure at the use temperature, or read the number as extrapolated.",
  },
  "transition-outside-range": {
    severity: "caution",
    whatToDo: "Run the sweep the message names.",
  },
  "contact-frequency-extrapolated": {
    severity: "info",
    whatToDo: "Extend the sweep to the use temperature and contact frequency.",
  },
  "second-phase-warmer": {
    severity: "caution",
    whatToDo: "Look at the sweep: a blend's second phase may still be leathery in the use.",
  },
  "second-phase-colder": {
    severity: "info",
    whatToDo: "Look at the sweep: the colder phase keeps some compliance below the verdict's border.",
  },
  "verdict-straddles": {
    severity: "caution",
    whatToDo: "Repeat the sweep, or add frequencies, to narrow the interval of the transition.",
  },
  "interval-not-determined": {
    severity: "caution",
    whatToDo: "Read the value as one without a known error; repeats or more frequencies give an interval.",
  },
  "texture-unusable": {
    severity: "error",
    whatToDo: "Correct the texture's numbers in the study.",
  },
  "texture-slope-not-reached": {
    severity: "caution",
    whatToDo: "Measure the profile with finer steps, or state the cut-off.",
  },
  "texture-profile-unusable": {
    severity: "error",
    whatToDo: "Correct the profile file: positions and heights in metres, one pair a line.",
  },
  "texture-profile-resampled": {
    severity: "info",
    whatToDo: "Measure with even steps where the finest wave numbers matter.",
  },
  "indentation-deep": {
    severity: "info",
    whatToDo: "Calibrate on measured rebound: the theory of the contact is for shallow indentations.",
  },
  "indentation-past-layer": {
    severity: "caution",
    whatToDo: "Test a thicker specimen, or calibrate on measured rebound.",
  },
  "rebound-readings-skipped": {
    severity: "caution",
    whatToDo: "State temperature and method with each rebound reading.",
  },
  "rebound-methods-differ": {
    severity: "caution",
    whatToDo: "Keep to one method: resilience by different methods does not compare.",
  },
  "rebound-conditioning-unclear": {
    severity: "info",
    whatToDo: "Record every impact in order: conditioning impacts first, then three readings.",
  },
  "rebound-not-calibrated": {
    severity: "info",
    whatToDo: "Measure rebound at three temperatures or more inside the range of the sweep.",
  },
  "calibration-weak": {
    severity: "caution",
    whatToDo: "Measure rebound at temperatures where it changes, on both sides of its minimum.",
  },
  "calibration-single-reading": {
    severity: "caution",
    whatToDo: "Measure rebound at three temperatures or more: one reading leaves no check.",
  },
  "stiffening-outside-range": {
    severity: "caution",
    whatToDo: "Run the sweep the message names.",
  },
  "batches-not-comparable": {
    severity: "caution",
    whatToDo:
      "Measure both batches at the same frequency, in the same mode and direction, over the same range.",
  },
  "batches-identical": {
    severity: "caution",
    whatToDo: "Look for the file that was copied, and put the other run in its place.",
  },
  "batches-unlike-conditions": {
    severity: "caution",
    whatToDo: "Repeat one of the two with the heating rate and strain amplitude of the other.",
  },
  "what-it-takes-outside-range": {
    severity: "info",
    whatToDo: "Extend the sweep as the message says.",
  },
} as const satisfies Record<string, NoticeCode>;

export type PredictionNoticeCode = keyof typeof predictionNotices;

/** A notice of the table above with its message; the table gives its severity. */
export function predictionNotice(code: PredictionNoticeCode, message: string): Notice {
  return { severity: predictionNotices[code].severity, code, message };
}
