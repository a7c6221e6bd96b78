import type { Deformation, DynamicMeasurement } from "../../io/measurement.js";
import { exp } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { localRegression, scatterAboutTrend } from "../../numeric/local-regression.js";
import { type ProminentMaximum, prominentMaxima } from "../../numeric/prominent-maxima.js";
import { type Random, seededRandom } from "../../numeric/statistics/random.js";
import type { Notice } from "../../words/notice.js";
import type { FurtherPeak, GlassTransition, Peak, TanDeltaPeak } from "../material.js";
import { type SweepSpikes, sweepNotices, transitionNotices } from "./glass-notices.js";
import { sweepsFromIsotherms } from "./isotherm-sweeps.js";
import { modulusOnset } from "./modulus-onset.js";
import { estimatePeak, lopsidedPeak, type PeakEstimate, type PeakShape, roundPeak } from "./peak.js";
import { withoutSpikes } from "./spikes.js";
import { type Sweep, sweepsByFrequency } from "./sweep.js";

export interface GlassTransitionSettings {
  /** Draws for the interval of an onset; those of the peaks need none. */
  draws: number;
  seed: number;
}

/**
 * 200 draws: the half width of an interval then scatters by some 7 % between seeds, less than the 10 to 20 %
 * by which it scatters between sweeps of the same material.
 */
export const glassTransitionDefaults: GlassTransitionSettings = { draws: 200, seed: 1 };

const fewestPoints = 7;
/** A glass transition brings M′ down by far more than this; a secondary transition does not. */
const leastModulusFall = 3;
/** Through a glass transition's M″ peak ln M′ falls by 0.05 to 0.15 per K, through a secondary relaxation's by 0.01 (common practice). */
const leastSteepness_per_K = 0.025;
const steepnessBeside_K = 5;
/** Least height above the valleys, as a natural log and in units of the noise, for a maximum to be named at all. */
const leastProminence = 0.08;
const leastProminenceInNoise = 7;
/**
 * On the way from an M″ maximum to the tan δ peak a fainter one counts, of so much of that height: beside a secondary relaxation as
 * high as itself the transition's own stood out by 7 % of the smoothed curve, was passed over, and a glassy compound was called
 * leathery.
 */
const faintShare = 0.5;
/** A peak cut off by an edge of the sweep has turned towards that edge by so much at least (a natural log), or by the noise. */
const leastTurn = 0.015;
const pointsBesideValley = 3;
/** A hump whose place is not known better than this is no peak worth naming. */
const widestInterval_K = 20;

/**
 * The three readings of the glass transition at each frequency of a temperature sweep: peak of tan δ, peak of
 * M″, extrapolated onset of the fall of M′ (ASTM E1640, ISO 6721-11, IEC 61006), each with a 95 % interval
 * (`estimatePeak`; `modulusOnset` from draws with a fixed seed). They differ by design: onset < M″ peak < tan δ peak.
 * A maximum at the edge of the data is a bound, never a value. Stray rows are left out and named (`withoutSpikes`).
 *
 * @param measurement kind "temperature sweep"; other kinds give no transitions
 * @returns one transition a frequency, frequencies ascending, and what must be known about them
 * @example glassTransitions(exampleSweep()).transitions[0].tanDeltaPeak.temperature_C // -48.09…
 */
export function glassTransitions(
  measurement: DynamicMeasurement,
  settings: GlassTransitionSettings = glassTransitionDefaults,
): { transitions: GlassTransition[]; notices: Notice[] } {
  const { transitions, notices } = readSweep(measurement, settings);
  return { transitions, notices: [...notices, ...transitions.flatMap(transitionNotices)] };
}

/** The transitions of one measurement, and what must be known of how it was measured. */
function readSweep(
  measurement: DynamicMeasurement,
  settings: GlassTransitionSettings,
): { transitions: GlassTransition[]; notices: Notice[] } {
  if (measurement.kind !== "temperature sweep") return { transitions: [], notices: [] };
  const transitions: GlassTransition[] = [];
  const tooShort: Sweep[] = [];
  const assessed: Sweep[] = [];
  const spikes: SweepSpikes[] = [];
  for (const measured of sweepsByFrequency(measurement)) {
    if (measured.temperature_C.length < fewestPoints) {
      tooShort.push(measured);
      continue;
    }
    const { sweep, spikes: found } = withoutSpikes(measured, measurement);
    if (found.length > 0) spikes.push({ frequency_Hz: sweep.frequency_Hz, spikes: found });
    assessed.push(sweep);
    transitions.push(glassTransitionOf(sweep, measurement, seededRandom(settings.seed), settings.draws));
  }
  return { transitions, notices: sweepNotices(measurement, { assessed, tooShort, spikes }) };
}

