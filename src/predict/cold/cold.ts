import type { PeakPlace } from "../../fit/glass/glass-at-frequency.js";
import { phasesAmong } from "../../fit/glass/separate-phases.js";
import type { GlassTransition, Material } from "../../fit/material.js";
import type { MeasuredState } from "../../fit/measured-states.js";
import { complexModulus, type RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import { notice, noticeIn } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import {
  fixed,
  frequencyText,
  percentText,
  statedTemperature,
  temperatureText,
} from "../../words/quantity-text.js";
import type { ColdOutlook, ColdVerdict, TransitionAtContact } from "../outlook.js";
import type { PredictionSettings } from "../prediction-settings.js";
import { type KnownTransition, knownTransition, transitionForOutlook } from "./contact-transition.js";
import { sweepWords } from "./measured-reach.js";
import type { GovernedModel } from "./moved-peaks.js";
import { nearestMeasurement } from "./nearest-measurement.js";

/** The verdict before the lowest temperatures, which need the contacts of the use, stand beside it. */
export type JudgedCold = Omit<ColdOutlook, "lowestRubbery_C" | "lowestAboveGlassy_C">;

/**
 * Whether a compound is glassy, leathery or rubbery in a use: every word that all that is known of the M″ and tan δ
 * peaks at the contact frequency leaves open. Null, with the sweep to run, only where all three are.
 *
 * @param best the material's own model
 * @param draws equally likely alternatives, each with its own contact frequency
 */
export function coldOutlook(
  material: Material,
  temperature_C: number,
  best: GovernedModel,
  draws: GovernedModel[],
  settings: PredictionSettings,
): { cold: JudgedCold | null; transition: TransitionAtContact; notices: Notice[] } {
  const { frequency_Hz, contact } = best.governing;
  const known = knownTransition(material, best, draws, settings);
  const { tanDelta, lossModulus } = known;
  const transition = transitionForOutlook(known, contact, best.model);
  const glassy = raised(lossModulus, settings.glassyBorder_K);
  const flow_C = known.flowsWithoutPlateau_C;
  const leathery =
    flow_C === null
      ? raised(tanDelta, settings.leatheryBorder_K)
      : { low_C: flow_C, high_C: Number.POSITIVE_INFINITY };
  const warmest = warmestMeasuredPhase(material.glassTransitions, frequency_Hz);
  const phaseBorder_C =
    Math.max(
      warmest?.temperature_C ?? Number.NEGATIVE_INFINITY,
      known.warmerPhase_C ?? Number.NEGATIVE_INFINITY,
    ) + settings.leatheryBorder_K;
  const phaseDoubt = temperature_C > leathery.low_C && temperature_C < phaseBorder_C;
  const verdict = withoutContradiction(
    openWords(
      temperature_C,
      glassy,
      phaseDoubt ? { ...leathery, high_C: Math.max(leathery.high_C, phaseBorder_C) } : leathery,
    ),
    nearestMeasurement(material.measuredStates, temperature_C, frequency_Hz),
    frequency_Hz,
    best.model,
  );
  if (verdict === null) {
    const message = openMessage(best.model, known, temperature_C);
    return {
      cold: null,
      transition,
      notices: [notice("predict.transition-outside-range", message)],
    };
  }
  const margin = (peak_C: number | null, border_K: number) =>
    peak_C === null ? null : temperature_C - peak_C - border_K;
  const cold: JudgedCold = {
    verdict,
    contactFrequency_Hz: frequency_Hz,
    contact,
    marginToGlassy_K: margin(lossModulus.temperature_C, settings.glassyBorder_K),
    marginToLeathery_K: margin(tanDelta.temperature_C, settings.leatheryBorder_K),
    glassTemperatureAtUse: {
      frequency_Hz,
      tanDeltaPeak: transition.tanDeltaPeak,
      lossModulusPeak: transition.lossModulusPeak,
    },
    glassTemperatureMeasured: measuredGlassTemperature(material.glassTransitions),
  };
  const notices = phaseNotices(known, temperature_C, settings);
  const half = [lossModulus, tanDelta].flatMap(({ reason }) => (reason === null ? [] : [reason]));
  const at = `${statedTemperature(temperature_C)} and ${frequencyText(frequency_Hz)}`;
  if (known.hasGaps) {
    // That a peak is known by a bound only is said by this, too.
    notices.push(
      noticeIn(
        "predict.interval-not-determined",
        "In too many of the equally likely models the transition lies outside what was measured, so the verdict's interval is too narrow",
        [at],
      ),
    );
  } else if (half.length > 0) {
    const sentences = half.map((reason) =>
      reason.replace(/^[A-Z](?=[a-z])/, (first) => first.toLowerCase()).replace(/\.$/, ""),
    );
    // What names a bound of its own differs from use to use.
    const [own, common] = [true, false].map((has) => sentences.filter((one) => /\d/.test(one) === has));
    const since = common.length === 0 ? "" : `, since ${common.join(", and ")}`;
    notices.push(
      noticeIn("predict.verdict-from-bounds", `The verdict rests on a bound and not on a peak${since}`, [
        own.length === 0 ? at : `${at} (${own.join("; ")})`,
      ]),
    );
  }
  if (phaseDoubt && warmest !== null && warmest.temperature_C + settings.leatheryBorder_K > temperature_C) {
    notices.push(
      noticeIn(
        "predict.phase-not-rubbery",
        `A tan δ peak was measured at ${temperatureText(warmest.temperature_C, 0)} and ${frequencyText(warmest.frequency_Hz)} and lies higher still at the contact's frequency, so a part of the compound is not rubbery in the use, whatever the rest is`,
        [statedTemperature(temperature_C)],
      ),
    );
  }
  const lossFactor = (T: number) => {
    const { storageModulus_Pa, lossModulus_Pa } = complexModulus(best.model, T, frequency_Hz);
    return lossModulus_Pa / storageModulus_Pa;
  };
  const share =
    tanDelta.temperature_C === null ? 0 : lossFactor(temperature_C) / lossFactor(tanDelta.temperature_C);
  if (verdict === "rubbery" && share > broadShare) {
    notices.push(
      noticeIn(
        "predict.broad-transition",
        "The transition is broad: tan δ still stands near its peak although the border is passed, and rebound and stiffness are not yet those of a rubber",
        [`${percentText(share)} of it at ${at}`],
      ),
    );
  }
  if (!phaseDoubt && (verdict === "glassy or leathery" || verdict === "leathery or rubbery")) {
    const border = verdict === "glassy or leathery" ? glassy : leathery;
    notices.push(
      noticeIn(
        "predict.verdict-straddles",
        "The use temperature lies inside the 95 % interval of a border, so the verdict is one of two words",
        [`${verdict} at ${at}, where the border ${betweenWords(border)}`],
      ),
    );
  }
  return { cold, transition, notices };
}

function betweenWords({ low_C, high_C }: Border): string {
  if (!Number.isFinite(low_C) && !Number.isFinite(high_C)) return "is not known on either side";
  if (!Number.isFinite(low_C)) return `lies below ${temperatureText(high_C, 1)}`;
  if (!Number.isFinite(high_C)) return `lies above ${temperatureText(low_C, 1)}`;
  return `lies between ${fixed(low_C, 1)} and ${temperatureText(high_C, 1)}`;
}

/** A glass has M′ of the order of 1 GPa (common practice); below this in tension, and a third of it in shear, it is none. */
const softestGlass_Pa = 1e8;
/** Stiffer than this, no rubber. */
const stiffestRubber_Pa = 5e8;

/**
 * A measured state beside the use takes words away that it contradicts: what is soft there is not glassy, what is
 * stiff is not rubbery. A verdict that all words left open may so become one of two.
 */
function withoutContradiction(
  words: ReadonlySet<State>,
  measured: MeasuredState | null,
  frequency_Hz: number,
  { deformation }: RelaxationModel,
): ColdVerdict | null {
  const left = new Set(words);
  if (left.size === 3 && measured !== null) {
    const storage_Pa = measured.storageModulus_Pa * (deformation === "shear" ? 3 : 1);
    // M′ only rises with frequency.
    if (storage_Pa < softestGlass_Pa && measured.frequency_Hz >= frequency_Hz / 3) left.delete("glassy");
    if (storage_Pa > stiffestRubber_Pa && measured.frequency_Hz <= 3 * frequency_Hz) left.delete("rubbery");
  }
  return verdictOf(left);
}

/** The oven's own reading: the sweep of lowest frequency that has a tan δ peak, else one that has an M″ peak. */
function measuredGlassTemperature(transitions: GlassTransition[]): ColdOutlook["glassTemperatureMeasured"] {
  const byFrequency = [...transitions].sort((a, b) => a.frequency_Hz - b.frequency_Hz);
  const peak_C = (peak: { temperature_C: number | null; bracketed: boolean } | null) =>
    peak?.bracketed ? peak.temperature_C : null;
  const chosen =
    byFrequency.find((one) => peak_C(one.tanDeltaPeak) !== null) ??
    byFrequency.find((one) => peak_C(one.lossModulusPeak) !== null);
  if (chosen === undefined) return null;
  return {
    frequency_Hz: chosen.frequency_Hz,
    tanDeltaPeak_C: peak_C(chosen.tanDeltaPeak),
    lossModulusPeak_C: peak_C(chosen.lossModulusPeak),
  };
}

/**
 * The warmest tan δ peak that a sweep at no more than the contact frequency shows. A peak only moves to the warm side
 * with frequency, so whatever the model says, that phase is not rubbery below it.
 */
function warmestMeasuredPhase(
  transitions: GlassTransition[],
  frequency_Hz: number,
): { temperature_C: number; frequency_Hz: number } | null {
  const peaks = transitions
    .filter((transition) => transition.frequency_Hz <= frequency_Hz)
    .flatMap(({ frequency_Hz: at_Hz, tanDeltaPeak, furtherPeaks }) => {
      const main = tanDeltaPeak?.bracketed ? tanDeltaPeak : null;
      const further = phasesAmong(furtherPeaks, main?.height ?? 0);
      return [...(main === null ? [] : [main]), ...further].flatMap((peak) =>
        peak.temperature_C === null ? [] : { temperature_C: peak.temperature_C, frequency_Hz: at_Hz },
      );
    });
  return peaks.reduce<(typeof peaks)[number] | null>(
    (a, b) => (a === null || b.temperature_C > a.temperature_C ? b : a),
    null,
  );
}

/** Of the peak's tan δ; 10 K above a peak of usual width some half of it is left (common practice). */
const broadShare = 0.75;

function raised({ low_C, high_C }: PeakPlace, by_K: number): Border {
  return { low_C: low_C + by_K, high_C: high_C + by_K };
}

function phaseNotices(
  { frequency_Hz, tanDelta, warmerPhase_C, colderPhase_C }: KnownTransition,
  temperature_C: number,
  settings: PredictionSettings,
): Notice[] {
  const notices: Notice[] = [];
  if (tanDelta.temperature_C === null) return notices;
  if (warmerPhase_C !== null) {
    const still =
      temperature_C < warmerPhase_C + settings.leatheryBorder_K
        ? `, not rubbery at ${statedTemperature(temperature_C)}`
        : "";
    notices.push(
      noticeIn(
        "predict.second-phase-warmer",
        "A second phase has its tan δ peak on the warm side of the one that governs the verdict",
        [`peak at ${temperatureText(warmerPhase_C, 0)} and ${frequencyText(frequency_Hz)}${still}`],
      ),
    );
  }
  if (colderPhase_C !== null) {
    notices.push(
      noticeIn(
        "predict.second-phase-colder",
        "A second phase has its tan δ peak on the cold side of the one that governs the verdict",
        [`peak at ${temperatureText(colderPhase_C, 0)} and ${frequencyText(frequency_Hz)}`],
      ),
    );
  }
  return notices;
}

/** Why all three words are open, and the sweep that would settle it. */
function openMessage(
  model: RelaxationModel,
  { frequency_Hz, tanDelta, lossModulus }: KnownTransition,
  temperature_C: number,
): string {
  const reasons = [lossModulus, tanDelta].flatMap(({ reason }) => (reason === null ? [] : [reason]));
  const why =
    reasons.length > 0 ? reasons.join(" ") : "The intervals of both peaks hold the use temperature.";
  const coldest_C = Math.min(model.lowestTemperature_C, temperature_C) - 40;
  const warmest_C = Math.max(model.highestTemperature_C, temperature_C) + 40;
  const ends_C = [
    Number.isFinite(coldest_C) ? coldest_C : -100,
    Number.isFinite(warmest_C) ? warmest_C : 80,
  ].map(round5);
  return `The verdict at ${statedTemperature(temperature_C)} is not determined at ${frequencyText(frequency_Hz)}. ${why} To settle it, run ${sweepWords(ends_C[0], ends_C[1])}.`;
}

const round5 = (temperature_C: number) => 5 * Math.round(temperature_C / 5);

/** A border between two states: its 95 % interval in °C, ends infinite where nothing bounds it. */
export interface Border {
  low_C: number;
  high_C: number;
}

type State = "glassy" | "leathery" | "rubbery";

/**
 * Every word that the borders leave open: glassy below the glassy border, leathery from there to the leathery one,
 * rubbery above. Null where all three are open.
 * @example coldVerdict(-20, { low_C: -21, high_C: -15 }, { low_C: 2, high_C: 6 }) // "glassy or leathery"
 */
export function coldVerdict(temperature_C: number, glassy: Border, leathery: Border): ColdVerdict | null {
  return verdictOf(openWords(temperature_C, glassy, leathery));
}

function openWords(temperature_C: number, glassy: Border, leathery: Border): Set<State> {
  const words = new Set<State>();
  if (temperature_C < glassy.high_C) words.add("glassy");
  if (temperature_C >= glassy.low_C && temperature_C < leathery.high_C) words.add("leathery");
  if (temperature_C >= leathery.low_C) words.add("rubbery");
  return words;
}

function verdictOf(words: ReadonlySet<State>): ColdVerdict | null {
  const [glassy, leathery, rubbery] = (["glassy", "leathery", "rubbery"] as const).map((word) =>
    words.has(word),
  );
  if (glassy && rubbery) return null;
  if (glassy) return leathery ? "glassy or leathery" : "glassy";
  if (rubbery) return leathery ? "leathery or rubbery" : "rubbery";
  return leathery ? "leathery" : null;
}
