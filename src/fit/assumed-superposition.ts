import { exp10 } from "../elementary/exponential.js";
import { hypotenuse } from "../elementary/power.js";
import type { DynamicMeasurement } from "../io/measurement.js";
import type { Notice } from "../io/problem.js";
import { carriedDownDeviation_K, drawAssumed } from "./assumed-draws.js";
import { assumedLaw, reduceSweep, type SweepPoints, sweepModel, sweepPoints } from "./assumed-sweep.js";
import { peakAboveGlassTemperature_K } from "./conventional-glass-temperature.js";
import { deriveFromWlf } from "./describe-superposition.js";
import { glassAnchor } from "./glass-anchor.js";
import { masterCurve, rootMeanSquareLog10 } from "./master-curve.js";
import type { GlassTransition, Superposition } from "./material.js";
import { quantile } from "./quantile.js";
import { seededRandom, seedFromText } from "./random.js";
import { type ReducedPoints, range, referModel, weightPoints } from "./reduced-points.js";
import { constantsAtGlassTransition, type NamedConstants } from "./reference-curves.js";
import type { RelaxationModel } from "./relaxation-model.js";
import { changeReference, log10ShiftFactor, type WlfLaw } from "./shift-law.js";
import { type Spectrum, solveSpectrum } from "./spectrum.js";
import type { SuperpositionResult } from "./superpose.js";
import type { SuperpositionSettings } from "./superposition-settings.js";

/**
 * Superposition of sweeps that cannot give shift factors: named constants hung on the measured Tg.
 *
 * Published constants at Tg go with the static Tg, so the measured loss peak is first carried down to it (see
 * conventional-glass-temperature.ts). Below Tg the law goes on as its tangent. All that follows is marked as
 * assumed, and every draw takes the constants of one of the published elastomers, so that the intervals show
 * how far real constants lie apart.
 */
export function assumeSuperposition(
  compound: string,
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
      severity: "caution",
      code: "fit.no-glass-transition",
      message:
        "A sweep at one frequency gives no shift factors, and no peak of M″ or tan δ inside the sweep gives a Tg to hang assumed ones on. Measure through the glass transition, or at several frequencies.",
    });
    return nothing;
  }
  const glass_C = anchor.temperature_C - peakAboveGlassTemperature_K(anchor.frequency_Hz);
  const law = assumedLaw(settings.assumed, glass_C);
  const sweep = sweepPoints(ramps);
  const temperatures = range(sweep.temperature_C);
  const points = reduceSweep(sweep, law);
  const spectrum = solveSpectrum(weightPoints(points, 1), { modesPerDecade: 5 });
  const atGlass = sweepModel(law, spectrum, deformation, points, temperatures);
  const reference_C = Math.max(settings.referenceTemperature_C ?? glass_C, glass_C);
  const model = referModel(atGlass, changeReference(law, reference_C));
  const rows = constantsAtGlassTransition();
  const draws = drawAssumed(
    sweep,
    rows,
    { mean: glass_C, deviation: hypotenuse(anchor.deviation_K, carriedDownDeviation_K) },
    reference_C,
    settings.draws,
    seededRandom(seedFromText(compound) ^ settings.seed),
    (drawn, drawnSpectrum, drawnPoints) =>
      sweepModel(drawn, drawnSpectrum, deformation, drawnPoints, temperatures),
  );
  const where = `${nameOf(settings.assumed)}, hung on Tg ${glass_C.toFixed(1)} °C (the ${anchor.quantity} peak measured at ${anchor.peak_C.toFixed(1)} °C and ${+anchor.frequency_Hz.toPrecision(3)} Hz, less the ${(anchor.peak_C - glass_C).toFixed(1)} K by which it lies above the static Tg)`;
  notices.push({
    severity: "caution",
    code: "fit.assumed-shift-constants",
    message: `A sweep at one frequency gives no shift factors. Assumed: ${where}. Every number at another temperature or frequency leans on this; its interval comes from the constants of ${rows.length} published elastomers (C1 ${span(rows.map((r) => r.c1))}, C2 ${span(rows.map((r) => r.c2_K))} K at Tg).`,
  });
  const misfit = misfitNotice(settings.assumed, spectrum, sweep, rows, glass_C);
  if (misfit !== null) notices.push(misfit);
  const superposition = describe(model, draws, where, sweep, points, glass_C, rows);
  return { superposition, model, draws, notices };
}

/** Relative misfit from which on assumed constants are said to contradict the sweep. */
const tellingMisfit = 0.1;

/**
 * Storage and loss modulus of one sweep are bound together through the rate at which temperature moves the
 * relaxation times (Kramers–Kronig), so wrong constants leave a misfit; where published ones leave much less,
 * they are named.
 */
function misfitNotice(
  assumed: NamedConstants,
  spectrum: Spectrum,
  sweep: SweepPoints,
  rows: NamedConstants[],
  glass_C: number,
): Notice | null {
  if (spectrum.rms < tellingMisfit) return null;
  const tried = rows.map((row) => {
    const points = reduceSweep(sweep, assumedLaw(row, glass_C));
    return {
      row,
      rms: solveSpectrum(weightPoints(points, 1), { modesPerDecade: 5, strength: spectrum.strength }).rms,
    };
  });
  const best = tried.reduce((a, b) => (b.rms < a.rms ? b : a));
  const better =
    best.rms < 0.7 * spectrum.rms
      ? ` The constants of ${best.row.name} (C1 ${best.row.c1.toFixed(2)}, C2 ${best.row.c2_K.toFixed(1)} K at Tg) would miss by ${(100 * best.rms).toFixed(0)} %.`
      : "";
  return {
    severity: "caution",
    code: "fit.assumed-constants-misfit",
    message: `With the assumed constants (${nameOf(assumed)}) no spectrum gives storage and loss modulus of the sweep together: the best one misses them by ${(100 * spectrum.rms).toFixed(0)} % (root mean square).${better} Measure at several frequencies, or state constants of the compound.`,
  };
}

const nameOf = ({ name, c1, c2_K }: NamedConstants) => `${name} (C1 ${c1}, C2 ${c2_K} K)`;
const span = (values: number[]) => `${Math.min(...values).toFixed(1)} to ${Math.max(...values).toFixed(1)}`;

function describe(
  model: RelaxationModel,
  draws: RelaxationModel[],
  assumption: string,
  sweep: SweepPoints,
  points: ReducedPoints,
  glass_C: number,
  rows: NamedConstants[],
): Superposition {
  const law = model.law as WlfLaw;
  const moved = rows.map((row) => changeReference(assumedLaw(row, glass_C), law.referenceTemperature_C));
  const c1 = range(moved.map((row) => row.c1));
  const c2_K = range(moved.map((row) => row.c2_K));
  const wlf = {
    c1: law.c1,
    c2_K: law.c2_K,
    c1Low: Math.min(c1.low, law.c1),
    c1High: Math.max(c1.high, law.c1),
    c2Low_K: Math.min(c2_K.low, law.c2_K),
    c2High_K: Math.max(c2_K.high, law.c2_K),
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
