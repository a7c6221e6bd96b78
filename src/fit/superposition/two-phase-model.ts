import { cholesky } from "../../numeric/cholesky.js";
import { dot } from "../../numeric/dot.js";
import { exp, exp10 } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { matchedDeviates } from "../../numeric/statistics/deviates.js";
import { coded } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { fixed, partText, percentText, temperatureText } from "../../words/quantity-text.js";
import { phasesAmong } from "../glass/separate-phases.js";
import type { BlendPhase, GlassTransition } from "../material.js";
import { layoutOfModels } from "../spectrum/layout-of-models.js";
import { entropicFactor, type PhaseMixing } from "../spectrum/phase-mixing.js";
import { complexModulus, type RelaxationModel } from "../spectrum/relaxation-model.js";
import { addErrors } from "../spectrum/seen-errors.js";
import { changeReference, log10ShiftFactor, type WlfLaw } from "../spectrum/shift-law.js";
import type { IsothermSet } from "./isotherms/isotherms.js";
import { conventionalGlassTemperature_C } from "./law/conventional-glass-temperature.js";
import { type MixingSolution, MixingSpectra } from "./mixing-spectra.js";
import { range } from "./shift/reduced-points.js";
import {
  fitMixing,
  fitTwoPhases,
  type MixingFit,
  type TwoPhaseFit,
  thinned,
  twoPhaseModes,
  twoPhaseStrength,
} from "./two-phase-fit.js";
import {
  phaseLaw,
  type TwoPhasePoints,
  type TwoPhaseSolution,
  TwoPhaseSpectra,
} from "./two-phase-spectra.js";

/** Two laws are believed only where they leave less than this share of what one law leaves, and less than this at all. */
const misfitLeft = 0.6;
const largestMisfit = 0.15;
/** One law that leaves less than this (0.03 decades) holds: what is left is no second phase. */
const oneLawHolds = 0.06;
/** A rule of mixing is taken for the moduli where it leaves no more than this times what two phases side by side leave. */
const mixedMisfit = 1.05;
/** A tan δ peak stands some 12 K above its M″ peak (common practice). */
const tanDeltaAbove_K = 12;
/** Directions of the data's errors that are drawn in mirrored pairs, as the laws are: these carry some four fifths of a peak's variance. */
const mirroredDirections = 17;
/** Draws of the spectra are penalised less than the fit: their bias must fall below their scatter. */
const drawnStrength = 0.1;
const mostDrawnPoints = 200;
const mostMixedPoints = 110;
/** As many as 60 draws can match beside nine constants; what the further ones move is next to nothing. */
const matchedDirections = 45;
const mixedModes = 2;

export interface TwoPhaseResult {
  model: RelaxationModel;
  draws: RelaxationModel[];
  phases: BlendPhase[];
  notice: Notice;
}

/**
 * The model of a blend of two phases; null where two laws explain the isotherms little better than one.
 * @param oneLaw relative misfit of the best spectrum with one law
 */
export function twoPhaseModel(
  set: IsothermSet,
  glassTransitions: GlassTransition[],
  oneLaw: number,
  draws: number,
): TwoPhaseResult | null {
  if (oneLaw < oneLawHolds) return null;
  const fit = fitTwoPhases(set, startsOf(set, glassTransitions));
  if (fit === null) return null;
  const { rms } = fit.solution;
  if (rms > largestMisfit || rms > misfitLeft * oneLaw) return null;
  const { phases } = fit.solution;
  if (phases.some(({ times_s }) => times_s.length === 0)) return null;
  const governing = governingPhase(set, fit);
  const mixing = fitMixing(set, fit);
  const isMixed = mixing.solution.rms < mixedMisfit * rms;
  const mixed = (model: RelaxationModel, parameters: Float64Array, solution: MixingSolution) =>
    isMixed
      ? {
          ...model,
          mixing: mixingOf(set, parameters, solution, model.law.referenceTemperature_C, mixing.solution.rms),
        }
      : model;
  const model = mixed(modelOf(set, fit.solution, governing, rms), mixing.parameters, mixing.solution);
  const drawnMixing = isMixed ? drawMixing(set, mixing, draws) : [];
  const drawn = drawTwoPhases(set, fit, draws).map((solution, i) => {
    const one = modelOf(set, solution, governing, rms);
    return isMixed ? mixed(one, drawnMixing[i].parameters, drawnMixing[i].solution) : one;
  });
  const described = describePhases(set, fit);
  return {
    model,
    draws: drawn,
    phases: described,
    notice: phasesNotice(described, rms, isMixed ? mixing.solution.rms : null),
  };
}

