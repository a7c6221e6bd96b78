import type { DynamicMeasurement } from "../../io/measurement.js";
import { exp, exp10 } from "../../numeric/elementary/exponential.js";
import { ln, log10 } from "../../numeric/elementary/logarithm.js";
import { localRegression, scatterAboutTrend } from "../../numeric/local-regression.js";
import { prominentMaxima } from "../../numeric/prominent-maxima.js";
import { fitPenalisedSpline, type PenalisedSpline } from "../../numeric/spline/penalised-spline.js";
import { evaluateSpline } from "../../numeric/spline/spline-curve.js";
import { seededRandom } from "../../numeric/statistics/random.js";
import { drawnInterval, type ValueInterval } from "../../numeric/statistics/value-interval.js";
import type { Code } from "../../words/codes/codes.js";
import { coded } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { frequencyText, temperatureText } from "../../words/quantity-text.js";
import { estimatePeak, lopsidedPeak } from "../glass/peak.js";
import type { PayneEffect } from "../material.js";
import { type StrainRows, strainSweepsOf } from "./strain-rows.js";

/** The linear range ends where M′ has dropped by this share (common practice). */
export const linearityDrop = 0.05;
const fewestPoints = 6;
const gridSteps = 240;
/** Faster falls per decade of strain than this mean that the sweep has not begun, or not ended, on a level. */
const levelFall = 0.05;
const leastLossProminence = 0.02;

export interface PayneSettings {
  draws: number;
  seed: number;
}

/**
 * The Payne effect in each strain sweep: fall of M′ from the smallest to the largest strain, limit of linearity,
 * strain of the loss maximum. Read from a penalised spline through ln M′ against log10 of the strain, each with a
 * 95 % interval from drawing the curve again with the scatter of its points. Fewer than six strains give values by
 * straight lines and no interval.
 *
 * @param measurements all of one compound; only strain sweeps are read, those without strain amplitudes with a notice
 * @example payneEffects([exampleStrainSweep()]).effects[0].limitOfLinearity.value // 0.0013…
 */
export function payneEffects(
  measurements: DynamicMeasurement[],
  settings: PayneSettings = { draws: 200, seed: 1 },
): { effects: PayneEffect[]; notices: Notice[] } {
  const effects: PayneEffect[] = [];
  const notices: Notice[] = [];
  for (const measurement of measurements.filter(({ kind }) => kind === "strain sweep")) {
    const { sweeps, notices: rowNotices } = strainSweepsOf(measurement);
    notices.push(...rowNotices);
    for (const rows of sweeps) {
      const effect = payneEffectOf(rows, measurement, settings);
      effects.push(effect);
      notices.push(...payneNotices(effect));
    }
  }
  return { effects, notices };
}

function payneEffectOf(
  rows: StrainRows,
  measurement: DynamicMeasurement,
  settings: PayneSettings,
): PayneEffect {
  const logStrain = rows.strain.map(log10);
  const logStorage = rows.storageModulus_Pa.map(ln);
  const n = logStrain.length;
  const random = seededRandom(settings.seed);
  const spline = n >= fewestPoints ? fitPenalisedSpline(logStrain, logStorage, Math.min(24, n - 1), 3) : null;
  const curve = curveOf(logStrain, spline === null ? null : (x) => evaluateSpline(spline, x), logStorage);
  const best = readingsOf(curve);
  const drawn = spline === null ? [] : drawnReadings(spline, logStrain, logStorage, settings, random);
  const limit = drawnInterval(
    best.limit,
    drawn.map((one) => one.limit),
  );
  const fallAt = (which: "startFall" | "endFall") =>
    drawnInterval(
      best[which],
      drawn.map((one) => one[which]),
    );
  // Level unless the fall is told from less than 5 % a decade.
  const level = (fall: ValueInterval) => !((fall.low ?? fall.value) > levelFall);
  return {
    deformation: measurement.deformation,
    temperature_C: stated(rows.temperature_C),
    frequency_Hz: stated(rows.frequency_Hz),
    smallestStrain: rows.strain[0],
    largestStrain: rows.strain[n - 1],
    storageModulusAtSmallest_Pa: best.smallest_Pa,
    storageModulusAtLargest_Pa: best.largest_Pa,
    amplitude_Pa: drawnInterval(
      best.smallest_Pa - best.largest_Pa,
      drawn.map((one) => one.smallest_Pa - one.largest_Pa),
    ),
    relativeAmplitude: 1 - best.largest_Pa / best.smallest_Pa,
    limitOfLinearity: Number.isFinite(best.limit) ? limit : null,
    lossMaximumStrain: lossMaximum(rows, logStrain),
    levelAtSmallest: level(fallAt("startFall")),
    levelAtLargest: level(fallAt("endFall")),
    points: n,
    path: measurement.provenance.file,
    section: measurement.provenance.section,
  };
}

const stated = (value: number) => (Number.isFinite(value) ? value : null);

/** "60 °C, 10 Hz", as far as the file states them. */
export function strainSweepState({ temperature_C, frequency_Hz }: PayneEffect): string {
  const words = [
    temperature_C === null ? "a temperature not stated" : temperatureText(temperature_C, 0),
    frequency_Hz === null ? "a frequency not stated" : frequencyText(frequency_Hz),
  ];
  return words.join(", ");
}

