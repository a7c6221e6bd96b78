import type { DynamicMeasurement } from "../../io/measurement.js";
import { exp10 } from "../../numeric/elementary/exponential.js";
import { hypotenuse } from "../../numeric/elementary/power.js";
import { coded } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { percentText } from "../../words/quantity-text.js";
import { distinctFrequencies } from "../glass/ramp-steps.js";
import type { GlassTransition, Superposition, SuperpositionResult } from "../material.js";
import { layoutOfModels } from "../spectrum/layout-of-models.js";
import { masterCurve, rootMeanSquareLog10 } from "../spectrum/master-curve.js";
import { log10VerticalFactor, type RelaxationModel } from "../spectrum/relaxation-model.js";
import { log10ShiftFactor, vogelTemperature_C, type WlfLaw } from "../spectrum/shift-law.js";
import { drawnSpectrum, modesPerDecadeFor, type Spectrum, solveSpectrum } from "../spectrum/spectrum.js";
import { deriveFromWlf } from "../superposition/describe-superposition.js";
import { conventionalGlassTemperature_C } from "../superposition/law/conventional-glass-temperature.js";
import { type ReducedPoints, range, weightPoints } from "../superposition/shift/reduced-points.js";
import type { SuperpositionSettings } from "../superposition/superposition-settings.js";
import { assumeSuperposition } from "./assumed-superposition.js";
import { reduceSweep, type SweepPoints, sweepModel, sweepPoints, withNoise } from "./assumed-sweep.js";
import { type GlassAnchor, glassAnchor } from "./glass-anchor.js";

/** A larger misfit of both moduli together, relative, says that the law does not reach that far down. */
const largestMisfit = 0.08;
/** Of the least misfit: wider than this the constants contradict the cold isotherms. */
const largestMisfitOfDraw = 1.5;
/** C2 at Tg of the published elastomers is 35 K and more. */
const leastAboveVogel_K = 25;

/**
 * Isotherms in a narrow window of frequencies share no range of modulus where the curve is steepest, so the joint
 * fit ends above the glass transition although the isotherms (or the steps of a ramp at several frequencies) cross
 * it. Where they hold the peak, they are placed:
 *
 * 1. by the compound's own law, fitted to the warm isotherms and carried down to the measured transition. That one
 *    spectrum gives both moduli of isotherms that were not fitted (Kramers and Kronig) is the check; draws of the law
 *    that fail it are dropped.
 * 2. where there is no such law or it fails, by assumed constants hung on the measured Tg, as a sweep is.
 *
 * @param glassTransitions readings of the same measurements: they say where the peak is
 * @returns null where the superposition reaches the peak already or nothing better can be had
 */
export function superposeIntoGlass(
  superposed: SuperpositionResult,
  measurements: DynamicMeasurement[],
  glassTransitions: GlassTransition[],
  settings: SuperpositionSettings,
): SuperpositionResult | null {
  const crossing = measurements.filter(
    ({ kind, frequency_Hz }) =>
      kind === "frequency sweep" ||
      (kind === "temperature sweep" &&
        distinctFrequencies(Array.from(frequency_Hz, (f) => ({ frequency_Hz: f }))).length > 1),
  );
  const deformation = superposed.model?.deformation ?? crossing[0]?.deformation;
  const isotherms = crossing.filter((one) => one.deformation === deformation);
  const readings = glassTransitions.filter(
    (reading) =>
      reading.deformation === deformation &&
      isotherms.some(({ provenance }) => provenance.file === reading.path || reading.origin === "isotherms"),
  );
  const anchor = glassAnchor(readings);
  if (anchor === null) return null;
  const { model } = superposed;
  if (model !== null && reaches(model, anchor.temperature_C, anchor.frequency_Hz)) return null;
  const own = placedByOwnLaw(superposed, sweepPoints(isotherms), anchor);
  if (own !== null) return own;
  const assumed = assumeSuperposition(isotherms, readings, settings);
  if (assumed.model === null) return null;
  return { ...assumed, notices: [...assumed.notices, placedNotice("assumed constants", null)] };
}

/** A model that ends at the peak or above it shows no transition. */
function reaches(model: RelaxationModel, peak_C: number, frequency_Hz: number): boolean {
  const reduced_Hz = frequency_Hz * exp10(log10ShiftFactor(model.law, peak_C));
  return reduced_Hz < 0.5 * model.highestReducedFrequency_Hz;
}

