import { exp } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { evenlySpacedModuli } from "../spectrum/evenly-spaced-moduli.js";
import { misfitOfPeaks } from "../spectrum/phase-mixing.js";
import { complexModulus, type RelaxationModel, verticalFactor } from "../spectrum/relaxation-model.js";
import { log10ShiftFactor, temperatureAtShift } from "../spectrum/shift-law.js";
import { type BlendCurve, blendCurve, blendStep_K } from "./blend-table.js";
import { phaseShare } from "./separate-phases.js";

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
/** A maximum of tan δ counts from this factor above the valleys beside it. */
const tanDeltaProminence = 1.02;
/** A maximum of M″ counts as a peak of its own when it stands this factor above the valley beside it. */
export const lossModulusProminence = { oneLaw: 1.1, blend: 1.05 };
/** A further phase's tan δ peak stands this factor above the valley between the phases. */
const phaseProminence = 1.15;
/** Across the M″ peak of a glass transition M′ falls by this factor within two decades; across that of a secondary relaxation it does not. */
const leastFall = { oneLaw: 2, blend: 1.3 };
/** In half decades. */
const fallOver = 4;
/** A curve that climbs by more than this over its last half decade has its peak beyond the edge. */
const risesBy = 1.02;
const pointsPerHalfDecade = pointsPerDecade / 2;
/** Below this M′ (in tension; a third of it in shear) a tan δ that rises on the slow side is terminal flow (common practice). */
const flowModulus_Pa = 3e5;

/**
 * Where a peak stands at a frequency by one model: both ends alike where the model shows it, a half-open interval
 * where the curve only climbs to an edge of what was measured, open on both sides where it says nothing.
 */
export interface PeakPlace {
  low_C: number;
  high_C: number;
}

const openPlace: PeakPlace = { low_C: Number.NEGATIVE_INFINITY, high_C: Number.POSITIVE_INFINITY };
/** Whether the place of a peak is a single temperature. */
export const isPoint = ({ low_C, high_C }: PeakPlace) => low_C === high_C;

/** The glass transition at one frequency by one model, as far as the model reaches. */
export interface TransitionAtFrequency {
  tanDelta: PeakPlace;
  lossModulus: PeakPlace;
  warmerPhase_C: number | null;
  colderPhase_C: number | null;
  /** Where tan δ climbs to the slow end because the material flows there, with no rubbery plateau before: it is not rubbery up to here. */
  flowsWithoutPlateau_C: number | null;
  /** The next M″ peak on the cold side where the nearest stands out of a blend's model by little more than its misfit. */
  colderLossModulus_C: number | null;
  /** The nearest maximum of a blend's M″ on its warm side that stands out too little, but by its misfit might stand out enough. */
  warmerLossModulus_C: number | null;
  /**
   * Where a blend's tan δ comes within twice the model's misfit of its peak: the true peak may stand anywhere there. An end
   * is open where it does so at the edge of what was measured.
   */
  tanDeltaWithinMisfit: PeakPlace | null;
  /** What the peaks of a blend were read from; null of one law. */
  blend: BlendCurve | null;
}

/**
 * The tan δ and M″ peaks over temperature at a fixed frequency, from the master curve; where a peak lies beyond the
 * measured reduced frequencies, on which side of which temperature: the place half a decade inside the edge.
 *
 * Rule where there are several peaks (blends): the highest tan δ peak governs, and its M″ peak is the nearest one on
 * its cold side across which M′ falls. Other tan δ peaks are reported beside it.
 */
