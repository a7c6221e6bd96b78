import { exp, expm1 } from "../../numeric/elementary/exponential.js";
import { square } from "../../numeric/elementary/power.js";
import { RecedingContact, type RecedingForce, type StepCoefficients } from "./receding-contact.js";

/** How the contact answers in force: F = ∫ K(t − s) dy(s), y = `shape(x)` of the indentation x. */
export interface ContactShape {
  shape(indentation_m: number): number;
  slope(indentation_m: number): number;
  /** Whether the contact's area shrinks on the way out; a flat face keeps its area. */
  recedes: boolean;
}

/** Relaxing stiffness K(t) = Ke + Σ Ki e^(−t/τi), force per unit of y. */
export interface RelaxingStiffness {
  equilibrium: number;
  times_s: Float64Array;
  strengths: Float64Array;
}

export interface Impact {
  /** Energy returned over energy brought in. */
  reboundFraction: number;
  contactTime_s: number;
  deepestIndentation_m: number;
  /** Largest force of the body on the mass. */
  peakForce_N: number;
}

export interface ImpactOptions {
  /** Expected contact time, from which the time step is chosen. */
  expectedContactTime_s: number;
  /** Time steps per expected contact time in the coarser of two runs. */
  steps: number;
}

export const linearContact: ContactShape = { shape: (x) => x, slope: () => 1, recedes: false };

/** x^{3/2}, odd below zero so that the force passes smoothly through the end of the contact. */
export const hertzContact: ContactShape = {
  shape: (x) => x * Math.sqrt(Math.abs(x)),
  slope: (x) => 1.5 * Math.sqrt(Math.abs(x)),
  recedes: true,
};

/**
 * Impact of a rigid mass on a viscoelastic body, m ẍ = −∫ K(t − s) dy(s), from first touch to zero force.
 *
 * Each mode is an internal force that decays exactly over a step in which ẏ runs straight to its value at the end; the mass
 * moves by the trapezoidal rule. Both are of second order, so two runs, one with half the step, are extrapolated
 * (Richardson). Were it y that runs straight, a mode faster than the step would answer to the rate half a step ago, and the
 * error fall by the step to the power 1.6 only. A mode much faster than the step acts as a dashpot, a much slower one as a spring, at no
 * extra cost. Zero force is where contact ends, for the force cannot pull. Where the contact's area shrinks on
 * the way out, the history integral stops at the loading that still bears (see `RecedingContact`).
 *
 * @param mass_kg effective mass
 * @param speed_m_s speed at first touch
 * @example simulateImpact({ equilibrium: 1e5, times_s: new Float64Array(), strengths: new Float64Array() }, linearContact, 0.255, 1.98, { expectedContactTime_s: 5e-3, steps: 96 }).reboundFraction.toFixed(6) // "1.000000"
 */
export function simulateImpact(
  stiffness: RelaxingStiffness,
  contact: ContactShape,
  mass_kg: number,
  speed_m_s: number,
  options: ImpactOptions,
): Impact {
  const step_s = options.expectedContactTime_s / options.steps;
  const near = withinReach(stiffness, step_s / 2, options.expectedContactTime_s);
  const coarse = runImpact(near, contact, mass_kg, speed_m_s, step_s, options.steps);
  const fine = runImpact(near, contact, mass_kg, speed_m_s, step_s / 2, 2 * options.steps);
  return {
    reboundFraction: clampFraction(extrapolate(coarse.reboundFraction, fine.reboundFraction)),
    contactTime_s: extrapolate(coarse.contactTime_s, fine.contactTime_s),
    deepestIndentation_m: extrapolate(coarse.deepestIndentation_m, fine.deepestIndentation_m),
    peakForce_N: extrapolate(coarse.peakForce_N, fine.peakForce_N),
  };
}

const extrapolate = (coarse: number, fine: number) => fine + (fine - coarse) / 3;
const clampFraction = (fraction: number) => Math.min(1, Math.max(0, fraction));

/** A mode that relaxes within this share of a step, or within so many contacts, is one of many alike. */
const fastSteps = 0.25;
const slowContacts = 20;