function placedByOwnLaw(
  { superposition, model, draws }: SuperpositionResult,
  sweep: SweepPoints,
  peak: GlassAnchor,
): SuperpositionResult | null {
  if (superposition === null || model === null || superposition.source !== "fitted") return null;
  const law = downTo(model, peak.temperature_C, peak.frequency_Hz);
  if (law === null) return null;
  const points = reduce(sweep, model, law);
  const weighted = weightPoints(points, 1);
  const spectrum = solveSpectrum(weighted, { modesPerDecade: modesPerDecadeFor(weighted) });
  const asDrawn = { ...drawnSpectrum(spectrum, 1), start: spectrum };
  if (spectrum.rms > largestMisfit) return null;
  const temperatures = range(sweep.temperature_C);
  const measured_Hz = range(sweep.frequency_Hz).high;
  const build = (own: WlfLaw, found: Spectrum, of: ReducedPoints): RelaxationModel => ({
    ...sweepModel(own, found, model.deformation, of, temperatures, measured_Hz),
    verticalShift: model.verticalShift,
  });
  const random = layoutOfModels("one law");
  const deviation_K = hypotenuse(peak.deviation_K, peak.betweenSweeps_K);
  const placed: RelaxationModel[] = [];
  for (const draw of draws) {
    const own = downTo(draw, peak.temperature_C + deviation_K * random.normal(), peak.frequency_Hz);
    if (own === null) continue;
    const misfit = solveSpectrum(weightPoints(reduce(sweep, draw, own), 1), asDrawn).rms;
    if (misfit > largestMisfitOfDraw * spectrum.rms) continue;
    const drawn = reduce(withNoise(sweep, { storage: spectrum.rms, loss: spectrum.rms }, random), draw, own);
    placed.push(build(own, solveSpectrum(weightPoints(drawn, 1), asDrawn), drawn));
  }
  if (draws.length > 0 && placed.length < draws.length / 2) return null;
  const built = build(law, spectrum, points);
  return {
    superposition: describe(superposition, built, law, sweep, points),
    model: built,
    draws: placed,
    notices: [placedNotice("the law fitted to the warmer isotherms", spectrum.rms)],
  };
}

/** A model's law, with its tangent below the static Tg that goes with the peak; null where it does not reach there. */
function downTo({ law }: RelaxationModel, peak_C: number, frequency_Hz: number): WlfLaw | null {
  if (law.kind !== "wlf" || peak_C < vogelTemperature_C(law) + leastAboveVogel_K) return null;
  const glass_C = conventionalGlassTemperature_C(law, { temperature_C: peak_C, frequency_Hz });
  if (!(glass_C > vogelTemperature_C(law) + leastAboveVogel_K)) return null;
  return { ...law, tangentBelow_C: glass_C };
}

function reduce(sweep: SweepPoints, { verticalShift }: RelaxationModel, law: WlfLaw): ReducedPoints {
  const scale = sweep.temperature_C.map((t) => exp10(log10VerticalFactor(verticalShift, law, t)));
  return {
    ...reduceSweep(sweep, law),
    storageModulus_Pa: sweep.storageModulus_Pa.map((m, i) => m * scale[i]),
    lossModulus_Pa: sweep.lossModulus_Pa.map((m, i) => m * scale[i]),
  };
}

function describe(
  superposition: Superposition,
  model: RelaxationModel,
  law: WlfLaw,
  sweep: SweepPoints,
  points: ReducedPoints,
): Superposition {
  const curve = masterCurve(
    {
      temperature_C: Array.from(sweep.temperature_C),
      frequency_Hz: Array.from(sweep.frequency_Hz),
      reducedFrequency_Hz: Array.from(points.frequency_Hz),
      storageModulus_Pa: Array.from(points.storageModulus_Pa),
      lossModulus_Pa: Array.from(points.lossModulus_Pa),
    },
    model,
  );
  return {
    ...superposition,
    derived: deriveFromWlf(law, superposition.wlf, law.tangentBelow_C),
    rmsLog10: rootMeanSquareLog10(curve),
    masterCurve: curve,
  };
}

function placedNotice(by: string, rms: number | null): Notice {
  const check =
    rms === null
      ? ""
      : ` One spectrum then gives both moduli of all isotherms within ${percentText(rms, 1)} (root mean square), which a wrong law would not.`;
  return {
    ...coded("fit.isotherms-placed-by-law"),
    message: `Isotherms near the glass transition share no range of modulus with their neighbours, so their shifts cannot be measured; they were placed by ${by}, with Tg read across the isotherms.${check} A wider range of frequencies, or temperatures in between, would settle it.`,
  };
}