export function transitionAtFrequency(model: RelaxationModel, frequency_Hz: number): TransitionAtFrequency {
  const blend = model.furtherPhase === undefined ? null : blendCurve(model, model.furtherPhase, frequency_Hz);
  const curve = blend === null ? curveOfOneLaw(model, frequency_Hz) : curveOfBlend(blend);
  const { tanDelta, storageModulus_Pa, lossModulus, temperatureAt, slowHalfDecade, fastHalfDecade } = curve;
  const last = tanDelta.length - 1;
  const fastEdge = Math.max(0, last - fastHalfDecade);
  const slowEdge = Math.min(last, slowHalfDecade);
  const warmer = (): PeakPlace => ({
    ...openPlace,
    low_C: temperatureAt(slowEdge) ?? Number.NEGATIVE_INFINITY,
  });
  const at = (index: number) => temperatureAt(Math.min(last, Math.max(0, index)));
  /** Where a curve without a prominent maximum has its greatest value from `from` on, the peak stands there or beyond. */
  const beyondGreatest = (values: Float64Array, from: number): PeakPlace => {
    let greatest = from;
    let least = values[from];
    for (let i = from; i <= last; i++) {
      if (values[i] > values[greatest]) greatest = i;
      least = Math.min(least, values[i]);
    }
    if (!(values[greatest] > risesBy * least)) return openPlace;
    return greatest - from > (last - from) / 2
      ? { ...openPlace, high_C: at(greatest - fastHalfDecade) ?? Number.POSITIVE_INFINITY }
      : { ...openPlace, low_C: at(greatest + slowHalfDecade) ?? Number.NEGATIVE_INFINITY };
  };
  const isFlow = flows(model, storageModulus_Pa[0], tanDelta);
  const governing = governingPeak(curve, isFlow);
  const nothing = {
    warmerPhase_C: null,
    colderPhase_C: null,
    flowsWithoutPlateau_C: null,
    colderLossModulus_C: null,
    warmerLossModulus_C: null,
    tanDeltaWithinMisfit: null,
    blend,
  };

  if (governing === null) {
    const fast = tanDelta[last] > risesBy * tanDelta[fastEdge];
    const slow = tanDelta[0] > risesBy * tanDelta[slowEdge] && !isFlow;
    // Flow is no glass transition: a tan δ that only climbs towards it bounds no peak.
    const place =
      fast && slow
        ? openPlace
        : slow
          ? warmer()
          : isFlow
            ? colderThanFlow(tanDelta, (i) => at(i - fastHalfDecade))
            : beyondGreatest(tanDelta, 0);
    const flowsWithoutPlateau_C =
      isFlow && place.high_C === Number.POSITIVE_INFINITY ? temperatureAt(slowEdge) : null;
    if (place.high_C < Number.POSITIVE_INFINITY) {
      return { tanDelta: place, lossModulus: { ...openPlace, high_C: place.high_C }, ...nothing };
    }
    const inner = lossPeakFrom(0, curve);
    const lossPeak_C = inner === null ? null : temperatureAt(vertex(lossModulus, inner));
    return {
      tanDelta: place,
      lossModulus:
        lossPeak_C === null ? beyondGreatest(lossModulus, 0) : { low_C: lossPeak_C, high_C: lossPeak_C },
      ...nothing,
      flowsWithoutPlateau_C,
      colderLossModulus_C: inner === null ? null : colderPeak_C(model, curve, inner),
    };
  }

  const tanDeltaPeak_C = temperatureAt(vertex(tanDelta, governing));
  if (tanDeltaPeak_C === null) return { tanDelta: warmer(), lossModulus: openPlace, ...nothing };
  const inner = lossPeakFrom(governing, curve);
  const lossPeak_C = inner === null ? null : temperatureAt(vertex(lossModulus, inner));
  const misfit = misfitOfPeaks(model);
  const phases = maxima(tanDelta, phaseProminence).filter(
    (i) => i !== governing && tanDelta[i] >= phaseShare * tanDelta[governing],
  );
  const warmerPhase = phases.filter((i) => i < governing)[0];
  const colderPhase = phases.filter((i) => i > governing).at(-1);
  return {
    tanDelta: { low_C: tanDeltaPeak_C, high_C: tanDeltaPeak_C },
    lossModulus:
      lossPeak_C === null
        ? { ...beyondGreatest(lossModulus, governing), low_C: Number.NEGATIVE_INFINITY }
        : { low_C: lossPeak_C, high_C: lossPeak_C },
    warmerPhase_C: warmerPhase === undefined ? null : temperatureAt(warmerPhase),
    colderPhase_C: colderPhase === undefined ? null : temperatureAt(colderPhase),
    flowsWithoutPlateau_C: null,
    colderLossModulus_C: inner === null ? null : colderPeak_C(model, curve, inner),
    warmerLossModulus_C: inner === null ? null : warmerPeak_C(model, curve, governing, inner),
    tanDeltaWithinMisfit:
      misfit === undefined
        ? null
        : withinMisfit(
            curve,
            tanDelta[governing],
            misfit * withinMisfits[model.mixing === undefined ? "blend" : "mixing"],
          ),
    blend,
  };
}

/**
 * The ratio of two tan δ holds four moduli, each with the misfit: twice it is one standard deviation. What a rule of mixing
 * leaves is the data's noise for the most part, and half of that is enough.
 */
