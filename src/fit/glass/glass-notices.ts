import type { DynamicMeasurement } from "../../io/measurement.js";
import type { Code } from "../../words/codes/codes.js";
import { coded, noticeIn } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { fixed, frequencyText, temperatureText } from "../../words/quantity-text.js";
import type { GlassTransition, Peak } from "../material.js";
import type { Spike } from "./spikes.js";
import type { Sweep } from "./sweep.js";

/** Above this rate the specimen lags behind the oven (common practice). */
const fastestRate_K_min = 3;
/** Above this step a peak is resolved poorly (common practice). */
const coarsestStep_K = 5;
/** Steps within 10 % of 5 K are steps of 5 K. */
const stepTolerance = 1.1;

export interface SweepSpikes {
  frequency_Hz: number;
  spikes: Spike[];
}

/** What must be known of how one sweep was measured. */
export function sweepNotices(
  measurement: DynamicMeasurement,
  { assessed, tooShort, spikes }: { assessed: Sweep[]; tooShort: Sweep[]; spikes: SweepSpikes[] },
): Notice[] {
  const notice = noticeOf(measurement.provenance.file);
  const notices: Notice[] = [];
  if (tooShort.length > 0) {
    const list = tooShort
      .map((s) => `${frequencyText(s.frequency_Hz)} (${s.temperature_C.length})`)
      .join(", ");
    notices.push(
      notice(
        "fit.too-few-points",
        `too few points for a glass transition at ${list}; at least 7 are needed.`,
      ),
    );
  }
  for (const sweep of spikes) {
    const list = sweep.spikes.map(describeSpike).join("; ");
    notices.push(
      notice(
        "fit.spike-left-out",
        `left out of the glass transition at ${frequencyText(sweep.frequency_Hz)}, far off the curve of their neighbours: ${list}. Look at the specimen and its clamps; repeat the sweep if this comes again.`,
      ),
    );
  }
  const rate = measurement.heatingRate_K_min;
  if (rate !== null && Math.abs(rate) > fastestRate_K_min + 1e-6) {
    notices.push(
      notice(
        "fit.fast-heating",
        `measured at ${fixed(Math.abs(rate), 1)} K/min. Above 3 K/min the specimen lags behind the oven and every transition reads too ${rate > 0 ? "high" : "low"}; repeat at 1 to 3 K/min (common practice).`,
      ),
    );
  }
  const step_K = Math.max(0, ...assessed.map(medianStep));
  if (step_K > stepTolerance * coarsestStep_K) {
    notices.push(
      notice(
        "fit.coarse-steps",
        `temperature steps of ${fixed(step_K, 1)} K. Steps over 5 K resolve a peak poorly; repeat with 2 K steps across the transition (common practice).`,
      ),
    );
  }
  return notices;
}

function noticeOf(path: string) {
  return (code: Code, message: string): Notice => ({ ...coded(code), message: `${path}: ${message}`, path });
}

/** What must be known of one glass transition: which of its readings are missing or bounds, and further peaks. */
export function transitionNotices(transition: GlassTransition): Notice[] {
  const notice = noticeOf(transition.path);
  const at = frequencyText(transition.frequency_Hz);
  const notices: Notice[] = [];
  const peaks: [string, Peak | null][] = [
    ["tan δ", transition.tanDeltaPeak],
    ["loss modulus", transition.lossModulusPeak],
  ];
  const seen = peaks.find(([, peak]) => peak?.bracketed);
  // One peak that is seen is a transition, and a blend has more than one; a bound says that there is one at the edge.
  const isAtEdge = peaks.some(([, peak]) => peak !== null);
  const why =
    seen !== undefined
      ? `its transition is seen by the ${seen[0]} peak at ${temperatureText(seen[1]!.temperature_C!)} only, and finer steps would show more`
      : isAtEdge
        ? "the transition lies at the edge of the sweep or beyond it"
        : "the sweep covers no transition";
  for (const [quantity, peak] of peaks) {
    if (peak === null) {
      notices.push(notice("fit.no-peak", `${quantity} shows no peak at ${at}; ${why}.`));
    } else if (!peak.bracketed) {
      notices.push(
        notice(
          "fit.peak-beyond-data",
          `the ${quantity} peak at ${at} lies ${describeBound(peak)}, at the edge of the sweep or beyond it; extend it by at least 30 K on that side.`,
        ),
      );
    }
  }
  if (transition.storageModulusOnset === null && transition.tanDeltaPeak?.bracketed) {
    notices.push(
      noticeIn(
        "fit.no-onset",
        "No onset of the storage modulus: too little of the glass below the transition was measured for its tangent",
        [at],
        "Start the sweep some 40 K colder.",
      ),
    );
  }
  if (transition.furtherPeaks.length > 0) {
    const list = transition.furtherPeaks
      .map(
        (peak) =>
          `${peak.quantity === "tan delta" ? "tan δ" : "loss modulus"} at ${temperatureText(peak.temperature_C)}`,
      )
      .join(", ");
    notices.push({
      ...noticeIn("fit.further-peaks", "Further peaks, of a second phase or a secondary transition", [
        `${list} (${at})`,
      ]),
      path: transition.path,
    });
  }
  return notices;
}

/** "line 34 at 20.0 °C, both moduli, 0.1 times the neighbours' value". */
function describeSpike({ line, temperature_C, quantity, ratio }: Spike): string {
  return `${line === null ? "the row" : `line ${line}`} at ${temperatureText(temperature_C)}, ${quantity}, ${Number(ratio.toPrecision(2))} times the neighbours' value`;
}

/** "above 40.0 °C" or "below −60.0 °C" for a peak that is not bracketed. */
function describeBound(peak: Peak): string {
  if (peak.low_C !== null) return `above ${temperatureText(peak.low_C)}`;
  return peak.high_C !== null ? `below ${temperatureText(peak.high_C)}` : "not determined";
}

function medianStep(sweep: Sweep): number {
  const steps: number[] = [];
  for (let i = 1; i < sweep.temperature_C.length; i++) {
    steps.push(sweep.temperature_C[i] - sweep.temperature_C[i - 1]);
  }
  steps.sort((a, b) => a - b);
  return steps[steps.length >> 1] ?? 0;
}
