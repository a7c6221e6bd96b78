import type { DynamicMeasurement } from "../../io/measurement.js";
import { exp, exp10 } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import {
  evenOrder,
  groupedDeviates,
  groupSize,
  instrumentScores,
  matchedDeviates,
  shuffled,
} from "../../numeric/statistics/deviates.js";
import { quantile } from "../../numeric/statistics/quantile.js";
import { coded } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { fixed, frequencyText, percentText, temperatureText } from "../../words/quantity-text.js";
import type { GlassTransition, Superposition, SuperpositionResult } from "../material.js";
import { localParabolaRms } from "../spectrum/kramers-kronig.js";
import { layoutOfModels } from "../spectrum/layout-of-models.js";
import { masterCurve, rootMeanSquareLog10 } from "../spectrum/master-curve.js";
import { type ModulusPoints, relativeWeights } from "../spectrum/maxwell-kernel.js";
import { maxwellModulus, type RelaxationModel } from "../spectrum/relaxation-model.js";
import { addErrors, seenErrors } from "../spectrum/seen-errors.js";
import { changeReference, log10ShiftFactor, vogelTemperature_C, type WlfLaw } from "../spectrum/shift-law.js";
import { drawnSpectrum, modesPerDecadeFor, type Spectrum, solveSpectrum } from "../spectrum/spectrum.js";
import { deriveFromWlf } from "../superposition/describe-superposition.js";
import { peakAboveGlassTemperature_K } from "../superposition/law/conventional-glass-temperature.js";
import {
  constantsAtGlassTransition,
  type NamedConstants,
  referenceCurves,
} from "../superposition/law/reference-curves.js";
import {
  type ReducedPoints,
  range,
  referModel,
  weightPoints,
} from "../superposition/shift/reduced-points.js";
import type { SuperpositionSettings } from "../superposition/superposition-settings.js";
import {
  equallyLikely,
  type LawPoint,
  lawAt,
  lawPrior,
  middleLaw,
  type WeightedLaws,
  weighLaws,
} from "./assumed-constants.js";
import {
  assumedLaw,
  intoGlass_K,
  mainPhaseOf,
  reduceSweep,
  type SweepPoints,
  sweepModel,
  sweepPoints,
} from "./assumed-sweep.js";
import { type GlassAnchor, glassAnchor } from "./glass-anchor.js";

/**
 * Superposition of sweeps that cannot give shift factors: assumed constants hung on the measured Tg.
 *
 * Published constants at Tg go with the static Tg, so the measured loss peak is first carried down to it (see
 * conventional-glass-temperature.ts). Below Tg the law goes on as its tangent. All that follows is marked as
 * assumed. The draws take constants about those of the published elastomers, as likely as each brings storage and
 * loss modulus of the sweep together, so that the intervals show how far real constants lie apart; the value is
 * their middle, or what the study states.
 */
