/**
 * What a step does to the internal force of each mode: q becomes decay · q + gain · Δy + rate · ẏ, with the change of y over
 * the step and its rate at the end.
 */
export interface StepCoefficients {
  decay: Float64Array;
  gain: Float64Array;
  rate: Float64Array;
  /** Σ gain and Σ rate. */
  gains: number;
  rates: number;
}

/** The force of a contact that grew and now shrinks. */
export interface RecedingForce {
  force_N: number;
  /** ∫₀ᵗ K(t − s) dx(s): falls through zero when t1 has gone back to first touch, and the contact ends. */
  push_N: number;
}

/**
 * A viscoelastic contact whose area shrinks again (Ting, J. Appl. Mech. 33, 845, 1966).
 *
 * While the contact grows, F = ∫₀ᵗ K(t − s) dy(s). While it shrinks, only the loading up to t1 counts, the time
 * at which the contact had the same size on its way up:
 *
 *   F(t) = ∫₀^{t1} K(t − s) dy(s),   ∫_{t1}^{t} K(t − s) dx(s) = 0.
 *
 * Carried on over the whole history instead, the integral would let the rim of the contact pull, and R of a
 * rubber comes out up to 0.03 too low. The modes' internal forces at each step of the loading are kept,
 * so that both integrals are sums over the modes.
 */
export class RecedingContact {
  private readonly modes: number;
  /** Internal forces for x, now. */
  private readonly push: Float64Array;
  /** Rows of modes, one for each step of the loading: internal forces for x, and for y. */
  private pushes: Float64Array;
  private forces: Float64Array;
  /** Row j is the decay over j steps; filled one row further than the steps so far. */
  private powers: Float64Array;
  private readonly x: number[] = [];
  private readonly y: number[] = [];
  /** The step of the loading just before t1; it only goes back. */
  private below = Number.POSITIVE_INFINITY;
  private step = 0;
  /** What the forces for x still exert at the end of the step to come. */
  private fadedPush = 0;
  /** What the loading up to a step still exerts at the end of the step to come, for the last few that were asked for. */
  private readonly pushUpTo = new Kept();
  private readonly forceUpTo = new Kept();

  constructor(
    private readonly equilibrium: number,
    private readonly coefficients: StepCoefficients,
    expectedSteps: number,
  ) {
    const { decay } = coefficients;
    this.modes = decay.length;
    this.push = new Float64Array(this.modes);
    // Most contacts grow for half of the expected time and end soon after all of it; a longer one makes room.
    const growing = Math.ceil(0.6 * expectedSteps);
    const room = roomFor(growing * this.modes);
    this.pushes = room.pushes;
    this.forces = room.forces;
    this.powers = room.powers.fill(1, 0, this.modes);
    this.powers.set(decay, this.modes);
    this.record(0, 0, new Float64Array(this.modes));
  }

  /**
   * Ends a step that changed x by `change` and leaves it at `speed`; `loading` where the contact still grows, with its forces
   * for y.
   */
  advance(
    change: number,
    speed: number,
    loading: { x: number; y: number; force: Float64Array } | null,
  ): void {
    const { modes, push } = this;
    const { decay, gain, rate } = this.coefficients;
    this.step++;
    const from = this.step * modes;
    if (from + 2 * modes > this.powers.length) this.powers = doubled(this.powers);
    const { powers } = this;
    let faded = 0;
    for (let i = 0; i < modes; i++) {
      const next = decay[i] * push[i] + gain[i] * change + rate[i] * speed;
      push[i] = next;
      faded += decay[i] * next;
      powers[from + modes + i] = powers[from + i] * decay[i];
    }
    this.fadedPush = faded;
    this.pushUpTo.forget();
    this.forceUpTo.forget();
    if (loading !== null) this.record(loading.x, loading.y, loading.force);
  }