/**
 * The glass transitions of isotherms read across their temperatures (`sweepsFromIsotherms`), where they hold a peak.
 * @returns transitions of origin "isotherms" with at least one of the peaks of tan δ and M″ inside the data. What is to
 *   be said of each (`transitionNotices`) waits until their superposition had its say
 */
export function glassTransitionsFromIsotherms(
  measurements: DynamicMeasurement[],
  settings: GlassTransitionSettings = glassTransitionDefaults,
): { transitions: GlassTransition[]; notices: Notice[] } {
  const holdsPeak = ({ tanDeltaPeak, lossModulusPeak }: GlassTransition) =>
    tanDeltaPeak?.bracketed || lossModulusPeak?.bracketed;
  const found = sweepsFromIsotherms(measurements)
    .map((sweep) => readSweep(sweep, settings))
    .filter(({ transitions }) => transitions.some(holdsPeak));
  return {
    transitions: found
      .flatMap(({ transitions }) => transitions.filter(holdsPeak))
      .map((one) => ({ ...one, origin: "isotherms" })),
    notices: found.flatMap(({ notices }) => notices),
  };
}

function glassTransitionOf(
  sweep: Sweep,
  measurement: DynamicMeasurement,
  random: Random,
  draws: number,
): GlassTransition {
  const { temperature_C, storageModulus_Pa, lossModulus_Pa } = sweep;
  const logTanDelta = lossModulus_Pa.map((loss, i) => ln(loss / storageModulus_Pa[i]));
  const logLoss = lossModulus_Pa.map((loss) => ln(loss));
  const tanDeltaCurve = curveOf(sweep, measurement.deformation, logTanDelta, roundPeak);
  const lossCurve = curveOf(sweep, measurement.deformation, logLoss, lopsidedPeak);

  const mainTanDelta = mainPeak(tanDeltaCurve, null);
  const tanDeltaPeak_C = mainTanDelta?.estimate.position ?? null;
  const mainLoss = mainPeak(lossCurve, tanDeltaPeak_C);
  const lossModulusPeak_C = mainLoss?.estimate.position ?? null;
  const furtherPeaks: FurtherPeak[] = [
    ...furtherPeaksOf(tanDeltaCurve, mainTanDelta, "tan delta"),
    ...furtherPeaksOf(lossCurve, mainLoss, "loss modulus"),
  ].sort((a, b) => a.temperature_C - b.temperature_C);

  const hasFall = modulusFall(storageModulus_Pa, 0, storageModulus_Pa.length - 1) >= leastModulusFall;
  return {
    frequency_Hz: sweep.frequency_Hz,
    deformation: measurement.deformation,
    direction: measurement.direction,
    tanDeltaPeak: mainTanDelta
      ? tanDeltaPeakOf(tanDeltaCurve, mainTanDelta)
      : withoutShape(boundOf(tanDeltaCurve)),
    lossModulusPeak: mainLoss
      ? bracketed(
          lossCurve,
          widened(
            mainLoss.estimate,
            lossCurve.peaks.some((peak) => peak !== mainLoss && !peak.isFaint)
              ? besideAnother
              : ofLossModulus,
          ),
        )
      : boundOf(lossCurve),
    storageModulusOnset: hasFall
      ? modulusOnset(temperature_C, storageModulus_Pa, { lossModulusPeak_C, tanDeltaPeak_C }, random, draws)
      : null,
    furtherPeaks,
    path: measurement.provenance.file,
  };
}

interface CurvePeak {
  estimate: PeakEstimate;
  /** In the quantity's own unit. */
  prominence: number;
  /** By which factor M′ falls from 20 K below to 20 K above. */
  modulusFall: number;
  /** How fast ln M′ falls across the peak, per kelvin. */
  steepness_per_K: number;
  /** Too low to be named for itself. */
  isFaint: boolean;
}