/** Where the M″ peaks of both phases are sought: at measured peaks, else at shares of the measured temperatures. */
function startsOf(set: IsothermSet, glassTransitions: GlassTransition[]): [number, number][] {
  const { low, high } = range(set.temperature_C);
  const starts: [number, number][] = [];
  const seen: number[] = [];
  for (const { tanDeltaPeak, lossModulusPeak, furtherPeaks, deformation } of glassTransitions) {
    if (deformation !== set.deformation) continue;
    if (lossModulusPeak?.temperature_C != null) seen.push(lossModulusPeak.temperature_C);
    const main = tanDeltaPeak?.temperature_C ?? null;
    if (main !== null) seen.push(main - tanDeltaAbove_K);
    for (const { temperature_C } of phasesAmong(furtherPeaks, tanDeltaPeak?.height ?? 0))
      seen.push(temperature_C - tanDeltaAbove_K);
  }
  const coldest = Math.min(...seen);
  const warmest = Math.max(...seen);
  if (warmest - coldest > 15) starts.push([coldest, warmest]);
  const cold_C = low + 0.2 * (high - low);
  for (const share of [0.3, 0.55]) starts.push([cold_C, cold_C + share * (high - cold_C)]);
  return starts;
}

/** A contact's usual order: the phase whose transition governs there stands first in the model, and what moves the moduli there is drawn best. */
const contact_Hz = 300;

function governingPhase(set: IsothermSet, { solution, parameters }: TwoPhaseFit): 0 | 1 {
  const model = modelOf(set, solution, 1, solution.rms);
  const { low, high } = range(set.temperature_C);
  let peak_C = low;
  let highest = 0;
  for (let T = low; T <= high + 40; T++) {
    const { storageModulus_Pa, lossModulus_Pa } = complexModulus(model, T, contact_Hz);
    if (lossModulus_Pa / storageModulus_Pa > highest) {
      highest = lossModulus_Pa / storageModulus_Pa;
      peak_C = T;
    }
  }
  const warmAtContact_C = peakAt(phaseLaw(parameters, 1), contact_Hz);
  return peak_C >= warmAtContact_C - 3 ? 1 : 0;
}

/** Where a law puts the M″ peak that stands at its reference temperature at 1 Hz. */
function peakAt(law: WlfLaw, frequency_Hz: number): number {
  const decades = log10(frequency_Hz);
  return law.referenceTemperature_C + (decades * law.c2_K) / (law.c1 - Math.min(decades, 0.8 * law.c1));
}

function modelOf(
  set: IsothermSet,
  { phases, equilibriumModulus_Pa }: TwoPhaseSolution,
  governing: 0 | 1,
  misfit: number,
): RelaxationModel {
  // Both laws have a value at the warmer phase's peak.
  const reference_C = phases[1].law.referenceTemperature_C;
  const at = (phase: 0 | 1) => {
    const { law, times_s, moduli_Pa } = phases[phase];
    const aT = exp10(log10ShiftFactor(law, reference_C));
    const window = range(
      set.frequency_Hz.map((f, i) => f * exp10(log10ShiftFactor(law, set.temperature_C[i]))),
    );
    return {
      law: changeReference(law, reference_C),
      times_s: times_s.map((time_s) => time_s * aT),
      moduli_Pa,
      lowestReducedFrequency_Hz: window.low / aT,
      highestReducedFrequency_Hz: window.high / aT,
    };
  };
  const temperatures = range(set.temperature_C);
  return {
    ...at(governing),
    deformation: set.deformation,
    verticalShift: { kind: "off" },
    equilibriumModulus_Pa,
    lowestTemperature_C: temperatures.low,
    highestTemperature_C: temperatures.high,
    furtherPhase: at(governing === 0 ? 1 : 0),
    misfit,
  };
}