export function assumeSuperposition(
  ramps: DynamicMeasurement[],
  glassTransitions: GlassTransition[],
  settings: SuperpositionSettings,
): SuperpositionResult {
  const notices: Notice[] = [];
  const nothing = { superposition: null, model: null, draws: [], notices };
  const { deformation } = ramps[0];
  const anchor = glassAnchor(glassTransitions.filter((reading) => reading.deformation === deformation));
  if (anchor === null) {
    notices.push({
      ...coded("fit.no-glass-transition"),
      message:
        "A sweep at one frequency gives no shift factors, and no peak of M″ or tan δ inside the sweep gives a Tg to hang assumed ones on. Measure through the glass transition, or at several frequencies.",
    });
    return nothing;
  }
  const sweep = sweepPoints(ramps);
  const random = layoutOfModels("one law");
  const temperatures = range(sweep.temperature_C);
  const measured_Hz = range(sweep.frequency_Hz).high;
  const stated = statedConstants(settings);
  const rows = [referenceCurves.universal, ...constantsAtGlassTransition()];
  const prior =
    stated === null
      ? lawPrior(
          rows,
          rows.map(() => 1),
          anchor,
        )
      : lawPrior([...rows, stated], [...rows.map(() => 1), rows.length], anchor);
  const phase = mainPhaseOf(sweep, anchor, glassTransitions);
  const weighed = weighLaws(prior, misfitOf(phase, anchor.temperature_C));
  const law =
    stated === null
      ? lawAt(middleLaw(weighed.points, weighed.weights), anchor.temperature_C)
      : assumedLaw(stated, anchor.temperature_C - peakAboveGlassTemperature_K(anchor.frequency_Hz));
  const glass_C = law.referenceTemperature_C;
  const points = reduceSweep(sweep, law);
  const weighted = (reduced: ReducedPoints) =>
    weightSweep(sweep, reduced, anchor.temperature_C - intoGlass_K);
  const weightedPoints = weighted(points);
  const spectrum = solveSpectrum(weightedPoints, { modesPerDecade: modesPerDecadeFor(weightedPoints) });
  const atGlass = sweepModel(law, spectrum, deformation, points, temperatures, measured_Hz);
  const reference_C = Math.max(settings.referenceTemperature_C ?? glass_C, glass_C);
  const model = referModel(atGlass, changeReference(law, reference_C));
  const groups = shuffled(Math.ceil(settings.draws / groupSize), random);
  const meeting = evenOrder(groups.length);
  const along = groupedDeviates(
    settings.draws,
    [1, -1, -1, 1],
    groups.map((group) => meeting[group]),
  );
  const { laws, columns } = equallyLikely(weighed, anchor.temperature_C, settings.draws, groups, [
    ...instrumentScores(settings.draws),
    along,
  ]);
  const noise = seenErrors(weightedPoints, drawnSpectrum(spectrum, 1).modesPerDecade, {
    storage: roughness(sweep, sweep.storageModulus_Pa),
    loss: roughness(sweep, sweep.lossModulus_Pa),
  });
  const draws = drawAssumed(sweep, laws, reference_C, {
    spectrum,
    misfit: misfitCurve(points, spectrum),
    along,
    noise,
    deviates: matchedDeviates(settings.draws, noise.length, random, [...columns, along]),
    warmer_K: Float64Array.from(laws, () =>
      anchor.betweenSweeps_K > 0 ? anchor.betweenSweeps_K * random.normal() : 0,
    ),
    weighted,
    build: (drawn, drawnSpectrum, drawnPoints) =>
      sweepModel(drawn, drawnSpectrum, deformation, drawnPoints, temperatures, measured_Hz),
  });
  const referred = `referred to Tg ${temperatureText(glass_C, 1)} (the ${anchor.quantity} peak measured at ${temperatureText(anchor.peak_C, 1)} and ${frequencyText(anchor.frequency_Hz)}, less ${fixed(anchor.peak_C - glass_C, 1)} K, its distance above the static Tg${stated === null ? " with these constants" : ""})`;
  const where =
    stated === null
      ? `the middle of those constants that agree with the sweep (C1 ${law.c1.toFixed(1)}, C2 ${fixed(law.c2_K, 1)} K), ${referred}`
      : `${stated.name} (C1 ${stated.c1}, C2 ${stated.c2_K} K), ${referred}`;
  notices.push({
    ...coded("fit.assumed-shift-constants"),
    message: `A sweep at one frequency gives no shift factors, so they are assumed: ${where}. Every number at another temperature or frequency rests on them. Its interval comes from the universal constants, those of ${rows.length - 1} published elastomers (C1 ${span(rows.map((r) => r.c1))}, C2 ${span(rows.map((r) => r.c2_K))} K at Tg) and others near them, each weighted by how well it reconciles storage and loss modulus of the sweep.`,
  });
  const misfit = misfitNotice(spectrum, stated, weighed, anchor);
  if (misfit !== null) notices.push(misfit);
  const superposition = describe(model, draws, laws, where, sweep, points, glass_C);
  return { superposition, model, draws, notices };
}

/** Constants of the study's own; null where the program's universal ones stand, which are one guess among others. */
function statedConstants({ assumed }: SuperpositionSettings): NamedConstants | null {
  const { name, c1, c2_K } = referenceCurves.universal;
  return assumed.name === name && assumed.c1 === c1 && assumed.c2_K === c2_K ? null : assumed;
}

/** Few modes and a weak penalty: what is left over is then the law's fault and not the spectrum's. */
const misfitSpectrum = { modesPerDecade: 2, strength: 1e-4 };

/**
 * Root mean square relative misfit of the best spectrum. Storage and loss modulus of one sweep are bound
 * together through the rate at which temperature moves the relaxation times (Kramers–Kronig), so a wrong law
 * leaves one.
 */
function misfitOf(sweep: SweepPoints, peak_C: number): (point: LawPoint) => number {
  const storageWeight = relativeWeights(sweep.storageModulus_Pa);
  const lossWeight = relativeWeights(sweep.lossModulus_Pa);
  let start: Spectrum | null = null;
  return (point) => {
    const { frequency_Hz, ...moduli } = reduceSweep(sweep, lawAt(point, peak_C));
    const angularFrequency_rad_s = frequency_Hz.map((f) => 2 * Math.PI * f);
    const points = { ...moduli, angularFrequency_rad_s, storageWeight, lossWeight };
    start = solveSpectrum(points, { ...misfitSpectrum, start });
    return start.rms;
  };
}

/** Relative misfit from which on assumed constants are said to contradict the sweep. */
const tellingMisfit = 0.1;

