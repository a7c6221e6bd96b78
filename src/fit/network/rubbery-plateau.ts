import type { Deformation } from "../../io/measurement.js";
import { exp, sinh } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { localRegression, scatterAboutTrend } from "../../numeric/local-regression.js";
import type { Random } from "../../numeric/statistics/random.js";
import { drawnInterval, type ValueInterval } from "../../numeric/statistics/value-interval.js";
import { zeroCelsius_K } from "../spectrum/shift-law.js";

/** n points of modulus over temperature at one frequency, temperatures ascending. */
export interface ModulusOverTemperature {
  temperature_C: Float64Array;
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
}

export interface RubberyPlateau {
  /** The window in which M′/T is steadiest. */
  from_C: number;
  to_C: number;
  /** The window's middle, where the modulus is read. */
  temperature_C: number;
  storageModulus_Pa: ValueInterval;
  /** Mean of M″/M′ in the window. */
  tanDelta: number;
  /** Change of M′/T over 20 K at the slope of the window, as a fraction: 0 for an ideal network. */
  drift: number;
  points: number;
}

/** A plateau with where it was found. */
export interface FoundPlateau {
  plateau: RubberyPlateau;
  deformation: Deformation;
  frequency_Hz: number;
  basis: "temperature sweep" | "master curve";
  paths: string[];
}

export interface PlateauAbsence {
  absent: "ends too early" | "not flat";
  /** Smallest drift that was found, where any window was there. */
  drift: number | null;
}

/** The search starts this far above the tan δ peak (common practice: the plateau starts some 30 to 40 K above). */
export const plateauAbovePeak_K = 30;
export const plateauWindow_K = 20;
const narrowestWindow_K = 10;
const fewestPoints = 4;
/** M′/T of a rubber whose network is at rest changes by less than this over 20 K; in a transition or flow it does not. */
export const mostDrift = 0.2;

/**
 * The rubbery plateau of a temperature sweep: of all windows 20 K wide that start at least at `above_C`, the one
 * in which M′/T changes least, since an ideal network has M′ ∝ T (Treloar, The Physics of Rubber Elasticity).
 * M′ is read there at the middle, from the straight line of ln(M′/T) on T. A window of 10 K or more is taken
 * where the data end sooner. No plateau where M′/T changes by more than 20 % over 20 K even there.
 *
 * The interval comes from drawing the curve again with the scatter of its points, window included; a window elsewhere
 * is brought to the same temperature by M′ ∝ T.
 */
export function rubberyPlateau(
  sweep: ModulusOverTemperature,
  above_C: number,
  random: Random,
  draws: number,
): RubberyPlateau | PlateauAbsence {
  const first = sweep.temperature_C.findIndex((temperature_C) => temperature_C >= above_C);
  const temperature_C = first < 0 ? new Float64Array() : sweep.temperature_C.subarray(first);
  const n = temperature_C.length;
  if (n < fewestPoints || temperature_C[n - 1] - temperature_C[0] < narrowestWindow_K) {
    return { absent: "ends too early", drift: null };
  }
  const logRatio = temperature_C.map((T, i) => ln(sweep.storageModulus_Pa[first + i] / (T + zeroCelsius_K)));
  const best = steadiestWindow(temperature_C, logRatio);
  if (best === null) return { absent: "ends too early", drift: null };
  if (Math.abs(best.drift) > mostDrift) return { absent: "not flat", drift: best.drift };

  const noise = n >= 5 ? scatterAboutTrend(temperature_C, logRatio) : 0;
  const smooth = localRegression(temperature_C, logRatio, 7).value;
  const drawn = Float64Array.from({ length: noise > 0 ? draws : 0 }, () => {
    const again = smooth.map((value) => value + noise * random.normal());
    return modulusAt(best.middle_C, steadiestWindow(temperature_C, again)?.logRatio ?? Number.NaN);
  });
  let tanDelta = 0;
  const points = best.end - best.start;
  for (let i = first + best.start; i < first + best.end; i++) {
    tanDelta += sweep.lossModulus_Pa[i] / sweep.storageModulus_Pa[i] / points;
  }
  return {
    from_C: temperature_C[best.start],
    to_C: temperature_C[best.end - 1],
    temperature_C: best.middle_C,
    storageModulus_Pa: drawnInterval(modulusAt(best.middle_C, best.logRatio), drawn),
    tanDelta,
    drift: best.drift,
    points,
  };
}

const modulusAt = (temperature_C: number, logRatio: number) =>
  exp(logRatio) * (temperature_C + zeroCelsius_K);

interface Window {
  start: number;
  end: number;
  middle_C: number;
  /** ln(M′/T) at the middle, by the line. */
  logRatio: number;
  /** Change of M′/T over 20 K by the line, as a fraction of its value at the middle. */
  drift: number;
}

function steadiestWindow(temperature_C: Float64Array, logRatio: Float64Array): Window | null {
  const n = temperature_C.length;
  const span_K = temperature_C[n - 1] - temperature_C[0];
  const width_K = Math.min(plateauWindow_K, span_K);
  let best: Window | null = null;
  let end = 0;
  for (let start = 0; start < n; start++) {
    while (end < n && temperature_C[end] - temperature_C[start] <= width_K + 1e-9) end++;
    const covered_K = temperature_C[end - 1] - temperature_C[start];
    // At the warm end a window is cut short, and noise makes a short one look steady.
    const isWhole = end < n || covered_K >= 0.9 * width_K;
    if (end - start < fewestPoints || covered_K < narrowestWindow_K || !isWhole) continue;
    const window = windowOf(temperature_C, logRatio, start, end);
    if (best === null || Math.abs(window.drift) < Math.abs(best.drift)) best = window;
  }
  return best;
}

function windowOf(x: Float64Array, y: Float64Array, start: number, end: number): Window {
  const middle_C = (x[start] + x[end - 1]) / 2;
  let sx = 0;
  let sy = 0;
  let sxx = 0;
  let sxy = 0;
  for (let i = start; i < end; i++) {
    const u = x[i] - middle_C;
    sx += u;
    sy += y[i];
    sxx += u * u;
    sxy += u * y[i];
  }
  const n = end - start;
  const slope = (n * sxy - sx * sy) / (n * sxx - sx * sx);
  return {
    start,
    end,
    middle_C,
    logRatio: (sy - slope * sx) / n,
    drift: 2 * sinh((slope * plateauWindow_K) / 2),
  };
}