function mixingOf(
  set: IsothermSet,
  parameters: Float64Array,
  { phases }: MixingSolution,
  reference_C: number,
  misfit: number,
): PhaseMixing {
  const at = (k: 0 | 1) => {
    const { law, times_s, moduli_Pa, equilibriumModulus_Pa, entropicPart } = phases[k];
    const aT = exp10(log10ShiftFactor(law, reference_C));
    const window = range(
      set.frequency_Hz.map((f, i) => f * exp10(log10ShiftFactor(law, set.temperature_C[i]))),
    );
    const kept = Array.from(times_s.keys()).filter((j) => moduli_Pa[j] > 0);
    const factor = entropicFactor(law, reference_C, entropicPart);
    return {
      law: changeReference(law, reference_C),
      times_s: Float64Array.from(kept, (j) => times_s[j] * aT),
      moduli_Pa: Float64Array.from(kept, (j) => factor * moduli_Pa[j]),
      equilibriumModulus_Pa: factor * equilibriumModulus_Pa,
      entropicPart,
      lowestReducedFrequency_Hz: window.low / aT,
      highestReducedFrequency_Hz: window.high / aT,
    };
  };
  return { exponent: exp(parameters[6]), phases: [at(0), at(1)], misfit };
}

/** The same as `drawTwoPhases` for the rule of mixing, on fewer points and modes: it tells where peaks stand, no more. */
function drawMixing(
  all: TwoPhasePoints,
  { parameters, covariance, solution }: MixingFit,
  count: number,
): { parameters: Float64Array; solution: MixingSolution }[] {
  const points = thinned(all, mostMixedPoints);
  const options = { modesPerDecade: mixedModes, strength: drawnStrength * twoPhaseStrength };
  const undrawn = new MixingSpectra(points, parameters, options);
  const start = undrawn.solve(undrawn.startOf(solution));
  const seen = undrawn
    .seenErrors(start, deviationsOf(solution.residuals), contact_Hz)
    .slice(0, matchedDirections);
  return blendDraws(points, { parameters, covariance }, seen, count).map((drawn) => {
    drawn.parameters[6] = Math.min(0, drawn.parameters[6]);
    const solved = new MixingSpectra(drawn.points, drawn.parameters, options).solve(start, true);
    return { parameters: drawn.parameters, solution: solved };
  });
}

/**
 * The constants from their covariance, the spectra from the data with errors of the residuals' size added once more, along
 * the directions that the spectra see. These are some hundred, and 60 draws can match the moments of some fifty: those that
 * move the moduli at a contact come first, and the foremost in mirrored pairs.
 */
function drawTwoPhases(
  all: TwoPhasePoints,
  { parameters, covariance, solution }: TwoPhaseFit,
  count: number,
): TwoPhaseSolution[] {
  const points = thinned(all, mostDrawnPoints);
  const options = { modesPerDecade: twoPhaseModes, strength: drawnStrength * twoPhaseStrength };
  const seen = new TwoPhaseSpectra(points, parameters, options).seenErrors(
    deviationsOf(solution.residuals),
    contact_Hz,
  );
  let last: TwoPhaseSolution | null = null;
  return blendDraws(points, { parameters, covariance }, seen, count).map((drawn) => {
    last = new TwoPhaseSpectra(drawn.points, drawn.parameters, options).solve(last);
    return last;
  });
}

/** Root mean square of 2n relative residuals, storage first. */
function deviationsOf(residuals: Float64Array): { storage: number; loss: number } {
  const half = residuals.length / 2;
  const deviation = (part: Float64Array) => Math.sqrt(dot(part, 0, part, 0, half) / half);
  return { storage: deviation(residuals.subarray(0, half)), loss: deviation(residuals.subarray(half)) };
}

/**
 * Outer parameters from their covariance, each set with points that bear errors along what the spectra see. Another
 * layout of these moves an end of a peak's interval by 0.04 to 0.1 K, one in ten by 0.2 to 0.6 K (30 made-up blends), of
 * widths of 4 (M″) and 13 K (tan δ).
 */