/** ln M′ on an even grid of log10 strain. */
interface StrainCurve {
  logStrain: Float64Array;
  logStorage: Float64Array;
}

function curveOf(
  logStrain: Float64Array,
  smooth: ((x: number) => number) | null,
  logStorage: Float64Array,
): StrainCurve {
  if (smooth === null) return { logStrain, logStorage };
  const low = logStrain[0];
  const span = logStrain[logStrain.length - 1] - low;
  const grid = Float64Array.from({ length: gridSteps + 1 }, (_, i) => low + (span * i) / gridSteps);
  return { logStrain: grid, logStorage: grid.map(smooth) };
}

interface StrainFalls {
  smallest_Pa: number;
  largest_Pa: number;
  /** Infinite where M′ does not drop that far. */
  limit: number;
  /** Relative fall of M′ per decade of strain over the first and the last third of a decade. */
  startFall: number;
  endFall: number;
}

function readingsOf({ logStrain, logStorage }: StrainCurve): StrainFalls {
  const last = logStrain.length - 1;
  const border = logStorage[0] + ln(1 - linearityDrop);
  const after = logStorage.findIndex((value) => value < border);
  let limit = Number.POSITIVE_INFINITY;
  if (after > 0) {
    const share = (logStorage[after - 1] - border) / (logStorage[after - 1] - logStorage[after]);
    limit = exp10(logStrain[after - 1] + share * (logStrain[after] - logStrain[after - 1]));
  }
  const third = Math.min(1 / 3, (logStrain[last] - logStrain[0]) / 2);
  let early = 1;
  while (early < last && logStrain[early] - logStrain[0] < third - 1e-9) early++;
  let late = last - 1;
  while (late > 0 && logStrain[last] - logStrain[late] < third - 1e-9) late--;
  const fall = (from: number, to: number) =>
    (logStorage[from] - logStorage[to]) / (logStrain[to] - logStrain[from]);
  return {
    smallest_Pa: exp(logStorage[0]),
    largest_Pa: exp(logStorage[last]),
    limit,
    startFall: fall(0, early),
    endFall: fall(late, last),
  };
}

function drawnReadings(
  spline: PenalisedSpline,
  logStrain: Float64Array,
  logStorage: Float64Array,
  settings: PayneSettings,
  random: ReturnType<typeof seededRandom>,
): StrainFalls[] {
  const noise = Math.max(spline.scatter, scatterAboutTrend(logStrain, logStorage));
  return Array.from({ length: settings.draws }, () => {
    const coefficients = spline.refit(spline.fitted.map((value) => value + noise * random.normal()));
    return readingsOf(curveOf(logStrain, (x) => evaluateSpline(spline, x, 0, coefficients), logStorage));
  });
}

function lossMaximum(rows: StrainRows, logStrain: Float64Array): ValueInterval | null {
  const n = logStrain.length;
  if (n < fewestPoints || rows.lossModulus_Pa.some((loss) => !(loss > 0))) return null;
  const logLoss = rows.lossModulus_Pa.map(ln);
  const noise = scatterAboutTrend(logStrain, logLoss);
  const smooth = localRegression(logStrain, logLoss, 5).value;
  const [highest] = prominentMaxima(smooth, Math.max(leastLossProminence, 3 * noise));
  if (highest === undefined) return null;
  const peak = estimatePeak(logStrain, logLoss, highest.index, lopsidedPeak);
  return peak === null ? null : { value: exp10(peak.position), low: exp10(peak.low), high: exp10(peak.high) };
}

/** A strain for a sentence: "0.21 %". */
export const percent = (strain: number) => `${Number((100 * strain).toPrecision(2))} %`;

function payneNotices(effect: PayneEffect): Notice[] {
  const { path, deformation } = effect;
  const at = `${path}: strain sweep in ${deformation === "unstated" ? "an unstated mode" : deformation} at ${strainSweepState(effect)}:`;
  const notices: Notice[] = [];
  const said = (code: Code, message: string) =>
    notices.push({ ...coded(code), message: `${at} ${message}`, path });
  if (effect.points < fewestPoints) {
    said(
      "fit.strain-sweep-coarse",
      `${effect.points} strains only, so the Payne amplitude and the limit of linearity have no interval; take six or more.`,
    );
  }
  if (effect.limitOfLinearity === null) {
    said(
      "fit.linear-throughout",
      `M′ drops by less than ${100 * linearityDrop} % up to ${percent(effect.largestStrain)}, the largest strain: linear so far, and no limit of linearity to report.`,
    );
  }
  if (!effect.levelAtSmallest) {
    said(
      "fit.strain-sweep-starts-late",
      `M′ falls from the smallest strain (${percent(effect.smallestStrain)}) on, so the linear range lies below it: the limit of linearity reads too high and the amplitude is a lower bound. Start at a tenth of that strain.`,
    );
  }
  if (!effect.levelAtLargest) {
    said(
      "fit.strain-sweep-ends-early",
      `M′ still falls at the largest strain (${percent(effect.largestStrain)}), so the amplitude is a lower bound.`,
    );
  }
  return notices;
}
