import type { Deformation, DynamicMeasurement } from "../../io/measurement.js";
import { exp10 } from "../../numeric/elementary/exponential.js";
import { square } from "../../numeric/elementary/power.js";
import { coded } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { statedTemperature, temperatureText } from "../../words/quantity-text.js";
import { separatePhases } from "../glass/separate-phases.js";
import type { GlassTransition, MasterCurve, Superposition, SuperpositionResult } from "../material.js";
import { layoutOfModels } from "../spectrum/layout-of-models.js";
import { masterCurve, rootMeanSquareLog10 } from "../spectrum/master-curve.js";
import { misfitOfPeaks } from "../spectrum/phase-mixing.js";
import { complexModulus, log10VerticalFactor, type RelaxationModel } from "../spectrum/relaxation-model.js";
import { log10ShiftFactor, type ShiftLaw } from "../spectrum/shift-law.js";
import { solveSpectrum } from "../spectrum/spectrum.js";
import {
  deriveFromWlf,
  describeArrhenius,
  describeShifts,
  describeWlf,
  isStraight,
  lossPeakOf,
} from "./describe-superposition.js";
import { glassOf, simplicityOf } from "./fit-outside-glass.js";
import { fitRobustly } from "./fit-robustly.js";
import { type IsothermSet, isothermsOf } from "./isotherms/isotherms.js";
import { withoutModuli } from "./isotherms/misfitting-points.js";
import { type OutlyingModulus, roughPoints } from "./isotherms/rough-points.js";
import type { Simplicity } from "./isotherms/simplicity.js";
import { lawShift } from "./law/law-fit.js";
import { drawModels } from "./model-draws.js";
import { misfit } from "./shift/choose-vertical.js";
import { type ReducedPoints, range, reducePoints, weightPoints } from "./shift/reduced-points.js";
import type { SuperpositionFit } from "./shift/superposition-fit.js";
import { fittedVertical } from "./shift/vertical-factor.js";
import { SuperposedModel } from "./superposed-model.js";
import {
  checkIsotherms,
  glassNotice,
  isothermNotices,
  lawNotices,
  setNotices,
  undeterminedNotice,
} from "./superposition-checks.js";
import type { SuperpositionSettings } from "./superposition-settings.js";
import { twoPhaseModel } from "./two-phase-model.js";

/** What the isotherms alone give. */
export interface SuperposedIsotherms extends SuperpositionResult {
  /** Said of isotherms that share no range with the others; void where a law places them after all. */
  apart: Notice[];
}

/**
 * Time–temperature superposition of the isotherms of one compound (frequency sweeps, and temperature ramps at several
 * frequencies regrouped on their temperatures): shift factors, law and spectrum by a joint fit. Nothing is made up:
 * where the data do not allow it the superposition and the model are null and a notice says why.
 *
 * @param measurements of one deformation mode
 * @param glassTransitions readings of the same measurements, for Tg
 */
export function superposeIsotherms(
  measurements: DynamicMeasurement[],
  deformation: Deformation,
  glassTransitions: GlassTransition[],
  settings: SuperpositionSettings,
): SuperposedIsotherms {
  const set = isothermsOf(measurements, deformation);
  const rough = roughPoints(set);
  const { used, notices, apart } = checkIsotherms(withoutModuli(set, rough), glassTransitions);
  if (used === null) return { superposition: null, model: null, draws: [], notices, apart };
  const fitted = superposeChecked(used, rough, glassTransitions, settings);
  return { ...fitted, notices: [...notices, ...fitted.notices], apart };
}

/** The mode with the most isotherms, then the most points; the modes are never mixed. */
export function chooseDeformation(measurements: DynamicMeasurement[], notices: Notice[]): Deformation | null {
  const sweeps = measurements.filter((m) => m.kind !== "strain sweep");
  const modes = [...new Set(sweeps.map((m) => m.deformation))];
  if (modes.length === 0) return null;
  const merit = (mode: Deformation) => {
    const { isotherms, frequency_Hz } = isothermsOf(sweeps, mode);
    const points = sweeps.reduce((sum, m) => sum + (m.deformation === mode ? m.frequency_Hz.length : 0), 0);
    return (isotherms.length >= 3 ? 1e6 + frequency_Hz.length : 0) + points / 1e3;
  };
  const best = modes.reduce((a, b) => (merit(b) > merit(a) ? b : a));
  if (modes.length > 1) {
    notices.push({
      ...coded("fit.deformation-chosen"),
      message: `Superposition uses the measurements in ${best}, which have the most isotherms; those in ${modes
        .filter((mode) => mode !== best)
        .join(" and ")} are kept apart, since one modulus is not turned into the other.`,
    });
  }
  return best;
}

