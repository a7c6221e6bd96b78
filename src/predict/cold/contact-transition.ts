import type { BlendCurve } from "../../fit/glass/blend-table.js";
import {
  doubtfulMisfits,
  isPoint,
  lossModulusProminence,
  type PeakPlace,
  transitionAtFrequency,
} from "../../fit/glass/glass-at-frequency.js";
import { separatePhases } from "../../fit/glass/separate-phases.js";
import type { GlassTransition, Material } from "../../fit/material.js";
import { misfitOfPeaks } from "../../fit/spectrum/phase-mixing.js";
import type { RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { normal95 } from "../../numeric/statistics/confidence.js";
import { spreadAround } from "../../numeric/statistics/value-interval.js";
import { temperatureText } from "../../words/quantity-text.js";
import { misfitBesideOneLaw } from "../contact/drawn-contacts.js";
import type { OpenInterval, TransitionAtContact } from "../outlook.js";
import type { PredictionSettings } from "../prediction-settings.js";
import { type GovernedModel, movedPeaks } from "./moved-peaks.js";
import { type HumpDoubt, peakAmongDraws } from "./peak-among-draws.js";

/** An end that comes from an edge of the data and not from a peak is moved out by this. */
const edgeMargin_K = { oneLaw: 2, blend: 4 };
/**
 * Each end is moved out by this for every kelvin that it lies outside the measured temperatures. Of 130 made-up blends the
 * tan δ peaks at a contact were off by 1.6 K inside these and by 5.1 K, 20 to 30 K outside (medians; 12 K in a fifth there),
 * and bounds were up to 3 K too warm with the margin of one law. Of 132 made-up compounds of one law peaks on the warm side
 * were held in all 127 (M″, up to 30 K outside) and 367 of 372 uses (tan δ) with 0.05, in 126 and 356 without, the
 * thermometer taken as exact; on the cold side the law meets the glass.
 */
const extrapolationMargin = {
  oneLaw: { colder: 0.1, warmer: 0.05 },
  blend: { colder: 0.4, warmer: 0.4 },
  mixing: { colder: 0.1, warmer: 0.1 },
};
/** The peaks of a blend are moved out by this times the relative misfit of its model: tan δ by 1 K at 2 %. */
const misfitMargin_K = { "tan δ": 50, "M″": 20 };
/** Above this misfit two laws do not tell the phases' places well, and three times as much is added. */
const poorMisfit = 0.05;
/**
 * The draws of one superposition share its smoothing, which moves the broad tan δ peak: with a thermometer 1 K off its
 * interval held the truth in 81 % of 150 (multi-frequency ramps) without this.
 */
const spreadFactor = { "tan δ": 1.25, "M″": 1 };
/** The ratio of two tan δ holds four moduli, each with the misfit: twice it is one standard deviation. */
const heightMisfits = 2;
/** From this share of the draws on without the peak, an interval is open on the side where they have it. */
const fewestWithPeak = 0.8;

/** Both peaks at the contact frequency as far as they are known, ends infinite where they are not. */
export interface KnownTransition {
  frequency_Hz: number;
  tanDelta: KnownPeak;
  lossModulus: KnownPeak;
  warmerPhase_C: number | null;
  colderPhase_C: number | null;
  /** The material flows when warm and has no rubbery state up to here; null: it does not flow, or is rubbery before. */
  flowsWithoutPlateau_C: number | null;
  /** Too many draws show no M″ peak although the model does. */
  hasGaps: boolean;
}

export interface KnownPeak extends PeakPlace {
  /** Null where no peak was seen. */
  temperature_C: number | null;
  reason: string | null;
}

/**
 * What all that was measured says of the two peaks at the contact frequency: the model and its draws, sweeps at a
 * lower frequency (a peak only moves to the warm side with frequency) or a higher one, and the order M″ peak < tan δ
 * peak.
 */
export function knownTransition(
  material: Material,
  best: GovernedModel,
  draws: GovernedModel[],
  settings: PredictionSettings,
): KnownTransition {
  const { model } = best;
  const frequency_Hz = best.governing.frequency_Hz;
  if (model.onlyAt_C !== undefined) return knownSides(best, draws, model.onlyAt_C);
  const found = transitionAtFrequency(model, frequency_Hz);
  const misfit = misfitOfPeaks(model) ?? misfitBesideOneLaw(material);
  const drawn = draws.map(({ model: other, governing, warmer_K }) => {
    const { tanDelta, lossModulus, blend } = transitionAtFrequency(other, governing.frequency_Hz);
    return {
      tanDelta: moved(tanDelta, warmer_K),
      lossModulus: moved(lossModulus, warmer_K),
      blend,
      warmer_K,
    };
  });
  const curves = drawn.flatMap(({ blend, warmer_K }) => (blend === null ? [] : { curve: blend, warmer_K }));
  const inBlend = (place: PeakPlace, of: (curve: BlendCurve, index: number) => number, doubt: HumpDoubt) =>
    found.blend === null || !isPoint(place)
      ? null
      : peakAmongDraws(found.blend, curves, of, place.low_C, doubt);
  const tanDelta = peakOf(
    "tan δ",
    { ...model, misfit },
    found.tanDelta,
    drawn.map((one) => one.tanDelta),
    inBlend(found.tanDelta, (curve, i) => curve.lossModulus_Pa[i] / curve.storageModulus_Pa[i], {
      heightMargin_ln: normal95 * heightMisfits * misfit,
      deepestValley_ln: Number.POSITIVE_INFINITY,
    }),
  );
  if (found.tanDeltaWithinMisfit !== null) openTo(tanDelta, found.tanDeltaWithinMisfit);
  // The M″ peak is the one that is nearest to the tan δ peak, and not the highest, where a valley parts it from that.
  const lossModulus = peakOf(
    "M″",
    { ...model, misfit },
    found.lossModulus,
    drawn.map((one) => one.lossModulus),
    inBlend(found.lossModulus, (curve, i) => curve.lossModulus_Pa[i], {
      heightMargin_ln: normal95 * Math.SQRT2 * misfit,
      deepestValley_ln: ln(lossModulusProminence.blend + doubtfulMisfits * misfit),
    }),
  );
  const flow_C = found.flowsWithoutPlateau_C;
  const flowsWithoutPlateau_C =
    flow_C === null ? null : flow_C - edgeMargin_K.oneLaw - extrapolatedBy_K(model, flow_C);
  if (flowsWithoutPlateau_C !== null) {
    tanDelta.reason = `tan δ climbs towards the warm, slow end because the material flows there: it has no rubbery state up to ${temperatureText(flowsWithoutPlateau_C, 0)}.`;
  }
  if (found.colderLossModulus_C !== null) {
    lossModulus.low_C = Math.min(lossModulus.low_C, found.colderLossModulus_C - edgeMargin_K.oneLaw);
  }
  if (found.warmerLossModulus_C !== null) {
    lossModulus.high_C = Math.max(lossModulus.high_C, found.warmerLossModulus_C + edgeMargin_K.oneLaw);
  }
  const along = movedPeaks(material, best, draws);
  if (along?.tanDelta) Object.assign(tanDelta, along.tanDelta, { reason: null });
  if (along?.lossModulus) Object.assign(lossModulus, along.lossModulus, { reason: null });
  if (isOnePhase(material)) {
    boundByMeasured(tanDelta, "tanDeltaPeak", material.glassTransitions, frequency_Hz, settings);
    boundByMeasured(lossModulus, "lossModulusPeak", material.glassTransitions, frequency_Hz, settings);
  }
  lossModulus.high_C = Math.max(lossModulus.low_C, Math.min(lossModulus.high_C, tanDelta.high_C));
  tanDelta.low_C = Math.min(tanDelta.high_C, Math.max(tanDelta.low_C, lossModulus.low_C));
  const shown = drawn.filter((one) => isPoint(one.lossModulus)).length;
  return {
    frequency_Hz,
    tanDelta,
    lossModulus,
    warmerPhase_C: found.warmerPhase_C,
    colderPhase_C: found.colderPhase_C,
    flowsWithoutPlateau_C,
    hasGaps: isPoint(found.lossModulus) && shown < fewestWithPeak * drawn.length,
  };
}

/**
 * An interval is opened to a range that the peak may stand in as well. A margin in kelvin alone forgets how flat a blend's
 * tan δ is at its peak: of 130 made-up blends the interval held the truth in 79 % of 650 uses without this and in 94 %
 * with it and the margin above, and one of them was called rubbery 1.3 K too cold.
 */
function openTo(peak: KnownPeak, { low_C, high_C }: PeakPlace): void {
  peak.low_C = Math.min(peak.low_C, low_C);
  peak.high_C = Math.max(peak.high_C, high_C);
  if (Number.isFinite(low_C) && Number.isFinite(high_C)) return;
  const side = Number.isFinite(low_C) ? "warm" : "cold";
  peak.reason ??= `tan δ at the ${side} end of what was measured is as high as at its peak, within what the model misses the data by.`;
}

/** Half a decade, near a transition. */
const sideMargin_K = 2;

/**
 * Of a spectrum at one temperature only on which side of it a peak stands at the contact frequency, for how far nothing
 * says: warmer where the peak's own frequency is lower. Open where the peak is within half a decade, or the draws differ.
 */
function knownSides(best: GovernedModel, draws: GovernedModel[], at_C: number): KnownTransition {
  const side = (name: string, key: "tanDelta" | "lossModulus"): KnownPeak => {
    const sideIn = ({ model, governing }: GovernedModel) => {
      const { low_C, high_C } = transitionAtFrequency(model, governing.frequency_Hz)[key];
      return low_C > at_C + sideMargin_K ? 1 : high_C < at_C - sideMargin_K ? -1 : 0;
    };
    const own = sideIn(best);
    const alike = draws.filter((draw) => sideIn(draw) === own).length;
    const sure = own !== 0 && alike >= 0.975 * draws.length;
    const at = temperatureText(at_C, 0);
    return {
      temperature_C: null,
      low_C: sure && own > 0 ? at_C + sideMargin_K : Number.NEGATIVE_INFINITY,
      high_C: sure && own < 0 ? at_C - sideMargin_K : Number.POSITIVE_INFINITY,
      reason: sure
        ? `Measured at ${at} only: the ${name} peak stands ${own > 0 ? "warmer" : "colder"} than that at the contact's frequency, how far is not known.`
        : `Measured at ${at} only, which does not show on which side of it the ${name} peak stands at the contact's frequency.`,
    };
  };
  return {
    frequency_Hz: best.governing.frequency_Hz,
    tanDelta: side("tan δ", "tanDelta"),
    lossModulus: side("M″", "lossModulus"),
    warmerPhase_C: null,
    colderPhase_C: null,
    flowsWithoutPlateau_C: null,
    hasGaps: false,
  };
}

/** The same as the outlook carries it: infinite ends are null. */
export function transitionForOutlook(
  known: KnownTransition,
  contact: "sliding" | "impact",
  { law }: RelaxationModel,
): TransitionAtContact {
  return {
    contactFrequency_Hz: known.frequency_Hz,
    contact,
    tanDeltaPeak: openInterval(known.tanDelta),
    lossModulusPeak: openInterval(known.lossModulus),
    tangentBelow_C: law.kind === "wlf" ? law.tangentBelow_C : null,
  };
}

/** A known peak as results.json has it: ends that nothing bounds are null. */
function openInterval({ temperature_C, low_C, high_C, reason }: KnownPeak): OpenInterval {
  const finite = (end: number) => (Number.isFinite(end) ? end : null);
  return { temperature_C, low_C: finite(low_C), high_C: finite(high_C), reason };
}

const moved = ({ low_C, high_C }: PeakPlace, by_K: number): PeakPlace => ({
  low_C: low_C + by_K,
  high_C: high_C + by_K,
});

/** How the peaks are read from a model: by one law, from a blend's two phases side by side, from a rule of mixing. */
const kindOf = ({ furtherPhase, mixing }: RelaxationModel) =>
  furtherPhase === undefined ? "oneLaw" : mixing === undefined ? "blend" : "mixing";

/** What an end is moved out by for lying outside the measured temperatures. */
function extrapolatedBy_K(model: RelaxationModel, end_C: number): number {
  if (!Number.isFinite(end_C)) return 0;
  const { colder, warmer } = extrapolationMargin[kindOf(model)];
  const colder_K = Math.max(0, model.lowestTemperature_C - end_C);
  const warmer_K = Math.max(0, end_C - model.highestTemperature_C);
  return colder * colder_K + warmer * warmer_K;
}

function peakOf(
  name: keyof typeof misfitMargin_K,
  model: RelaxationModel,
  found: PeakPlace,
  drawn: PeakPlace[],
  inBlend: PeakPlace | null,
): KnownPeak {
  const outside = (end_C: number) => extrapolatedBy_K(model, end_C);
  const misfit = model.misfit ?? 0;
  const misfit_K = misfitMargin_K[name] * misfit * (misfit > poorMisfit ? 3 : 1);
  if (!isPoint(found)) {
    const edge_K = model.furtherPhase === undefined ? edgeMargin_K.oneLaw : edgeMargin_K.blend;
    const lows = drawn.map(({ low_C }) => low_C).filter(Number.isFinite);
    const highs = drawn.map(({ high_C }) => high_C).filter(Number.isFinite);
    const low_C = Math.min(found.low_C - edge_K, spreadAround(found.low_C, lows).low);
    const high_C = Math.max(found.high_C + edge_K, spreadAround(found.high_C, highs).high);
    return {
      temperature_C: null,
      low_C: low_C - outside(low_C) - misfit_K,
      high_C: high_C + outside(high_C) + misfit_K,
      reason: reasonOf(name, found, low_C - outside(low_C) - misfit_K, high_C + outside(high_C) + misfit_K),
    };
  }
  const temperature_C = found.low_C;
  const points = drawn.filter(isPoint).map(({ low_C }) => low_C);
  const spread = spreadAround(temperature_C, points);
  const low = inBlend?.low_C ?? temperature_C - spreadFactor[name] * (temperature_C - spread.low);
  const high = inBlend?.high_C ?? temperature_C + spreadFactor[name] * (spread.high - temperature_C);
  const margin_K = outside(temperature_C) + misfit_K;
  const isShown = points.length >= fewestWithPeak * drawn.length;
  // Where too few draws show the peak, those that only bound it speak too.
  const ends = (end: (place: PeakPlace) => number) => Float64Array.from(drawn, end).sort();
  return {
    temperature_C,
    low_C: isShown
      ? low - margin_K
      : Math.min(
          low,
          nearestRank(
            ends((one) => one.low_C),
            0.025,
          ),
        ) - margin_K,
    high_C: isShown
      ? high + margin_K
      : Math.max(
          high,
          nearestRank(
            ends((one) => one.high_C),
            0.975,
          ),
        ) + margin_K,
    reason:
      isShown && Number.isFinite(low) && Number.isFinite(high)
        ? null
        : `In too many of the equally likely models the ${name} peak lies outside what was measured.`,
  };
}

/** Without interpolation, for ends may be infinite. */
const nearestRank = (sorted: Float64Array, probability: number) =>
  sorted[Math.round(probability * (sorted.length - 1))];

/** @param low_C and `high_C`: the ends with their margins, which are what is known */
function reasonOf(name: string, found: PeakPlace, low_C: number, high_C: number): string {
  if (Number.isFinite(found.high_C)) {
    return `${name} still climbs at the cold, fast end of what was measured: its peak lies colder than ${temperatureText(high_C)}.`;
  }
  if (Number.isFinite(found.low_C)) {
    return `${name} still climbs at the warm, slow end of what was measured: its peak lies warmer than ${temperatureText(low_C)}.`;
  }
  return `What was measured shows no ${name} peak.`;
}

/** Only one phase's peak is the same peak at every frequency. */
const isOnePhase = ({ superposition, glassTransitions }: Material) =>
  superposition?.thermorheologicallySimple !== false && separatePhases(glassTransitions) === null;

function boundByMeasured(
  peak: KnownPeak,
  key: "tanDeltaPeak" | "lossModulusPeak",
  transitions: GlassTransition[],
  frequency_Hz: number,
  { temperatureUncertainty_K }: PredictionSettings,
): void {
  for (const transition of transitions) {
    const measured = transition[key];
    if (measured === null) continue;
    if (transition.frequency_Hz <= frequency_Hz && measured.low_C !== null) {
      const low_C = measured.low_C - temperatureUncertainty_K;
      if (low_C <= (peak.temperature_C ?? peak.high_C)) peak.low_C = Math.max(peak.low_C, low_C);
    }
    if (transition.frequency_Hz >= frequency_Hz && measured.high_C !== null) {
      const high_C = measured.high_C + temperatureUncertainty_K;
      if (high_C >= (peak.temperature_C ?? peak.low_C)) peak.high_C = Math.min(peak.high_C, high_C);
    }
  }
}