function blendDraws(
  points: TwoPhasePoints,
  { parameters, covariance }: Pick<TwoPhaseFit, "parameters" | "covariance">,
  seen: Float64Array[],
  count: number,
): { parameters: Float64Array; points: TwoPhasePoints }[] {
  const size = parameters.length;
  const root = covariance.slice();
  const correlated = cholesky(root, size);
  const deviates = matchedDeviates(
    count,
    size + seen.length,
    layoutOfModels("blend"),
    [],
    size + mirroredDirections,
  );
  return Array.from({ length: count }, (_, draw) => {
    const drawn = parameters.slice();
    if (correlated) {
      const z = deviates.map((column) => column[draw]);
      for (let a = 0; a < size; a++) for (let b = 0; b <= a; b++) drawn[a] += root[a * size + b] * z[b];
    }
    if (!(drawn[3] - drawn[0] > 5)) drawn.set(parameters);
    const noisy = {
      ...points,
      storageModulus_Pa: points.storageModulus_Pa.slice(),
      lossModulus_Pa: points.lossModulus_Pa.slice(),
    };
    addErrors(noisy, seen, (k) => deviates[size + k][draw]);
    return { parameters: drawn, points: noisy };
  });
}

const peakStep_K = 0.25;
/**
 * The warmer phase's spectrum also takes in what the colder one's leaves over at its own transition; that is no place of the
 * warmer one. Of 98 made blends it put 18 Tg of the warmer phase 20 to 60 K too cold.
 */
const leastApart_K = 8;

/** The highest maximum over temperature of the M″ of a phase's own spectrum at 1 Hz; where it has none, where its law hangs. */
function lossPeakOfPhase(
  { law, times_s, moduli_Pa }: TwoPhaseSolution["phases"][number],
  { low, high }: { low: number; high: number },
): number {
  const lossAt_Pa = (T: number) => {
    const w = 2 * Math.PI * exp10(log10ShiftFactor(law, T));
    let loss_Pa = 0;
    for (let i = 0; i < times_s.length; i++) {
      const x = w * times_s[i];
      loss_Pa += (moduli_Pa[i] * x) / (1 + x * x);
    }
    return loss_Pa;
  };
  let peak_C = Math.min(high, Math.max(low, law.referenceTemperature_C));
  let highest = 0;
  let [before, here] = [Number.POSITIVE_INFINITY, lossAt_Pa(low)];
  for (let T = low; T <= high; T += peakStep_K) {
    const after = lossAt_Pa(T + peakStep_K);
    if (here > before && here >= after && here > highest) {
      highest = here;
      peak_C = T;
    }
    [before, here] = [here, after];
  }
  return peak_C;
}

function describePhases(set: IsothermSet, { solution, parameters }: TwoPhaseFit): BlendPhase[] {
  const fall = solution.phases.map(({ moduli_Pa }) => moduli_Pa.reduce((a, b) => a + b, 0));
  const measured = range(set.temperature_C);
  const colder_C = lossPeakOfPhase(solution.phases[0], measured);
  const warmer_C = lossPeakOfPhase(solution.phases[1], { ...measured, low: colder_C + leastApart_K });
  return ([0, 1] as const).map((k) => {
    const law = phaseLaw(parameters, k);
    const peak_C = [colder_C, warmer_C][k];
    const glassTemperature_C = conventionalGlassTemperature_C(law, {
      temperature_C: peak_C,
      frequency_Hz: 1,
    });
    const atGlass = changeReference({ ...law, tangentBelow_C: null }, glassTemperature_C);
    return {
      glassTemperature_C,
      lossModulusPeakAt1Hz_C: peak_C,
      shareOfFall: fall[k] / (fall[0] + fall[1]),
      law: { c1: atGlass.c1, c2_K: atGlass.c2_K },
    };
  });
}

/** @param mixedRms what a rule of mixing leaves, where the peaks are read from one */
function phasesNotice(phases: BlendPhase[], rms: number, mixedRms: number | null): Notice {
  const one = ({ glassTemperature_C, shareOfFall, law }: BlendPhase) =>
    `Tg ${temperatureText(glassTemperature_C, 0)} with ${partText(shareOfFall)} of the fall of the storage modulus (C1 ${law.c1.toFixed(1)}, C2 ${fixed(law.c2_K, 0)} K)`;
  return {
    ...coded("fit.two-phases"),
    message: `One shift law does not superpose the isotherms. Two phases, each with its own spectrum and law, do so within ${percentText(rms, 1)} (root mean square): ${one(phases[0])} and ${one(phases[1])}. Predictions of grip and rebound add the two, and their intervals include the misfit.${mixedRms === null ? "" : ` Where the peaks stand at a contact is read from a rule of mixing, which leaves ${percentText(mixedRms, 1)}.`}`,
  };
}