const withinMisfits = { blend: 2, mixing: 1 };

function withinMisfit(
  { tanDelta, temperatureAt }: CurveAtFrequency,
  peak: number,
  lower_ln: number,
): PeakPlace {
  const level = peak * exp(-lower_ln);
  const last = tanDelta.length - 1;
  let warmest = 0;
  while (tanDelta[warmest] < level) warmest++;
  let coldest = last;
  while (tanDelta[coldest] < level) coldest--;
  return {
    low_C: coldest === last ? Number.NEGATIVE_INFINITY : (temperatureAt(coldest) ?? Number.NEGATIVE_INFINITY),
    high_C: warmest === 0 ? Number.POSITIVE_INFINITY : (temperatureAt(warmest) ?? Number.POSITIVE_INFINITY),
  };
}

/** Beside a flow at the slow end: the transition is colder where tan δ climbs again from a plateau to the fast end. */
function colderThanFlow(
  tanDelta: Float64Array,
  temperatureInside: (index: number) => number | null,
): PeakPlace {
  const last = tanDelta.length - 1;
  let least = 0;
  for (let i = 1; i <= last; i++) if (tanDelta[i] < tanDelta[least]) least = i;
  if (!(tanDelta[last] > risesBy * tanDelta[least])) return openPlace;
  return { ...openPlace, high_C: temperatureInside(last) ?? Number.POSITIVE_INFINITY };
}

/**
 * The same where the model shows it: peaks inside the measured reduced frequencies, else why there is none.
 * @example glassAtFrequency(exampleModel(), 1).tanDeltaPeak_C // -48.1…
 */
export function glassAtFrequency(
  model: RelaxationModel,
  frequency_Hz: number,
): GlassAtFrequency | { absent: GlassAbsence } {
  const { tanDelta, lossModulus, warmerPhase_C, colderPhase_C } = transitionAtFrequency(model, frequency_Hz);
  if (!isPoint(tanDelta)) {
    if (tanDelta.high_C < Number.POSITIVE_INFINITY) return { absent: "colder than measured" };
    return { absent: tanDelta.low_C > Number.NEGATIVE_INFINITY ? "warmer than measured" : "no peak" };
  }
  return {
    tanDeltaPeak_C: tanDelta.low_C,
    lossModulusPeak_C: isPoint(lossModulus) ? lossModulus.low_C : null,
    warmerPhase_C,
    colderPhase_C,
  };
}

/** Whether a temperature is colder than the M″ peak at a frequency; false where the model does not show how warm that is. */
export function isBelowLossPeak(
  model: RelaxationModel,
  temperature_C: number,
  frequency_Hz: number,
): boolean {
  return temperature_C < transitionAtFrequency(model, frequency_Hz).lossModulus.low_C;
}

/** So much faster than a contact in the glass tan δ is no longer the transition's own. */
const ownFlank_decades = 3;

/**
 * How many times the loss that the model shows a contact colder than its M″ peak may have, by what the measured glass shows at
 * faster reduced frequencies; 1 elsewhere, and for a blend. What stands there beyond the transition's own flank is a secondary
 * relaxation, which a law of the transition carries along; its own is flatter, so that it catches up with the transition at
 * the contact's frequency and adds to its loss (McCrum, Read and Williams, Anelastic and Dielectric Effects in Polymeric
 * Solids, 1967; from memory).
 */
export function secondaryLossRatio(
  model: RelaxationModel,
  temperature_C: number,
  frequency_Hz: number,
): number {
  if (model.furtherPhase !== undefined) return 1;
  if (!isBelowLossPeak(model, temperature_C, frequency_Hz)) return 1;
  const { from, tanDelta } = reducedCurve(model);
  const decades = log10(frequency_Hz) + log10ShiftFactor(model.law, temperature_C) - from;
  const greatestFrom = (faster_decades: number) => {
    const at = Math.ceil((decades + faster_decades) * pointsPerDecade);
    return tanDelta.subarray(Math.max(0, at)).reduce((a, b) => Math.max(a, b), 0);
  };
  const { storageModulus_Pa, lossModulus_Pa } = complexModulus(model, temperature_C, frequency_Hz);
  const own = lossModulus_Pa / storageModulus_Pa;
  return Math.max(greatestFrom(0), own + greatestFrom(ownFlank_decades)) / own;
}

