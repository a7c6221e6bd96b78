import { cholesky, solveCholesky } from "../../../numeric/cholesky.js";
import { square } from "../../../numeric/elementary/power.js";
import type { ReducedFit, ReducedState } from "./reduced-fit.js";

/** How the parameters of a fit make the shifts of the isotherms, K of each. */
export interface ShiftModel {
  size: number;
  /** Which of V vertical shifts each isotherm has, −1 for none; they are the last V parameters. */
  verticalOf: Int32Array;
  verticalCount: number;
  /** Writes log10 aT and log10 bT of every isotherm. */
  shifts: (parameters: Float64Array, log10aT: Float64Array, log10bT: Float64Array) => void;
  /** d(a0 … aK−1, vertical shifts)/dp, row by row, K + V × size. */
  jacobian: (parameters: Float64Array) => Float64Array;
  /** Prior standard deviation about the start of each parameter, in its own unit; Infinity: none. */
  priorDeviation: Float64Array;
  /** False where the parameters have no meaning; such a step is halved. */
  allows?: (parameters: Float64Array) => boolean;
}

export interface ShiftFit {
  parameters: Float64Array;
  log10aT: Float64Array;
  log10bT: Float64Array;
  state: ReducedState;
  rss: number;
  /** rss over the residuals left after modes and parameters. */
  variance: number;
  degreesOfFreedom: number;
  /** Gauss–Newton matrix of ½ rss (with the priors), size × size; the covariance is variance × its inverse. */
  information: Float64Array;
  iterations: number;
}

const maxIterations = 40;
const longestStep_decades = 1.5;

/**
 * The last fall of the sum of squares in units of the residuals' variance, twice what it gains in ln likelihood: for what is
 * kept, and for what only tells how to go on.
 */
export const lastFall = { exact: 1e-3, rough: 1 };

/**
 * Levenberg–Marquardt over the shifts with the spectrum projected out (see ReducedFit).
 * @param start as many parameters as the model has, in its units
 * @param leastFall ends at a step that takes less than this many times the residuals' variance off the sum of squares
 */
export function fitShifts(
  reduced: ReducedFit,
  model: ShiftModel,
  start: Float64Array,
  leastFall: number = lastFall.exact,
): ShiftFit {
  const k = reduced.isothermCount;
  const { size } = model;
  let parameters = start.slice();
  let log10aT: Float64Array = new Float64Array(k);
  let log10bT: Float64Array = new Float64Array(k);
  model.shifts(parameters, log10aT, log10bT);
  let state = reduced.evaluate(log10aT, log10bT);
  let trialA: Float64Array = new Float64Array(k);
  let trialB: Float64Array = new Float64Array(k);
  const noise = (s: ReducedState) => s.rss / Math.max(1, reduced.count - s.modes - size);
  const penalty = (p: Float64Array, variance: number) => {
    let sum = 0;
    for (let j = 0; j < size; j++) sum += variance * square((p[j] - start[j]) / model.priorDeviation[j]);
    return sum;
  };
  let damping = 1e-4;
  let iterations = 0;
  /** Of the state that was taken last, once it is known. */
  let information: Float64Array | null = size === 0 ? new Float64Array(0) : null;
  for (let done = size === 0; !done && iterations < maxIterations; ) {
    iterations++;
    const variance = noise(state);
    const objective = state.rss + penalty(parameters, variance);
    const normal = normalEquations(reduced, model, state, parameters, start, variance);
    ({ information } = normal);
    for (;;) {
      const step = dampedStep(information, normal.gradient, size, damping);
      let promised = 0;
      for (let j = 0; j < size; j++) promised -= normal.gradient[j] * step[j];
      // Of what is kept a step worth a hundredth of its own standard error is not taken.
      if (promised < 0.1 * leastFall * variance + 1e-13 * objective) {
        done = true;
        break;
      }
      const shift = largestShift(normal.map, step, size);
      const factor = shift > longestStep_decades ? longestStep_decades / shift : 1;
      const trial = parameters.map((p, j) => p + factor * step[j]);
      let trialState: ReducedState | null = null;
      if (!model.allows || model.allows(trial)) {
        model.shifts(trial, trialA, trialB);
        trialState = reduced.evaluate(trialA, trialB);
      }
      if (trialState !== null && trialState.rss + penalty(trial, variance) < objective) {
        // Done when the step is a small part of its own uncertainty and of a decade.
        const fall = objective - trialState.rss - penalty(trial, variance);
        done = fall < leastFall * variance + 1e-12 * objective || shift < 1e-9;
        parameters = trial;
        state = trialState;
        information = null;
        [log10aT, trialA] = [trialA, log10aT];
        [log10bT, trialB] = [trialB, log10bT];
        damping = Math.max(1e-9, damping / 10);
        break;
      }
      damping = Math.max(damping * 10, 1e-6);
      if (damping > 1e6 || shift < 1e-8) {
        done = true;
        break;
      }
    }
  }
  const variance = noise(state);
  information ??= normalEquations(reduced, model, state, parameters, start, variance).information;
  return {
    parameters,
    log10aT,
    log10bT,
    state,
    rss: state.rss,
    variance,
    degreesOfFreedom: Math.max(1, reduced.count - state.modes - size),
    information,
    iterations,
  };
}