function misfitNotice(
  spectrum: Spectrum,
  stated: NamedConstants | null,
  weighed: WeightedLaws,
  anchor: GlassAnchor,
): Notice | null {
  if (spectrum.rms < tellingMisfit) return null;
  const best = weighed.tried.reduce((a, b) => (b.misfit < a.misfit ? b : a));
  const law = lawAt(best.point, anchor.temperature_C);
  const better =
    best.misfit < 0.7 * spectrum.rms
      ? ` Constants like C1 ${law.c1.toFixed(1)}, C2 ${fixed(law.c2_K, 1)} K at a Tg of ${temperatureText(law.referenceTemperature_C, 0)} would miss by ${percentText(best.misfit, 0)}.`
      : "";
  const name = stated === null ? "the middle of published ones" : stated.name;
  return {
    ...coded("fit.assumed-constants-misfit"),
    message: `With the assumed constants (${name}) no spectrum gives storage and loss modulus of the sweep together: the best one misses them by ${percentText(spectrum.rms, 0)} (root mean square).${better} Measure at several frequencies, or state constants of the compound.`,
  };
}

const span = (values: number[]) => `${Math.min(...values).toFixed(1)} to ${Math.max(...values).toFixed(1)}`;

function describe(
  model: RelaxationModel,
  draws: RelaxationModel[],
  laws: WlfLaw[],
  assumption: string,
  sweep: SweepPoints,
  points: ReducedPoints,
  glass_C: number,
): Superposition {
  const law = model.law as WlfLaw;
  const atReference = laws.flatMap((drawn) => {
    const isAbove = law.referenceTemperature_C > vogelTemperature_C(drawn) + 1;
    return isAbove ? changeReference(drawn, law.referenceTemperature_C) : [];
  });
  const c1 = interval(
    atReference.map((drawn) => drawn.c1),
    law.c1,
  );
  const c2_K = interval(
    atReference.map((drawn) => drawn.c2_K),
    law.c2_K,
  );
  const wlf = {
    c1: law.c1,
    c2_K: law.c2_K,
    c1Low: c1.low,
    c1High: c1.high,
    c2Low_K: c2_K.low,
    c2High_K: c2_K.high,
  };
  const aT = exp10(log10ShiftFactor(law, glass_C));
  const curve = masterCurve(
    {
      temperature_C: Array.from(sweep.temperature_C),
      frequency_Hz: Array.from(sweep.frequency_Hz),
      reducedFrequency_Hz: Array.from(points.frequency_Hz, (f) => f * aT),
      storageModulus_Pa: Array.from(points.storageModulus_Pa),
      lossModulus_Pa: Array.from(points.lossModulus_Pa),
    },
    model,
  );
  return {
    source: "assumed",
    assumption,
    deformation: model.deformation,
    referenceTemperature_C: law.referenceTemperature_C,
    law: "wlf",
    wlf,
    arrhenius: null,
    aicc: { wlf: null, arrhenius: null },
    derived: deriveFromWlf(law, wlf, glass_C),
    shifts: shiftTable(law, draws, model),
    verticalShift: "off",
    rmsLog10: rootMeanSquareLog10(curve),
    thermorheologicallySimple: null,
    simplicity: null,
    masterCurve: curve,
  };
}

/** 95 % interval of draws, opened to hold the value itself; null where there are none. */
function interval(draws: number[], value: number): { low: number | null; high: number | null } {
  if (draws.length === 0) return { low: null, high: null };
  const sorted = Float64Array.from(draws).sort();
  return { low: Math.min(value, quantile(sorted, 0.025)), high: Math.max(value, quantile(sorted, 0.975)) };
}

/** The assumed shift factors every 10 K over the sweep, with the 95 % interval of the draws. */
function shiftTable(law: WlfLaw, draws: RelaxationModel[], model: RelaxationModel): Superposition["shifts"] {
  const shifts: Superposition["shifts"] = [];
  for (let t = Math.ceil(model.lowestTemperature_C / 10) * 10; t <= model.highestTemperature_C; t += 10) {
    // A draw whose reference is its own Tg is compared at the common reference.
    const spread = Float64Array.from(
      draws,
      (draw) => log10ShiftFactor(draw.law, t) - log10ShiftFactor(draw.law, law.referenceTemperature_C),
    ).sort();
    shifts.push({
      temperature_C: t,
      log10aT: log10ShiftFactor(law, t),
      log10aTLow: spread.length > 0 ? quantile(spread, 0.025) : null,
      log10aTHigh: spread.length > 0 ? quantile(spread, 0.975) : null,
      log10bT: 0,
    });
  }
  return shifts;
}