interface Curve {
  sweep: Sweep;
  logValue: Float64Array;
  smooth: Float64Array;
  noise: number;
  peaks: CurvePeak[];
  flowsWhenWarm: boolean;
}

function curveOf(sweep: Sweep, deformation: Deformation, logValue: Float64Array, shape: PeakShape): Curve {
  const { temperature_C, storageModulus_Pa, lossModulus_Pa } = sweep;
  const noise = scatterAboutTrend(temperature_C, logValue);
  const smooth = localRegression(temperature_C, logValue, 5).value;
  const peaks: CurvePeak[] = [];
  const turn = Math.max(leastTurn, noise);
  for (const maximum of prominentMaxima(smooth, Math.min(turn, faintShare * leastHeight(noise)))) {
    const { index, prominence } = maximum;
    const least = Math.max(leastHeight(noise), leastHeight(noiseBeside(temperature_C, logValue, maximum)));
    const isCutOff = prominence < least && prominence >= turn && isCutOffAtEdge(sweep, smooth, index, least);
    if (prominence < faintShare * least && !isCutOff) continue;
    const estimate = estimatePeak(temperature_C, logValue, index, shape);
    if (estimate === null) continue;
    const isShown = isCutOff && isInside(estimate, temperature_C);
    if (prominence < faintShare * least && !isShown) continue;
    const from = nearestIndex(temperature_C, estimate.position - 20);
    const to = nearestIndex(temperature_C, estimate.position + 20);
    peaks.push({
      estimate: isShown ? widened(estimate, cutOff) : estimate,
      prominence: exp(estimate.value) * (1 - exp(-prominence)),
      modulusFall: modulusFall(storageModulus_Pa, from, to),
      steepness_per_K: steepnessAt(sweep, estimate.position),
      isFaint: prominence < least && !isShown,
    });
  }
  const end = storageModulus_Pa.length - 1;
  const limit_Pa = deformation === "shear" ? flowModulus_Pa / 3 : flowModulus_Pa;
  const flowsWhenWarm = storageModulus_Pa[end] < limit_Pa && lossModulus_Pa[end] > storageModulus_Pa[end];
  return { sweep, logValue, smooth, noise, peaks, flowsWhenWarm };
}

/**
 * The sweep begins or ends on a flank of its highest maximum, which stands out on the other side only; and M′ falls steeply
 * through it, as through no secondary relaxation.
 */
function isCutOffAtEdge(sweep: Sweep, smooth: Float64Array, index: number, least: number): boolean {
  const lowest = (values: Float64Array) => values.reduce((low, value) => Math.min(low, value), smooth[index]);
  const fall = smooth[index] - Math.min(lowest(smooth.subarray(0, index)), lowest(smooth.subarray(index)));
  return (
    smooth.every((value) => value <= smooth[index]) &&
    fall >= least &&
    steepnessAt(sweep, sweep.temperature_C[index]) >= leastSteepness_per_K
  );
}

/** The interval of the curves' maxima lies within the rows. */
const isInside = ({ low, high }: PeakEstimate, temperature_C: Float64Array) =>
  low >= temperature_C[0] && high <= temperature_C[temperature_C.length - 1];

/**
 * The peak that stands for the glass transition: the most prominent one across which M′ falls; for the loss
 * modulus the one nearest below the tan δ peak, so that both tell of the same phase. A peak whose fall of M′ the sweep
 * does not hold whole counts only where M′ falls steeply through it and the curve does not climb higher at an edge: else
 * it is a secondary relaxation's, and the transition lies beyond the data.
 */
function mainPeak(curve: Curve, tanDeltaPeak_C: number | null): CurvePeak | null {
  const named = curve.peaks.filter(({ isFaint }) => !isFaint);
  const real = named.filter((peak) => peak.modulusFall >= leastModulusFall);
  const highest = curve.smooth.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  const candidates =
    real.length > 0
      ? real
      : named.filter(
          (peak) => peak.estimate.value >= highest - 0.1 && peak.steepness_per_K >= leastSteepness_per_K,
        );
  if (tanDeltaPeak_C !== null) {
    const below = candidates.filter((peak) => peak.estimate.position <= tanDeltaPeak_C + 3);
    if (below.length > 0) {
      const warmest = (peaks: CurvePeak[]) =>
        peaks.reduce((best, peak) => (peak.estimate.position > best.estimate.position ? peak : best));
      const nearest = warmest(below);
      const faint = curve.peaks.filter(
        ({ isFaint, modulusFall, estimate: { position } }) =>
          isFaint &&
          modulusFall >= leastModulusFall &&
          position > nearest.estimate.position &&
          position <= tanDeltaPeak_C,
      );
      return warmest([nearest, ...faint]);
    }
  }
  return candidates.reduce<CurvePeak | null>(
    (best, peak) => (best === null || peak.prominence > best.prominence ? peak : best),
    null,
  );
}