/** Across a tan δ peak of a transition M′ falls by this from a decade above to a decade below; across a ripple of the plateau it does not. */
const leastFallAcross = 1.3;

/** The highest prominent maximum of tan δ; null where an edge that is no terminal flow stands higher. */
function governingPeak(
  { tanDelta, storageModulus_Pa, halfDecade }: CurveAtFrequency,
  isFlow: boolean,
): number | null {
  const last = tanDelta.length - 1;
  const peaks = maxima(tanDelta, tanDeltaProminence).filter((i) => {
    const fast_Pa = storageModulus_Pa[Math.min(last, i + 2 * halfDecade)];
    return fast_Pa >= leastFallAcross * storageModulus_Pa[Math.max(0, i - 2 * halfDecade)];
  });
  if (peaks.length === 0) return null;
  const governing = peaks.reduce((a, b) => (tanDelta[b] > tanDelta[a] ? b : a));
  if (tanDelta[last] > tanDelta[governing]) return null;
  return tanDelta[0] > tanDelta[governing] && !isFlow ? null : governing;
}

/** M′ has fallen through M″ and below any rubbery plateau where tan δ rises on the slow side. */
function flows(model: RelaxationModel, slowestStorage_Pa: number, tanDelta: Float64Array): boolean {
  const limit_Pa = model.deformation === "shear" ? flowModulus_Pa / 3 : flowModulus_Pa;
  return tanDelta[0] > 1 && slowestStorage_Pa < limit_Pa;
}

/**
 * The nearest M″ maximum on the cold side of an index across which M′ falls as in a glass transition. The highest of a blend is
 * no secondary relaxation, however slowly M′ falls towards the other phase's.
 */
function lossPeakFrom(
  from: number,
  { kind, lossModulus, storageModulus_Pa, halfDecade }: CurveAtFrequency,
): number | null {
  const highest = kind === "blend" ? Math.max(...lossModulus) : Number.POSITIVE_INFINITY;
  const found = maxima(lossModulus.subarray(from), lossModulusProminence[kind]).find((at) => {
    const i = from + at;
    if (lossModulus[i] >= highest) return true;
    const slower_Pa = storageModulus_Pa[Math.max(0, i - fallOver * halfDecade)];
    return storageModulus_Pa[i] >= leastFall[kind] * slower_Pa;
  });
  return found === undefined ? null : from + found;
}

/** So many times its misfit a blend's model may make a peak stand out that is none. */
export const doubtfulMisfits = 3;
/** Above this any of its warm M″ peaks may be none; a rule of mixing that leaves so much more than noise was not found right. */
const poorMisfit = { blend: 0.05, mixing: 0.02 };

function colderPeak_C(
  model: RelaxationModel,
  { lossModulus, temperatureAt }: CurveAtFrequency,
  peak: number,
): number | null {
  const misfit = misfitOfPeaks(model);
  if (misfit === undefined) return null;
  const poor = misfit > poorMisfit[model.mixing === undefined ? "blend" : "mixing"];
  const sure = lossModulusProminence.blend + doubtfulMisfits * misfit;
  const stands =
    !poor &&
    lossModulus[peak] >= sure * Math.max(valley(lossModulus, peak, -1), valley(lossModulus, peak, 1));
  if (stands) return null;
  const colder = maxima(lossModulus, lossModulusProminence.blend).find((i) => i > peak);
  // A poor model that shows no colder one still does not rule it out.
  if (colder === undefined) return poor ? Number.NEGATIVE_INFINITY : null;
  return temperatureAt(colder);
}

/** The warmest maximum between the governing tan δ peak and the M″ peak that the misfit may keep from standing out. */
function warmerPeak_C(
  model: RelaxationModel,
  { lossModulus, temperatureAt }: CurveAtFrequency,
  governing: number,
  peak: number,
): number | null {
  const misfit = misfitOfPeaks(model);
  if (misfit === undefined) return null;
  // One standard deviation of the ratio of two M″, each with the misfit.
  const least = Math.max(1, lossModulusProminence.blend - Math.SQRT2 * misfit);
  const warmer = maxima(lossModulus.subarray(governing, peak), least)[0];
  return warmer === undefined ? null : temperatureAt(governing + warmer);
}