/** Rows in the glass, where the secondary relaxation has another law, are followed by this share of the others' trust. */
const glassTrust = 0.25;

function weightSweep(sweep: SweepPoints, points: ReducedPoints, glassBelow_C: number): ModulusPoints {
  const weighted = weightPoints(points, 1);
  let glassFrom_rad_s = 0;
  for (let i = 0; i < points.frequency_Hz.length; i++) {
    if (sweep.temperature_C[i] >= glassBelow_C) {
      glassFrom_rad_s = Math.max(glassFrom_rad_s, weighted.angularFrequency_rad_s[i]);
    } else {
      weighted.storageWeight[i] *= glassTrust;
      weighted.lossWeight[i] *= glassTrust;
    }
  }
  return { ...weighted, glassFrom_rad_s };
}

/** What no law removes, as natural logs of model over measured: a secondary relaxation, a filler's network. */
interface MisfitCurve {
  storage: Float64Array;
  loss: Float64Array;
}

function misfitCurve(points: ReducedPoints, spectrum: Spectrum): MisfitCurve {
  const storage = new Float64Array(points.frequency_Hz.length);
  const loss = new Float64Array(points.frequency_Hz.length);
  const ratio = (model_Pa: number, measured_Pa: number) => (measured_Pa > 0 ? ln(model_Pa / measured_Pa) : 0);
  for (let i = 0; i < storage.length; i++) {
    const modulus = maxwellModulus(spectrum, 2 * Math.PI * points.frequency_Hz[i]);
    storage[i] = ratio(modulus.storageModulus_Pa, points.storageModulus_Pa[i]);
    loss[i] = ratio(modulus.lossModulus_Pa, points.lossModulus_Pa[i]);
  }
  return { storage, loss };
}

/**
 * How far the draws move the data along the misfit curve, in its own size. On 60 made-up sweeps, half of them with a
 * secondary relaxation, 95 % intervals of rebound held the truth in 67 % without and in 91 % with it, those of friction
 * in 66 and 92 %.
 */
const misfitMoves = 1.5;

interface AssumedDraw {
  /** Of the sweep itself. */
  spectrum: Spectrum;
  misfit: MisfitCurve;
  /** How far each draw is moved along it: standard normal deviates. */
  along: Float64Array;
  /** Directions of the sweep's own noise, and how far each draw goes along each. */
  noise: Float64Array[];
  deviates: Float64Array[];
  /** By how much warmer than the mean of these sweeps that of all sweeps would be, in each draw. */
  warmer_K: Float64Array;
  weighted: (points: ReducedPoints) => ModulusPoints;
  build: (law: WlfLaw, spectrum: Spectrum, points: ReducedPoints) => RelaxationModel;
}

/**
 * Equally likely models of a sweep at one frequency: one for each law, from the sweep with noise of its own size
 * added once more and moved along what no law removes.
 * @param laws as likely as each other, each at its own Tg
 */
function drawAssumed(
  sweep: SweepPoints,
  laws: WlfLaw[],
  reference_C: number,
  { spectrum: best, misfit, along, noise, deviates, warmer_K, weighted, build }: AssumedDraw,
): RelaxationModel[] {
  const options = drawnSpectrum(best, 1);
  let start: Spectrum | null = null;
  return laws.map((law, k) => {
    const far = misfitMoves * along[k];
    const moved: SweepPoints = {
      ...sweep,
      temperature_C: sweep.temperature_C.map((t) => t + warmer_K[k]),
      storageModulus_Pa: sweep.storageModulus_Pa.map((m, i) => m * exp(far * misfit.storage[i])),
      lossModulus_Pa: sweep.lossModulus_Pa.map((m, i) => m * exp(far * misfit.loss[i])),
    };
    addErrors(moved, noise, (direction) => deviates[direction][k]);
    const points = reduceSweep(moved, law);
    const spectrum = solveSpectrum(weighted(points), { ...options, start });
    start = spectrum;
    const model = build(law, spectrum, points);
    // Where the common reference lies in this draw's glass, its own Tg is the reference.
    const usable = reference_C >= law.referenceTemperature_C && reference_C > vogelTemperature_C(law) + 1;
    return usable ? referModel(model, changeReference(law, reference_C)) : model;
  });
}

/** Relative noise of a modulus from its smoothness against temperature, 1 % (common practice) where that cannot be told. */
function roughness(sweep: SweepPoints, modulus_Pa: Float64Array): number {
  const kept = Array.from(modulus_Pa.keys()).filter((i) => modulus_Pa[i] > 0);
  const noise = localParabolaRms(
    kept.map((i) => sweep.temperature_C[i]),
    kept.map((i) => ln(modulus_Pa[i])),
  );
  return Number.isFinite(noise) ? Math.min(noise, 0.1) : 0.01;
}