function furtherPeaksOf(
  curve: Curve,
  main: CurvePeak | null,
  quantity: FurtherPeak["quantity"],
): FurtherPeak[] {
  return curve.peaks
    .filter(
      (peak) => peak !== main && !peak.isFaint && peak.estimate.high - peak.estimate.low <= widestInterval_K,
    )
    .map(({ estimate, prominence }) => ({
      quantity,
      temperature_C: estimate.position,
      low_C: estimate.low,
      high_C: estimate.high,
      height: exp(estimate.value),
      prominence,
    }));
}

/** A flank is a plateau where it takes this many times as long as the other to fall by `flankFall` (a natural log), and this long. */
const flankFall = 0.05;
const plateauAsymmetry = 2;
const shortestPlateau_K = 4;
/** On a plateau the peak may stand as far out as the curve is this near to its height. */
const sameHeight = 0.03;

/**
 * Intervals are widened by these where they were found too narrow on sweeps of known compounds: of narrow, lopsided tan δ
 * peaks they held some 90 %, of M″ peaks 88 %, beside another M″ maximum 70 %.
 */
const ofTanDelta = 1.1;
const ofLossModulus = 1.22;
const besideAnother = 2;
/**
 * Of a peak that an edge of the sweep cuts off one flank is hardly seen. Of sweeps of 100 made-up compounds that began 0 to
 * 8 K below the tan δ peak the intervals held it in 94 % without this and in 97 % with it, at 3 % noise in 90 and 94 %.
 */
const cutOff = 1.3;

const widened = (estimate: PeakEstimate, by: number): PeakEstimate => ({
  ...estimate,
  low: estimate.position - by * (estimate.position - estimate.low),
  high: estimate.position + by * (estimate.high - estimate.position),
});

/** A secondary relaxation or a second phase can make of one flank a plateau, on which the peak may stand anywhere. */
function bracketed(curve: Curve, { position, value, low, high }: PeakEstimate): Peak {
  const fall = (step: 1 | -1) => {
    const at_C = crossingFrom(curve, position, value - flankFall, step);
    return at_C === null ? Number.POSITIVE_INFINITY : Math.abs(at_C - position);
  };
  const [cold_K, warm_K] = [fall(-1), fall(1)];
  const reach = (step: 1 | -1, long_K: number, short_K: number) => {
    const isPlateau =
      Number.isFinite(long_K) && long_K > shortestPlateau_K && long_K > plateauAsymmetry * short_K;
    return isPlateau ? farthestAsHigh(curve, position, value, step) : position;
  };
  return {
    temperature_C: position,
    low_C: Math.min(low, reach(-1, cold_K, warm_K)),
    high_C: Math.max(high, reach(1, warm_K, cold_K)),
    bracketed: true,
  };
}

/** The farthest place on one side that is as high as the peak but for `sameHeight`, across no deeper valley than `flankFall`. */
function farthestAsHigh(
  { sweep: { temperature_C }, smooth }: Curve,
  peak_C: number,
  value: number,
  step: 1 | -1,
): number {
  let farthest_C = peak_C;
  for (let i = nearestIndex(temperature_C, peak_C); i >= 0 && i < smooth.length; i += step) {
    if (smooth[i] < value - flankFall) break;
    if (smooth[i] >= value - sameHeight) farthest_C = temperature_C[i];
  }
  return farthest_C;
}

/** Below this M′ in tension (a third of it in shear) a tan δ above one that climbs is terminal flow (common practice). */
const flowModulus_Pa = 3e5;

/** On the way to an edge a curve has not turned for certain before it is this near to its height there, or three times its noise. */
const edgeHeight = 0.03;

/**
 * The curve climbs to an edge: the peak lies beyond it, or as near to it as the curve is as high but for its noise. So it is
 * where the curve turns too close to the edge to tell. Null where the curve is flat within its noise, where it turned further
 * inside the data, and where tan δ climbs because the material flows.
 */