/**
 * The same stiffness with fewer modes: those that relax within a quarter of a step are one together, those that hardly
 * relax within the contact another. One mode of strength K and time τ stands for many where Σ K τ and Σ K τ² of the fast
 * ones are kept (what they resist a speed with, and how that lags), or Σ K/τ and Σ K/τ² of the slow ones (how fast they
 * give way, and how that slows down), the rest of which is a spring: the error is of third order in the step over the
 * contact time, and in the contact time over τ.
 */
function withinReach(stiffness: RelaxingStiffness, step_s: number, contact_s: number): RelaxingStiffness {
  const count = stiffness.times_s.length;
  // Room for the one mode of the fast ones and the one of the slow ones too.
  const times_s = new Float64Array(count + 2);
  const strengths = new Float64Array(count + 2);
  let modes = 0;
  const push = (time_s: number, strength: number) => {
    times_s[modes] = time_s;
    strengths[modes++] = strength;
  };
  let equilibrium = stiffness.equilibrium;
  let [viscosity, lag, rate, slowing] = [0, 0, 0, 0];
  for (let i = 0; i < count; i++) {
    const time_s = stiffness.times_s[i];
    const strength = stiffness.strengths[i];
    if (time_s < fastSteps * step_s) {
      viscosity += strength * time_s;
      lag += strength * square(time_s);
    } else if (time_s > slowContacts * contact_s) {
      equilibrium += strength;
      rate += strength / time_s;
      slowing += strength / square(time_s);
    } else push(time_s, strength);
  }
  if (lag > 0) push(lag / viscosity, square(viscosity) / lag);
  if (slowing > 0) {
    const strength = square(rate) / slowing;
    equilibrium -= strength;
    push(rate / slowing, strength);
  }
  return { equilibrium, times_s: times_s.subarray(0, modes), strengths: strengths.subarray(0, modes) };
}

/** A body that only flows never throws the mass back: after this many expected contact times it rests. */
const longestContact = 40;

function runImpact(
  stiffness: RelaxingStiffness,
  contact: ContactShape,
  mass_kg: number,
  speed_m_s: number,
  step_s: number,
  stepsPerContact: number,
): Impact {
  const modes = stiffness.times_s.length;
  const force = new Float64Array(modes);
  const coefficients = stepCoefficients(stiffness, step_s);
  const { decay, gain, rate, gains, rates } = coefficients;
  const stiffnessNow = stiffness.equilibrium + gains;
  const inertia = (step_s * step_s) / (4 * mass_kg);

  const receding = contact.recedes
    ? new RecedingContact(stiffness.equilibrium, coefficients, stepsPerContact)
    : null;

  let x = 0;
  let y = 0;
  let v = speed_m_s;
  let F = 0;
  /** Σ decay · force: what the modes still exert at the end of the step to come. */
  let faded = 0;
  let deepest = 0;
  const peak = new PeakOfSteps();
  /** What falls through zero when contact ends: the force, or a shrinking contact's last push. */
  let push = 0;
  const mostSteps = longestContact * stepsPerContact;
  for (let n = 0; n < mostSteps; n++) {
    const remembered = faded - gains * y;
    const ahead = x + step_s * v;
    let nextX = indentationAfterStep(contact, {
      free: ahead - inertia * (F + remembered),
      spring: inertia * stiffnessNow,
      dashpot: inertia * rates,
      // Of the trapezoidal rule: the speed after the step is twice the mean one less that before.
      perStep: 2 / step_s,
      still: x + (step_s / 2) * v,
      guess: ahead,
    });
    let nextV = (2 / step_s) * (nextX - x) - v;
    let nextF = remembered + stiffnessNow * contact.shape(nextX) + rates * contact.slope(nextX) * nextV;
    let nextPush = nextF;
    let shrinking: RecedingForce | null = null;
    if (receding !== null && v < 0) {
      // The force hardly depends on x over a step: two substitutions settle it.
      for (let i = 0; i < 2; i++) {
        shrinking = receding.forceAt(nextX, x, nextV);
        if (shrinking === null) break;
        nextF = shrinking.force_N;
        nextPush = shrinking.push_N;
        nextX = ahead - inertia * (F + nextF);
        nextV = v - (step_s * (F + nextF)) / (2 * mass_kg);
      }
    }
    if (nextPush <= 0 && n > 0) {
      const part = push / (push - nextPush);
      const end_v = v - (part * step_s * F) / (2 * mass_kg);
      return {
        reboundFraction: end_v < 0 ? square(end_v / speed_m_s) : 0,
        contactTime_s: (n + part) * step_s,
        deepestIndentation_m: deepest,
        peakForce_N: peak.value,
      };
    }
    const nextY = contact.shape(nextX);
    const yRate = contact.slope(nextX) * nextV;
    faded = 0;
    for (let i = 0; i < modes; i++) {
      const next = decay[i] * force[i] + gain[i] * (nextY - y) + rate[i] * yRate;
      force[i] = next;
      faded += decay[i] * next;
    }
    receding?.advance(nextX - x, nextV, shrinking === null ? { x: nextX, y: nextY, force } : null);
    if (nextX > deepest) deepest = nextX;
    if (v > 0 && nextV <= 0) deepest = Math.max(deepest, x + (v * v * step_s) / (2 * (v - nextV)));
    x = nextX;
    y = nextY;
    v = nextV;
    F = nextF;
    push = nextPush;
    peak.take(F);
  }
  return {
    reboundFraction: 0,
    contactTime_s: mostSteps * step_s,
    deepestIndentation_m: deepest,
    peakForce_N: peak.value,
  };
}