function normalEquations(
  reduced: ReducedFit,
  model: ShiftModel,
  state: ReducedState,
  parameters: Float64Array,
  start: Float64Array,
  variance: number,
): { information: Float64Array; gradient: Float64Array; map: Float64Array } {
  const { size } = model;
  const { gradient, matrix } = reduced.derivatives(state, model.verticalOf, model.verticalCount);
  const count = gradient.length;
  const map = model.jacobian(parameters);
  // Of the parameters an isotherm's shifts depend on one or a few.
  const rows = Array.from({ length: count }, (_, a) => {
    const entries: { j: number; value: number }[] = [];
    for (let j = 0; j < size; j++) {
      if (map[a * size + j] !== 0) entries.push({ j, value: map[a * size + j] });
    }
    return entries;
  });
  const information = new Float64Array(size * size);
  const out = new Float64Array(size);
  const half = new Float64Array(size);
  for (let a = 0; a < count; a++) {
    if (rows[a].length === 0) continue;
    half.fill(0);
    for (let b = 0; b < count; b++) {
      const value = matrix[a * count + b];
      for (const entry of rows[b]) half[entry.j] += value * entry.value;
    }
    for (const { j: i, value } of rows[a]) {
      out[i] += value * gradient[a];
      for (let j = 0; j < size; j++) information[i * size + j] += value * half[j];
    }
  }
  for (let j = 0; j < size; j++) {
    const weight = variance / square(model.priorDeviation[j]);
    information[j * size + j] += weight;
    out[j] += weight * (parameters[j] - start[j]);
  }
  return { information, gradient: out, map };
}

function dampedStep(
  information: Float64Array,
  gradient: Float64Array,
  size: number,
  damping: number,
): Float64Array {
  let largest = 0;
  for (let j = 0; j < size; j++) largest = Math.max(largest, information[j * size + j]);
  for (let extra = damping; ; extra *= 100) {
    const matrix = information.slice();
    for (let j = 0; j < size; j++) {
      matrix[j * size + j] += extra * information[j * size + j] + 1e-12 * largest + 1e-300;
    }
    if (!cholesky(matrix, size)) continue;
    const step = gradient.map((g) => -g);
    solveCholesky(matrix, size, step);
    return step;
  }
}

/** The largest move of a shift, in decades, that a step makes. */
function largestShift(map: Float64Array, step: Float64Array, size: number): number {
  let largest = 0;
  for (let a = 0; a < map.length / size; a++) {
    let sum = 0;
    for (let j = 0; j < size; j++) sum += map[a * size + j] * step[j];
    largest = Math.max(largest, Math.abs(sum));
  }
  return largest;
}

/**
 * Every isotherm with a horizontal shift of its own but the reference, which stays where it is. `verticalOf`
 * names each isotherm's vertical parameter, −1 for none.
 */
export function freeShiftModel(
  isothermCount: number,
  reference: number,
  verticalOf: Int32Array,
  verticalCount: number,
  verticalDeviation: number,
): ShiftModel {
  const size = isothermCount - 1 + verticalCount;
  const horizontal = (k: number) => (k < reference ? k : k - 1);
  const map = new Float64Array((isothermCount + verticalCount) * size);
  for (let k = 0; k < isothermCount; k++) if (k !== reference) map[k * size + horizontal(k)] = 1;
  for (let v = 0; v < verticalCount; v++) map[(isothermCount + v) * size + isothermCount - 1 + v] = 1;
  return {
    size,
    verticalOf,
    verticalCount,
    shifts: (p, log10aT, log10bT) => {
      for (let k = 0; k < isothermCount; k++) {
        log10aT[k] = k === reference ? 0 : p[horizontal(k)];
        log10bT[k] = verticalOf[k] < 0 ? 0 : p[isothermCount - 1 + verticalOf[k]];
      }
    },
    jacobian: () => map,
    priorDeviation: new Float64Array(size)
      .fill(Number.POSITIVE_INFINITY)
      .fill(verticalDeviation, isothermCount - 1),
  };
}
