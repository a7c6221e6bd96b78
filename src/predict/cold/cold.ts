import { phasesAmong } from "../../fit/glass/separate-phases.js";
import type { GlassTransition, Material } from "../../fit/material.js";
import { complexModulus, type RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import type { Notice } from "../../io/problem.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { areTooFew, intervalAround } from "../../numeric/value-interval.js";
import { hertz, signed } from "../../words/number-words.js";
import type { ContactState } from "../contact/contact-state.js";
import { predictionNotice } from "../notice-codes.js";
import type { ColdOutlook, ColdVerdict, TemperatureInterval } from "../outlook.js";
import type { PredictionSettings } from "../prediction-settings.js";
import { type GlassAbsence, type GlassAtFrequency, glassAtFrequency } from "./glass-at-frequency.js";
import { sweepWords, temperatureAtShift } from "./measured-reach.js";

/** One of the material's models with the contact that governs it in the use. */
export interface GovernedModel {
  model: RelaxationModel;
  governing: NonNullable<ContactState["governing"]>;
  /** What is to be added to the model's temperatures. */
  warmer_K: number;
}

/**
 * Whether a compound is glassy, leathery or rubbery in a use: the use temperature against the M″ and tan δ
 * peaks at the contact frequency, both from the master curve. Null, with the sweep to run, where the data do
 * not reach the transition.
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
): { cold: ColdOutlook | null; notices: Notice[] } {
  const { frequency_Hz, contact } = best.governing;
  const found = glassAtFrequency(best.model, frequency_Hz);
  if ("absent" in found) {
    const message = absentMessage(best.model, frequency_Hz, temperature_C, found.absent);
    return { cold: null, notices: [predictionNotice("predict.transition-outside-range", message)] };
  }
  if (found.lossModulusPeak_C === null) {
    const message = lossPeakMessage(found.tanDeltaPeak_C, frequency_Hz, temperature_C, settings);
    return { cold: null, notices: [predictionNotice("predict.transition-outside-range", message)] };
  }
  const excess_K = Math.max(
    best.model.lowestTemperature_C - found.lossModulusPeak_C,
    found.tanDeltaPeak_C - best.model.highestTemperature_C,
  );
  if (excess_K > settings.lawReach_K) {
    const message = `At ${hertz(frequency_Hz)} the transition lies at ${signed(found.tanDeltaPeak_C)} °C, ${excess_K.toFixed(0)} K outside the measured temperatures. To settle it run ${sweepWords(round5(found.lossModulusPeak_C - 20), round5(found.tanDeltaPeak_C + 30))}.`;
    return { cold: null, notices: [predictionNotice("predict.transition-outside-range", message)] };
  }

  const drawn = draws.map(({ model, governing, warmer_K }) => {
    const glass = glassAtFrequency(model, governing.frequency_Hz);
    if ("absent" in glass) return { tanDeltaPeak_C: Number.NaN, lossModulusPeak_C: Number.NaN };
    return {
      tanDeltaPeak_C: glass.tanDeltaPeak_C + warmer_K,
      lossModulusPeak_C: (glass.lossModulusPeak_C ?? Number.NaN) + warmer_K,
    };
  });
  const tanDeltaPeak = withInterval(
    found.tanDeltaPeak_C,
    drawn.map((glass) => glass.tanDeltaPeak_C),
  );
  const lossModulusPeak = withInterval(
    found.lossModulusPeak_C,
    drawn.map((glass) => glass.lossModulusPeak_C),
  );
  const gaps = areTooFew(drawn.map((glass) => glass.lossModulusPeak_C));
  const glassy = raised(lossModulusPeak, settings.glassyBorder_K);
  const leathery = raised(tanDeltaPeak, settings.leatheryBorder_K);
  const warmest = warmestMeasuredPhase(material.glassTransitions, frequency_Hz);
  const phaseBorder_C = Math.max(
    (warmest?.temperature_C ?? Number.NEGATIVE_INFINITY) + settings.leatheryBorder_K,
    (found.warmerPhase_C ?? Number.NEGATIVE_INFINITY) + settings.leatheryBorder_K,
  );
  const phaseDoubt = temperature_C > leathery.temperature_C && temperature_C < phaseBorder_C;
  const verdict = coldVerdict(
    temperature_C,
    glassy,
    phaseDoubt
      ? {
          ...leathery,
          high_C: Math.max(leathery.high_C, phaseBorder_C),
        }
      : leathery,
  );
  const cold: ColdOutlook = {
    verdict,
    contactFrequency_Hz: frequency_Hz,
    contact,
    marginToGlassy_K: temperature_C - glassy.temperature_C,
    marginToLeathery_K: temperature_C - leathery.temperature_C,
    glassTemperatureAtUse: { frequency_Hz, tanDeltaPeak, lossModulusPeak },
    glassTemperatureMeasured: measuredGlassTemperature(material.glassTransitions),
  };
  const notices = phaseNotices(found, frequency_Hz, temperature_C, settings);
  if (gaps) {
    const message = `In too many of the equally likely models the transition at ${hertz(frequency_Hz)} lies outside what was measured: the verdict's interval at ${signed(temperature_C)} °C is too narrow.`;
    notices.push(predictionNotice("predict.interval-not-determined", message));
  }
  if (phaseDoubt && warmest !== null && warmest.temperature_C + settings.leatheryBorder_K > temperature_C) {
    const message = `A tan δ peak stands at ${signed(warmest.temperature_C)} °C at ${hertz(warmest.frequency_Hz)} already, and higher at the contact's ${hertz(frequency_Hz)}: at ${signed(temperature_C)} °C that part of the compound is not rubbery, whatever the border of the rest.`;
    notices.push(predictionNotice("predict.phase-not-rubbery", message));
  }
  const lossFactor = (T: number) => {
    const { storageModulus_Pa, lossModulus_Pa } = complexModulus(best.model, T, frequency_Hz);
    return lossModulus_Pa / storageModulus_Pa;
  };
  const share = lossFactor(temperature_C) / lossFactor(found.tanDeltaPeak_C);
  if (verdict === "rubbery" && share > broadShare) {
    const message = `At ${signed(temperature_C)} °C and ${hertz(frequency_Hz)} tan δ still has ${(100 * share).toFixed(0)} % of its peak although the border is passed: the transition is broad, and rebound and stiffness are not yet those of a rubber.`;
    notices.push(predictionNotice("predict.broad-transition", message));
  }
  if (!phaseDoubt && (verdict === "glassy or leathery" || verdict === "leathery or rubbery")) {
    const border = verdict === "glassy or leathery" ? glassy : leathery;
    notices.push(
      predictionNotice(
        "predict.verdict-straddles",
        `At ${signed(temperature_C)} °C the verdict is "${verdict}": the border lies between ${signed(border.low_C, 1)} and ${signed(border.high_C, 1)} °C (95 % interval) at ${hertz(frequency_Hz)}.`,
      ),
    );
  }
  return { cold, notices };
}

/** The oven's own reading: the sweep of lowest frequency that has a tan δ peak, else one that has an M″ peak. */
export function measuredGlassTemperature(
  transitions: GlassTransition[],
): ColdOutlook["glassTemperatureMeasured"] {
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

function withInterval(temperature_C: number, draws_C: number[]): TemperatureInterval {
  const { low, high } = intervalAround(temperature_C, draws_C);
  return { temperature_C, low_C: low, high_C: high };
}

function raised(interval: TemperatureInterval, by_K: number): TemperatureInterval {
  return {
    temperature_C: interval.temperature_C + by_K,
    low_C: interval.low_C + by_K,
    high_C: interval.high_C + by_K,
  };
}

function phaseNotices(
  glass: GlassAtFrequency,
  frequency_Hz: number,
  temperature_C: number,
  settings: PredictionSettings,
): Notice[] {
  const notices: Notice[] = [];
  const rule = `The highest tan δ peak, at ${signed(glass.tanDeltaPeak_C)} °C, governs the verdict.`;
  if (glass.warmerPhase_C !== null) {
    const still =
      temperature_C < glass.warmerPhase_C + settings.leatheryBorder_K
        ? ` That phase is not rubbery at ${signed(temperature_C)} °C.`
        : "";
    notices.push(
      predictionNotice(
        "predict.second-phase-warmer",
        `At ${hertz(frequency_Hz)} a further tan δ peak stands at ${signed(glass.warmerPhase_C)} °C. ${rule}${still}`,
      ),
    );
  }
  if (glass.colderPhase_C !== null) {
    notices.push(
      predictionNotice(
        "predict.second-phase-colder",
        `At ${hertz(frequency_Hz)} a further tan δ peak stands at ${signed(glass.colderPhase_C)} °C. ${rule}`,
      ),
    );
  }
  return notices;
}

function absentMessage(
  model: RelaxationModel,
  frequency_Hz: number,
  temperature_C: number,
  absent: GlassAbsence,
): string {
  const edge_Hz =
    absent === "colder than measured" ? model.highestReducedFrequency_Hz : model.lowestReducedFrequency_Hz;
  const edge_C =
    edge_Hz > 0 && Number.isFinite(edge_Hz)
      ? temperatureAtShift(model.law, log10(edge_Hz / frequency_Hz))
      : null;
  const at = `The verdict at ${signed(temperature_C)} °C is not determined: at ${hertz(frequency_Hz)}`;
  if (absent === "colder than measured") {
    const from_C = round5((edge_C ?? Math.min(temperature_C, model.lowestTemperature_C)) - 50);
    const bound = edge_C === null ? "" : ` than ${signed(edge_C)} °C`;
    return `${at} the tan δ peak lies colder${bound}, where the data end. To settle it run ${sweepWords(from_C, round5(temperature_C + 20))}.`;
  }
  if (absent === "warmer than measured") {
    const to_C = round5((edge_C ?? Math.max(temperature_C, model.highestTemperature_C)) + 50);
    const bound = edge_C === null ? "" : ` than ${signed(edge_C)} °C`;
    return `${at} the tan δ peak lies warmer${bound}, where the data end. To settle it run ${sweepWords(round5(temperature_C - 20), to_C)}.`;
  }
  return `${at} the data show no tan δ peak. To settle it run ${sweepWords(-100, 80)}.`;
}

function lossPeakMessage(
  tanDeltaPeak_C: number,
  frequency_Hz: number,
  temperature_C: number,
  settings: PredictionSettings,
): string {
  const border_C = tanDeltaPeak_C + settings.leatheryBorder_K;
  const known =
    temperature_C > border_C
      ? `All that is known: the use is ${(temperature_C - border_C).toFixed(0)} K warmer than the leathery border, so it is on the rubbery side.`
      : `All that is known: the use is ${(border_C - temperature_C).toFixed(0)} K colder than the leathery border, so it is not rubbery.`;
  return `The verdict at ${signed(temperature_C)} °C is not determined: at ${hertz(frequency_Hz)} the tan δ peak stands at ${signed(tanDeltaPeak_C)} °C, but the M″ peak lies colder than the data reach. ${known} To settle it run ${sweepWords(round5(tanDeltaPeak_C - 50), round5(tanDeltaPeak_C + 40))}.`;
}

const round5 = (temperature_C: number) => 5 * Math.round(temperature_C / 5);

/** A border between two states with its interval, °C. */
export interface Border {
  temperature_C: number;
  low_C: number;
  high_C: number;
}

/**
 * glassy below the glassy border, leathery from there to the leathery border, rubbery above. Where a border's
 * interval holds the temperature, the verdict names both states; of two such borders the colder one speaks.
 * @example coldVerdict(-20, { temperature_C: -18, low_C: -21, high_C: -15 }, { temperature_C: 4, low_C: 2, high_C: 6 }) // "glassy or leathery"
 */
export function coldVerdict(temperature_C: number, glassy: Border, leathery: Border): ColdVerdict {
  if (straddles(temperature_C, glassy)) return "glassy or leathery";
  if (temperature_C < glassy.temperature_C) return "glassy";
  if (straddles(temperature_C, leathery)) return "leathery or rubbery";
  return temperature_C < leathery.temperature_C ? "leathery" : "rubbery";
}

function straddles(temperature_C: number, border: Border): boolean {
  return border.low_C < border.high_C && temperature_C >= border.low_C && temperature_C <= border.high_C;
}
