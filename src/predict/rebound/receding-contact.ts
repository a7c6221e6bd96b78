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
  private readonly gains: number;
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

  constructor(
    private readonly equilibrium: number,
    private readonly decay: Float64Array,
    private readonly gain: Float64Array,
    expectedSteps: number,
  ) {
    this.modes = decay.length;
    this.gains = gain.reduce((sum, value) => sum + value, 0);
    this.push = new Float64Array(this.modes);
    // Most contacts grow for half of the expected time and end soon after all of it; a longer one makes room.
    const growing = Math.ceil(0.6 * expectedSteps);
    this.pushes = new Float64Array(growing * this.modes);
    this.forces = new Float64Array(growing * this.modes);
    this.powers = new Float64Array(2 * growing * this.modes).fill(1, 0, this.modes);
    this.powers.set(decay, this.modes);
    this.record(0, 0, new Float64Array(this.modes));
  }

  /** Ends a step that changed x by `change`; `loading` where the contact still grows, with its forces for y. */
  advance(change: number, loading: { x: number; y: number; force: Float64Array } | null): void {
    const { modes, decay, gain, push } = this;
    this.step++;
    const from = this.step * modes;
    if (from + 2 * modes > this.powers.length) this.powers = doubled(this.powers);
    const { powers } = this;
    for (let i = 0; i < modes; i++) {
      push[i] = decay[i] * push[i] + gain[i] * change;
      powers[from + modes + i] = powers[from + i] * decay[i];
    }
    if (loading !== null) this.record(loading.x, loading.y, loading.force);
  }

  /** The force at the end of the step to come, if it brings the indentation to `x`; null while the contact grows. */
  forceAt(x: number, from_x: number): RecedingForce | null {
    const { decay, push } = this;
    let remembered = 0;
    for (let i = 0; i < this.modes; i++) remembered += decay[i] * push[i];
    const push_N = this.equilibrium * x + this.gains * (x - from_x) + remembered;
    const peak = this.x.length - 1;
    const balance = (k: number) => push_N - this.remaining(this.x[k], this.pushes, k);
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
      (1 - part) * this.remaining(this.y[k], this.forces, k) +
      part * this.remaining(this.y[k + 1], this.forces, k + 1);
    return { force_N, push_N };
  }

  private record(x: number, y: number, force: Float64Array): void {
    const from = this.x.length * this.modes;
    if (from + this.modes > this.forces.length) {
      this.forces = doubled(this.forces);
      this.pushes = doubled(this.pushes);
    }
    this.forces.set(force, from);
    this.pushes.set(this.push, from);
    this.x.push(x);
    this.y.push(y);
  }

  /** What the loading up to step k still exerts at the end of the step to come. */
  private remaining(level: number, rows: Float64Array, k: number): number {
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
    return this.equilibrium * level + (even + odd);
  }
}

function doubled(values: Float64Array): Float64Array {
  const longer = new Float64Array(2 * values.length);
  longer.set(values);
  return longer;
}