function boundOf(curve: Curve): Peak | null {
  const { sweep, smooth, noise } = curve;
  const { temperature_C } = sweep;
  const last = smooth.length - 1;
  let highest = 0;
  let lowest = 0;
  for (let i = 1; i <= last; i++) {
    if (smooth[i] > smooth[highest]) highest = i;
    if (smooth[i] < smooth[lowest]) lowest = i;
  }
  const least = leastHeight(noise);
  if (smooth[highest] - smooth[lowest] < least) return null;
  const isBeyondWarmEnd = highest > last / 2;
  const isAtEdge = isBeyondWarmEnd ? highest >= last - 1 : highest <= 1;
  if (!isAtEdge && !isCutOffAtEdge(sweep, smooth, highest, least)) return null;
  if (isBeyondWarmEnd && curve.flowsWhenWarm) return null;
  const step = isBeyondWarmEnd ? -1 : 1;
  const level = smooth[highest] - Math.max(edgeHeight, 3 * noise);
  let at = isAtEdge ? (isBeyondWarmEnd ? last - 1 : 1) : highest;
  while (at + step >= 0 && at + step <= last && smooth[at] > level) at += step;
  return {
    temperature_C: null,
    low_C: isBeyondWarmEnd ? temperature_C[at] : null,
    high_C: isBeyondWarmEnd ? null : temperature_C[at],
    bracketed: false,
  };
}

function withoutShape(peak: Peak | null): TanDeltaPeak | null {
  return peak && { ...peak, height: null, width_K: null };
}

function tanDeltaPeakOf(curve: Curve, { estimate }: CurvePeak): TanDeltaPeak {
  const half = estimate.value - Math.LN2;
  const below_C = crossingFrom(curve, estimate.position, half, -1);
  const above_C = crossingFrom(curve, estimate.position, half, 1);
  return {
    ...bracketed(curve, widened(estimate, ofTanDelta)),
    height: exp(estimate.value),
    width_K: below_C !== null && above_C !== null ? above_C - below_C : null,
  };
}

/** Where the smoothed curve first falls through `level` on one side of the peak. */
function crossingFrom(curve: Curve, peak_C: number, level: number, step: 1 | -1): number | null {
  const { smooth } = curve;
  const { temperature_C } = curve.sweep;
  for (let i = nearestIndex(temperature_C, peak_C); i >= 0 && i < smooth.length; i += step) {
    if (smooth[i] > level) continue;
    const before = i - step;
    if (before < 0 || before >= smooth.length || smooth[before] <= level) return temperature_C[i];
    const share = (smooth[before] - level) / (smooth[before] - smooth[i]);
    return temperature_C[before] + share * (temperature_C[i] - temperature_C[before]);
  }
  return null;
}

/** Scatter between a maximum and the valley that its height is read from: moduli scatter more where they are small. */
function noiseBeside(
  temperature_C: Float64Array,
  logValue: Float64Array,
  { from, to }: ProminentMaximum,
): number {
  const first = Math.max(0, from - pointsBesideValley);
  const end = to + pointsBesideValley + 1;
  return scatterAboutTrend(temperature_C.subarray(first, end), logValue.subarray(first, end));
}

function leastHeight(noise: number): number {
  return Math.max(leastProminence, leastProminenceInNoise * noise);
}

function nearestIndex(ascending: Float64Array, at: number): number {
  let best = 0;
  for (let i = 1; i < ascending.length; i++) {
    if (Math.abs(ascending[i] - at) < Math.abs(ascending[best] - at)) best = i;
  }
  return best;
}

/** Mean fall of ln M′ per kelvin from a little below a temperature to a little above, as far as the sweep reaches. */
function steepnessAt({ temperature_C, storageModulus_Pa }: Sweep, at_C: number): number {
  const from = nearestIndex(temperature_C, at_C - steepnessBeside_K);
  const to = nearestIndex(temperature_C, at_C + steepnessBeside_K);
  return ln(storageModulus_Pa[from] / storageModulus_Pa[to]) / (temperature_C[to] - temperature_C[from]);
}

function modulusFall(storageModulus_Pa: Float64Array, from: number, to: number): number {
  return storageModulus_Pa[from] / storageModulus_Pa[to];
}