/** The maximum of a curve known at even steps: the vertex of the parabola through the highest step and its neighbours. */
class PeakOfSteps {
  value = 0;
  private before = 0;
  private last = 0;

  take(next: number): void {
    const { before, last } = this;
    if (last >= before && last > next && last >= this.value) {
      const bend = before - 2 * last + next;
      this.value = last - square(before - next) / (8 * bend);
    } else if (next > this.value) this.value = next;
    this.before = last;
    this.last = next;
  }
}

/** Of its time a mode passes less than this in one step: it is a spring. */
const hardly = 1e-5;

/**
 * Exact where ẏ runs straight over the step with the mean Δy/h: with r = h/τ and a = (1 − e^{−r})/r, the mean of e^{−s/τ},
 * the gain is 2 K (a − e^{−r})/r and the rate K τ (1 − 2a + e^{−r}). A slow mode takes in all of K Δy, a fast one is the
 * dashpot K τ ẏ.
 */
function stepCoefficients({ times_s, strengths }: RelaxingStiffness, step_s: number): StepCoefficients {
  const decay = new Float64Array(times_s.length);
  const gain = new Float64Array(times_s.length);
  const rate = new Float64Array(times_s.length);
  let gains = 0;
  let rates = 0;
  for (let i = 0; i < times_s.length; i++) {
    const ratio = step_s / times_s[i];
    decay[i] = exp(-ratio);
    if (ratio < hardly) gain[i] = strengths[i];
    else {
      const mean = -expm1(-ratio) / ratio;
      gain[i] = (2 * strengths[i] * (mean - decay[i])) / ratio;
      rate[i] = strengths[i] * times_s[i] * (1 - 2 * mean + decay[i]);
    }
    gains += gain[i];
    rates += rate[i];
  }
  return { decay, gain, rate, gains, rates };
}

/** x + spring · y + dashpot · ẏ = free, with ẋ = perStep · (x − still) at the end of the step. */
interface StepEquation {
  free: number;
  spring: number;
  dashpot: number;
  perStep: number;
  still: number;
  guess: number;
}

/** Solves it for x by Newton's method, the bend of the shape left out of the derivative; the root is one. */
function indentationAfterStep(
  contact: ContactShape,
  { free, spring, dashpot, perStep, still, guess }: StepEquation,
): number {
  let x = guess;
  for (let i = 0; i < 60; i++) {
    const slope = contact.slope(x);
    const excess = x + spring * contact.shape(x) + dashpot * slope * perStep * (x - still) - free;
    const change = excess / (1 + (spring + dashpot * perStep) * slope);
    x -= change;
    if (Math.abs(change) <= 1e-13 * Math.abs(x) + 1e-18) break;
  }
  return x;
}