  /**
   * The force at the end of the step to come, if it brings the indentation from `from_x` to `x` and leaves it at `speed`; null
   * while the contact grows.
   */
  forceAt(x: number, from_x: number, speed: number): RecedingForce | null {
    const { gains, rates } = this.coefficients;
    const push_N = this.equilibrium * x + gains * (x - from_x) + rates * speed + this.fadedPush;
    const peak = this.x.length - 1;
    const balance = (k: number) => push_N - this.remaining(this.x[k], this.pushes, k, this.pushUpTo);
    if (push_N <= 0) return { force_N: 0, push_N };
    if (this.below > peak && balance(peak) >= 0) return null;

    let k = Math.min(this.below, peak - 1);
    let low = balance(k);
    let high = Number.NaN;
    while (low < 0 && k > 0) {
      high = low;
      low = balance(--k);
    }
    if (Number.isNaN(high)) high = balance(k + 1);
    this.below = k + 1;
    const part = low / (low - high);
    const force_N =
      (1 - part) * this.remaining(this.y[k], this.forces, k, this.forceUpTo) +
      part * this.remaining(this.y[k + 1], this.forces, k + 1, this.forceUpTo);
    return { force_N, push_N };
  }

  private record(x: number, y: number, force: Float64Array): void {
    const from = this.x.length * this.modes;
    if (from + this.modes > this.forces.length) {
      this.forces = doubled(this.forces);
      this.pushes = doubled(this.pushes);
    }
    const { forces, pushes, push } = this;
    for (let i = 0; i < this.modes; i++) {
      forces[from + i] = force[i];
      pushes[from + i] = push[i];
    }
    this.x.push(x);
    this.y.push(y);
  }

  /** What the loading up to step k still exerts at the end of the step to come. */
  private remaining(level: number, rows: Float64Array, k: number, kept: Kept): number {
    if (kept.has(k)) return kept.value;
    const { modes, powers } = this;
    const row = k * modes;
    const faded = (this.step + 1 - k) * modes;
    // Two partial sums, so that one addition need not wait for the one before: this is the inner loop.
    let even = 0;
    let odd = 0;
    for (let i = 1; i < modes; i += 2) {
      even += powers[faded + i - 1] * rows[row + i - 1];
      odd += powers[faded + i] * rows[row + i];
    }
    if (modes % 2 === 1) even += powers[faded + modes - 1] * rows[row + modes - 1];
    return kept.keep(k, this.equilibrium * level + (even + odd));
  }
}

/** A number for each of the two steps that were asked for last; both substitutions of a step ask for the same ones. */
class Kept {
  value = 0;
  private first = -1;
  private second = -1;
  private firstValue = 0;
  private secondValue = 0;

  /** Whether there is one for a step; `value` is it then. */
  has(k: number): boolean {
    if (k === this.first) this.value = this.firstValue;
    else if (k === this.second) this.value = this.secondValue;
    else return false;
    return true;
  }

  keep(k: number, value: number): number {
    this.second = this.first;
    this.secondValue = this.firstValue;
    this.first = k;
    this.firstValue = value;
    return value;
  }

  forget(): void {
    this.first = -1;
    this.second = -1;
  }
}

interface Room {
  pushes: Float64Array;
  forces: Float64Array;
  /** Twice as long. */
  powers: Float64Array;
}

/** Of the last impact: one impact runs after the other, and each writes a place before it reads it. */
let lastRoom: Room = {
  pushes: new Float64Array(0),
  forces: new Float64Array(0),
  powers: new Float64Array(0),
};
/** 256 kB an array, and none is kept that is larger. */
const mostKept = 1 << 15;

function roomFor(size: number): Room {
  if (lastRoom.forces.length >= size) return lastRoom;
  const room = {
    pushes: new Float64Array(size),
    forces: new Float64Array(size),
    powers: new Float64Array(2 * size),
  };
  if (size <= mostKept) lastRoom = room;
  return room;
}

function doubled(values: Float64Array): Float64Array {
  const longer = new Float64Array(2 * values.length);
  longer.set(values);
  return longer;
}
