import { phaseShare } from "../../fit/glass/separate-phases.js";
import {
  log10VerticalFactor,
  maxwellModulus,
  type RelaxationModel,
} from "../../fit/spectrum/relaxation-model.js";
import { exp10 } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { temperatureAtShift } from "./measured-reach.js";

/** The glass transition that governs a compound at one frequency, found on its model. */
export interface GlassAtFrequency {
  tanDeltaPeak_C: number;
  /** Null where the M″ peak lies colder than the model was measured. */
  lossModulusPeak_C: number | null;
  /** A further tan δ peak on the warm side: a second phase that is still in its transition there. */
  warmerPhase_C: number | null;
  /** The same on the cold side. */
  colderPhase_C: number | null;
}

/** Why no transition was found: where the peak must lie against what was measured. */
export type GlassAbsence = "colder than measured" | "warmer than measured" | "no peak";

const pointsPerDecade = 20;
/** A maximum of M″ counts as a peak of its own when it stands this factor above the valley beside it. */
const lossModulusProminence = 1.1;
/** A further phase's tan δ peak stands this factor above the valley between the phases. */
const phaseProminence = 1.15;

/**
 * The tan δ and M″ peaks over temperature at a fixed frequency, from the master curve.
 *
 * Rule where there are several peaks (blends): the highest tan δ peak governs, and its M″ peak is the
 * nearest one on its cold side. Other tan δ peaks are reported beside it. Only peaks inside the measured
 * reduced frequencies count; one at their edge is no peak.
 * @example glassAtFrequency(exampleModel(), 1).tanDeltaPeak_C // -48.1…
 */
export function glassAtFrequency(
  model: RelaxationModel,
  frequency_Hz: number,
): GlassAtFrequency | { absent: GlassAbsence } {
  const curve = reducedCurve(model);
  const peaks = maxima(curve.tanDelta, 1.02);
  const last = curve.tanDelta.length - 1;
  if (peaks.length === 0) {
    if (curve.tanDelta[last] > curve.tanDelta[0]) return { absent: "colder than measured" };
    return { absent: curve.tanDelta[0] > 0 ? "warmer than measured" : "no peak" };
  }
  const governing = peaks.reduce((a, b) => (curve.tanDelta[b] > curve.tanDelta[a] ? b : a));
  if (curve.tanDelta[last] > curve.tanDelta[governing]) return { absent: "colder than measured" };
  if (curve.tanDelta[0] > curve.tanDelta[governing]) return { absent: "warmer than measured" };

  const temperatureAt = (at: number) =>
    temperatureAtShift(model.law, curve.from + at / pointsPerDecade - log10(frequency_Hz));
  const tanDeltaPeak_C = temperatureAt(vertex(curve.tanDelta, governing));
  if (tanDeltaPeak_C === null) return { absent: "warmer than measured" };

  const lossModulus = curve.lossModulus_Pa.map((lossModulus_Pa, i) => {
    const temperature_C = temperatureAt(i);
    if (temperature_C === null) return lossModulus_Pa;
    return lossModulus_Pa * exp10(-log10VerticalFactor(model.verticalShift, model.law, temperature_C));
  });
  // Rising reduced frequency is falling temperature: the cold side lies at higher indices.
  const coldSide = lossModulus.subarray(governing);
  const lossPeak = maxima(coldSide, lossModulusProminence)[0];
  const phases = maxima(curve.tanDelta, phaseProminence).filter(
    (i) => i !== governing && curve.tanDelta[i] >= phaseShare * curve.tanDelta[governing],
  );
  const warmer = phases.filter((i) => i < governing)[0];
  const colder = phases.filter((i) => i > governing).at(-1);
  return {
    tanDeltaPeak_C,
    lossModulusPeak_C:
      lossPeak === undefined ? null : temperatureAt(vertex(lossModulus, governing + lossPeak)),
    warmerPhase_C: warmer === undefined ? null : temperatureAt(warmer),
    colderPhase_C: colder === undefined ? null : temperatureAt(colder),
  };
}

interface ReducedCurve {
  /** log10 of the first reduced frequency in Hz. */
  from: number;
  tanDelta: Float64Array;
  lossModulus_Pa: Float64Array;
}

const curves = new WeakMap<RelaxationModel, ReducedCurve>();

/** tan δ and M″ over the measured reduced frequencies; kept per model, for many uses ask for it. */
function reducedCurve(model: RelaxationModel): ReducedCurve {
  const known = curves.get(model);
  if (known !== undefined) return known;
  const { from, to } = measuredDecades(model);
  const count = Math.max(2, Math.floor((to - from) * pointsPerDecade) + 1);
  const tanDelta = new Float64Array(count);
  const lossModulus_Pa = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const modulus = maxwellModulus(model, 2 * Math.PI * exp10(from + i / pointsPerDecade));
    tanDelta[i] = modulus.storageModulus_Pa > 0 ? modulus.lossModulus_Pa / modulus.storageModulus_Pa : 0;
    lossModulus_Pa[i] = modulus.lossModulus_Pa;
  }
  const curve = { from, tanDelta, lossModulus_Pa };
  curves.set(model, curve);
  return curve;
}

/** log10 of the measured reduced frequencies; a model without bounds reaches as far as its modes. */
function measuredDecades(model: RelaxationModel): { from: number; to: number } {
  let slowest_s = 0;
  let fastest_s = Number.POSITIVE_INFINITY;
  for (const time_s of model.times_s) {
    slowest_s = Math.max(slowest_s, time_s);
    fastest_s = Math.min(fastest_s, time_s);
  }
  const { lowestReducedFrequency_Hz: low, highestReducedFrequency_Hz: high } = model;
  return {
    from: log10(low > 0 ? low : 0.1 / (2 * Math.PI * slowest_s)),
    to: log10(Number.isFinite(high) ? high : 10 / (2 * Math.PI * fastest_s)),
  };
}

/**
 * Indices of the local maxima that stand at least `prominence` times above the higher of the two valleys that
 * part them from higher ground, ascending.
 */
function maxima(values: Float64Array, prominence: number): number[] {
  const found: number[] = [];
  for (let i = 1; i < values.length - 1; i++) {
    if (!(values[i] > values[i - 1] && values[i] >= values[i + 1])) continue;
    if (values[i] >= prominence * valley(values, i, -1) && values[i] >= prominence * valley(values, i, 1)) {
      found.push(i);
    }
  }
  return found;
}

/** Lowest value between a maximum and the next higher ground in one direction, or the edge. */
function valley(values: Float64Array, at: number, direction: 1 | -1): number {
  let lowest = values[at];
  for (let i = at + direction; i >= 0 && i < values.length && values[i] <= values[at]; i += direction) {
    lowest = Math.min(lowest, values[i]);
  }
  return lowest;
}

/** Place of the maximum of the parabola through a sample and its neighbours, as a fractional index. */
function vertex(values: Float64Array, i: number): number {
  const curvature = values[i - 1] - 2 * values[i] + values[i + 1];
  return curvature < 0 ? i + (values[i - 1] - values[i + 1]) / (2 * curvature) : i;
}