/** Of the noise, where nothing but isotherms that leave the law speaks for a second phase. */
const phaseMisfit = 1.5;

function superposeChecked(
  checked: IsothermSet,
  rough: OutlyingModulus[],
  glassTransitions: GlassTransition[],
  settings: SuperpositionSettings,
): SuperpositionResult {
  const notices: Notice[] = [];
  const nothing = { superposition: null, model: null, draws: [], notices };
  const robust = fitRobustly(checked, rough, glassTransitions, settings);
  if (robust === null) return nothing;
  const { fit, split, measured, density, departTogether } = robust;
  notices.push(...robust.notices);
  const plots = simplicityOf(measured, fit, density);
  const phases = separatePhases(glassTransitions);
  // Phases far apart pass through moduli of their own, so that the plots may show one line where two laws are at work.
  const simplicity = plots && { ...plots, simple: plots.simple && phases === null };
  const undetermined = undeterminedNotice(fit);
  // Where one law fails two may hold.
  if (undetermined !== null && simplicity?.simple !== false) {
    return { ...nothing, notices: [...robust.offTheLaw, ...notices, undetermined] };
  }
  notices.push(...isothermNotices(fit, plots, phases));
  if (robust.verticalChoice !== null) notices.push(robust.verticalChoice);
  const glass = glassOf(split.glass, fit, density);

  const home_C = fit.chosen.shape.reference_C;
  const points = reducePoints(fit.set, fit.chosen.shape, fit.chosen.parameters, fit.log10bT);
  const noise = Math.sqrt(fit.free.variance);
  const above = solveSpectrum(weightPoints(points, fit.lossTrust), { noise });
  const peak = lossPeakOf(glassTransitions, fit.set.deformation, above, range(points.frequency_Hz), home_C);
  const vertical = settings.verticalShift === "fitted" ? fittedVertical(fit) : density;
  const maker = new SuperposedModel(fit, glass, vertical, peak);
  const all = glass === null ? points : maker.points(fit.chosen);
  const spectrum = glass === null ? above : solveSpectrum(maker.weighted(all), { noise });
  const reference_C = usableReference(
    settings.referenceTemperature_C,
    maker.law(fit.chosen),
    home_C,
    notices,
  );
  const model = maker.build(fit.chosen, spectrum, all, reference_C);
  if (model === null) return nothing;
  const superposition = describe(fit, model, simplicity, points, maker.glassTemperature_C(fit.chosen));
  if (simplicity?.simple === false || departTogether) {
    const { forTwoLaws } = robust;
    const blend = twoPhaseModel(forTwoLaws, glassTransitions, misfitOf(forTwoLaws, model), settings.draws);
    // Errors of the oven at the warm end two laws follow to some hundredths; a phase to little more than the noise.
    if (
      blend !== null &&
      (simplicity?.simple === false || misfitOfPeaks(blend.model)! < phaseMisfit * misfit(fit))
    ) {
      const curve = curveOfBlend(forTwoLaws, blend.model);
      return {
        superposition: {
          ...superposition,
          thermorheologicallySimple: false,
          phases: blend.phases,
          masterCurve: curve,
          rmsLog10: rootMeanSquareLog10(curve),
        },
        model: blend.model,
        draws: blend.draws,
        notices: [...setNotices(fit.set, null), ...notices, blend.notice],
      };
    }
  }
  // What stands off the one law is said where that is all there is.
  notices.unshift(...robust.offTheLaw);
  if (undetermined !== null) return { ...nothing, notices: [...notices, undetermined] };
  const random = layoutOfModels("one law");
  const draws = drawModels(maker, spectrum, settings.draws, reference_C, random);
  const ofOneLaw = [...lawNotices(fit), ...(glass === null ? [] : [glassNotice(glass)])];
  return {
    superposition,
    model,
    draws,
    notices: [...setNotices(fit.set, fit.chosen), ...ofOneLaw, ...notices],
  };
}