/** Moduli at one frequency, from the warm end to the cold: rising reduced frequency is falling temperature. */
interface CurveAtFrequency {
  /** In a blend each phase brings M′ down by its share only. */
  kind: "oneLaw" | "blend";
  tanDelta: Float64Array;
  storageModulus_Pa: Float64Array;
  /** With the vertical factor at each temperature; in any unit. */
  lossModulus: Float64Array;
  /** How many points make half a decade of reduced frequency near a transition. */
  halfDecade: number;
  /** The same inside the slow and the fast edge of what was measured: a blend's laws are flatter at the warm one. */
  slowHalfDecade: number;
  fastHalfDecade: number;
  /** Null where the law never reaches. */
  temperatureAt: (index: number) => number | null;
}

function curveOfOneLaw(model: RelaxationModel, frequency_Hz: number): CurveAtFrequency {
  const curve = reducedCurve(model);
  const from = curve.from - log10(frequency_Hz);
  const temperatureAt = (at: number) => temperatureAtShift(model.law, from + at / pointsPerDecade);
  const lossModulus =
    model.verticalShift.kind === "off"
      ? curve.lossModulus_Pa
      : curve.lossModulus_Pa.map((value_Pa, i) => {
          const temperature_C = temperatureAt(i);
          if (temperature_C === null) return value_Pa;
          return value_Pa / verticalFactor(model.verticalShift, model.law, temperature_C);
        });
  return {
    kind: "oneLaw",
    tanDelta: curve.tanDelta,
    storageModulus_Pa: curve.storageModulus_Pa,
    lossModulus,
    halfDecade: pointsPerHalfDecade,
    slowHalfDecade: pointsPerHalfDecade,
    fastHalfDecade: pointsPerHalfDecade,
    temperatureAt,
  };
}

/** Near a transition half a decade is some 2.5 K. */
const blendHalfDecade = 2.5 / blendStep_K;

/** Two laws have no reduced curve in common: the moduli over the temperatures themselves, where both phases were measured. */
function curveOfBlend({
  warmest_C,
  slowHalfDecade,
  fastHalfDecade,
  storageModulus_Pa,
  lossModulus_Pa,
}: BlendCurve): CurveAtFrequency {
  const last = storageModulus_Pa.length - 1;
  return {
    kind: "blend",
    tanDelta: lossModulus_Pa.map((loss_Pa, i) => loss_Pa / storageModulus_Pa[i]),
    storageModulus_Pa,
    lossModulus: lossModulus_Pa,
    halfDecade: blendHalfDecade,
    slowHalfDecade,
    fastHalfDecade,
    temperatureAt: (at) => (last < 0 ? null : warmest_C - blendStep_K * Math.min(last, Math.max(0, at))),
  };
}

interface ReducedCurve {
  /** log10 of the first reduced frequency in Hz. */
  from: number;
  tanDelta: Float64Array;
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
}

const curves = new WeakMap<RelaxationModel, ReducedCurve>();

/** tan δ and M″ over the measured reduced frequencies; kept per model, for many uses ask for it. */
function reducedCurve(model: RelaxationModel): ReducedCurve {
  const known = curves.get(model);
  if (known !== undefined) return known;
  const { from, to } = measuredDecades(model);
  const count = Math.max(2, Math.floor((to - from) * pointsPerDecade) + 1);
  const { storageModulus_Pa, lossModulus_Pa } = evenlySpacedModuli(model, from, pointsPerDecade, count);
  const tanDelta = lossModulus_Pa.map((loss_Pa, i) =>
    storageModulus_Pa[i] > 0 ? loss_Pa / storageModulus_Pa[i] : 0,
  );
  const curve = { from, tanDelta, storageModulus_Pa, lossModulus_Pa };
  curves.set(model, curve);
  maximaOfCurve.set(tanDelta, new Map());
  maximaOfCurve.set(lossModulus_Pa, new Map());
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
  const known = maximaOfCurve.get(values);
  const kept = known?.get(prominence);
  if (kept !== undefined) return kept;
  const found: number[] = [];
  for (let i = 1; i < values.length - 1; i++) {
    if (!(values[i] > values[i - 1] && values[i] >= values[i + 1])) continue;
    if (values[i] >= prominence * valley(values, i, -1) && values[i] >= prominence * valley(values, i, 1)) {
      found.push(i);
    }
  }
  known?.set(prominence, found);
  return found;
}

/** Of the curves that are kept with their model: at each use, temperature and frequency they are the same. */
const maximaOfCurve = new WeakMap<Float64Array, Map<number, number[]>>();

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