/** The reference asked for where the law has a value there, else the reference isotherm with a notice. */
function usableReference(wanted: number | null, law: ShiftLaw, home_C: number, notices: Notice[]): number {
  if (wanted === null) return home_C;
  const lowest_C =
    law.kind === "wlf"
      ? Math.max(law.tangentBelow_C ?? -273, law.referenceTemperature_C - law.c2_K + 5)
      : -273;
  if (wanted >= lowest_C) return wanted;
  notices.push({
    ...coded("fit.reference-temperature"),
    message: `The reference temperature ${statedTemperature(wanted)} lies below ${temperatureText(lowest_C, 1)}, where the WLF curve of this compound ends; ${temperatureText(home_C, 1)} was taken instead.`,
  });
  return home_C;
}

function describe(
  fit: SuperpositionFit,
  model: RelaxationModel,
  simplicity: Simplicity | null,
  points: ReducedPoints,
  glassTemperature_C: number | null,
): Superposition {
  const { law } = model;
  const reference_C = law.referenceTemperature_C;
  const { shape, parameters } = fit.chosen;
  const wlf = describeWlf(fit.wlf, reference_C);
  const curve = masterCurveOf(fit, model, points);
  return {
    source: "fitted",
    assumption: null,
    deformation: fit.set.deformation,
    referenceTemperature_C: reference_C,
    law: law.kind,
    wlf,
    arrhenius: describeArrhenius(fit.arrhenius),
    aicc: {
      wlf: fit.wlf === null || isStraight(fit.wlf) ? null : fit.wlf.aicc,
      arrhenius: fit.arrhenius?.aicc ?? null,
    },
    derived: deriveFromWlf(law, wlf, glassTemperature_C),
    shifts: describeShifts(fit, lawShift(shape, parameters, reference_C), (k) =>
      log10VerticalFactor(model.verticalShift, law, fit.set.isotherms[k].temperature_C),
    ),
    verticalShift: model.verticalShift.kind,
    rmsLog10: rootMeanSquareLog10(curve),
    thermorheologicallySimple: simplicity?.simple ?? null,
    simplicity: simplicity === null ? null : withoutVerdict(simplicity),
    masterCurve: curve,
  };
}

/** Root mean square relative misfit of a model to all isotherms, those in the glass too. */
function misfitOf(set: IsothermSet, model: RelaxationModel): number {
  let sum = 0;
  let count = 0;
  const add = (ratio: number) => {
    if (!Number.isFinite(ratio)) return;
    sum += square(ratio - 1);
    count++;
  };
  for (let i = 0; i < set.frequency_Hz.length; i++) {
    const modulus = complexModulus(model, set.temperature_C[i], set.frequency_Hz[i]);
    add(modulus.storageModulus_Pa / set.storageModulus_Pa[i]);
    add(modulus.lossModulus_Pa / set.lossModulus_Pa[i]);
  }
  return Math.sqrt(sum / count);
}

/** The isotherms of a blend have no master curve; placed by the governing phase's law, with what both phases leave over. */
function curveOfBlend(set: IsothermSet, model: RelaxationModel): MasterCurve {
  return masterCurve(
    {
      temperature_C: Array.from(set.temperature_C),
      frequency_Hz: Array.from(set.frequency_Hz),
      reducedFrequency_Hz: Array.from(
        set.frequency_Hz,
        (f, i) => f * exp10(log10ShiftFactor(model.law, set.temperature_C[i])),
      ),
      storageModulus_Pa: Array.from(set.storageModulus_Pa),
      lossModulus_Pa: Array.from(set.lossModulus_Pa),
    },
    model,
  );
}

function withoutVerdict({ simple: _, ...figures }: Simplicity): Superposition["simplicity"] {
  return figures;
}

/** The reduced points at the model's own reference with what the model leaves over. */
function masterCurveOf(fit: SuperpositionFit, model: RelaxationModel, points: ReducedPoints): MasterCurve {
  const home_C = fit.chosen.shape.reference_C;
  const aT = exp10(log10ShiftFactor(model.law, home_C));
  const bT = exp10(log10VerticalFactor(model.verticalShift, model.law, home_C));
  return masterCurve(
    {
      temperature_C: Array.from(fit.set.temperature_C),
      frequency_Hz: Array.from(fit.set.frequency_Hz),
      reducedFrequency_Hz: Array.from(points.frequency_Hz, (f) => f * aT),
      storageModulus_Pa: Array.from(points.storageModulus_Pa, (m) => m * bT),
      lossModulus_Pa: Array.from(points.lossModulus_Pa, (m) => m * bT),
    },
    model,
  );
}
