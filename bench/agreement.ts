// Whether both sides found the same numbers. Each tolerance says where it comes from; none is fitted to what
// the programs print.
import type { DrawnFriction } from "./drawn-friction.js";

/** What a comparison found: the largest difference of each kind beside what is allowed. */
export interface Agreement {
  ok: boolean;
  checks: { what: string; difference: number; allowed: number }[];
}

type Json = number | string | boolean | null | Json[] | { [key: string]: Json };
// biome-ignore lint/suspicious/noExplicitAny: answers are plain JSON of two programs, looked into by name.
type Answer = any;

/** Columns as read: the last digits of a double may differ between two number parsers. */
export function compareReading(ours: Answer, theirs: Answer): Agreement {
  const check = new Checks(ours, theirs);
  for (let k = 0; k < ours.length; k++) {
    for (const key of ["temperature_C", "frequency_Hz", "storageModulus_Pa", "lossModulus_Pa"]) {
      check.sameLength(`rows of ${key}`, ours[k][key], theirs[k][key]);
      for (let i = 0; i < ours[k][key].length; i++) {
        check.relative("a value, relative", ours[k][key][i], theirs[k][key][i], 1e-12);
      }
    }
  }
  return check.result();
}

/**
 * Peaks, onsets and their intervals. A difference that matters is one that shows beside the 95 % interval: a
 * quarter of its half width is allowed, since the likelihood that chooses the smoothing is flat there. The
 * random numbers differ, so the intervals agree on average only: a half width from 200 draws scatters by 7 %, and
 * four standard errors of the mean are allowed.
 */
export function compareGlassTransitions(ours: Answer, theirs: Answer): Agreement {
  const check = new Checks(ours, theirs);
  for (const kind of ["tanDelta", "lossModulus", "onset"]) {
    let ourWidth_K = 0;
    let theirWidth_K = 0;
    for (let k = 0; k < ours.length; k++) {
      const [a, b] = [ours[k][kind], theirs[k][kind]];
      if (!check.bothOrNone(`${kind} found`, a, b)) continue;
      ourWidth_K += a.high_C - a.low_C;
      theirWidth_K += b.high_C - b.low_C;
      const half_K = (a.high_C - a.low_C) / 2;
      check.scaled(`${kind}, in half widths of its interval`, a.temperature_C, b.temperature_C, half_K, 0.25);
      if (kind !== "tanDelta") continue;
      check.relative("height, relative", a.height, b.height, 0.005);
      if (check.bothOrNone("width found", a.width_K, b.width_K)) {
        check.absolute("width, K", a.width_K, b.width_K, 0.1);
      }
    }
    check.relative(
      `mean interval of ${kind}, relative`,
      ourWidth_K,
      theirWidth_K,
      fourErrors(0.07, ours.length),
    );
  }
  return check.result();
}

/** Shifts, law and moduli: a tenth of what 1 % noise leaves open (C1·C2 1 %, T∞ 0.4 K, shifts 0.02 decades). */
export function compareSuperpositions(ours: Answer, theirs: Answer): Agreement {
  const check = new Checks(ours, theirs);
  for (let k = 0; k < ours.length; k++) {
    const [a, b] = [ours[k], theirs[k]];
    if (!check.bothOrNone("superposition found", a, b)) continue;
    check.equal("law", a.law, b.law);
    check.absolute("reference, K", a.referenceTemperature_C, b.referenceTemperature_C, 1e-9);
    // Where the reference isotherm itself stands is each side's own convention.
    const fromColdest = (shifts: number[]) => shifts.map((shift) => shift - shifts[0]);
    const [ourShifts, theirShifts] = [fromColdest(a.log10aT), fromColdest(b.log10aT)];
    check.all("shift, decades", ourShifts, theirShifts, (x, y) => Math.abs(x - y), 0.002);
    if (a.law === "wlf" && b.law === "wlf") {
      check.relative("C1·C2, relative", a.wlf.c1 * a.wlf.c2_K, b.wlf.c1 * b.wlf.c2_K, 0.001);
      check.absolute("T∞, K", a.wlf.c2_K, b.wlf.c2_K, 0.04);
    }
    const ofModulus = (x: Answer, y: Answer) =>
      Math.max(
        Math.abs(x.storageModulus_Pa / y.storageModulus_Pa - 1),
        Math.abs(x.lossModulus_Pa / y.lossModulus_Pa - 1),
      );
    check.all("modulus, relative", a.moduli, b.moduli, ofModulus, 0.002);
  }
  return check.result();
}

/** Rebound to 0.0003 and friction to 0.1 %: what the program's own checks against quadrature and ODE solvers ask. */
export function compareContacts(ours: Answer, theirs: Answer): Agreement {
  const check = new Checks(ours, theirs);
  for (let k = 0; k < ours.length; k++) {
    for (let i = 0; i < ours[k].length; i++) {
      const [a, b] = [ours[k][i], theirs[k][i]];
      check.absolute("temperature, K", a.temperature_C, b.temperature_C, 1e-9);
      for (const end of ["value", "low", "high"]) {
        check.absolute("rebound", a.rebound[end], b.rebound[end], 3e-4);
        check.relative("friction, relative", a.friction[end], b.friction[end], 1e-3);
      }
      for (const end of ["halved", "doubled"]) {
        check.relative(`friction, cut-off ${end}, relative`, a.cutOff[end], b.cutOff[end], 1e-3);
      }
      for (const key of ["contactTime_s", "textbookFraction", "contactAreaRatio", "contactFrequency_Hz"]) {
        check.relative(`${key}, relative`, a[key], b[key], 1e-3);
      }
    }
  }
  return check.result();
}

/**
 * results.json of both whole jobs. What the fits allow above adds up: rebound to 0.001, friction to 0.2 %. The
 * intervals come from different random numbers: one from 60 draws scatters by 17 %, those of a compound together.
 * Friction's interval in results.json is the wider one of the draws' and the cut-off's; each is compared by itself, the draws'
 * from the same job run once more (`drawn-friction.ts`), which must come to the same friction and interval.
 * Ours is null where the data do not reach; theirs has no such rule. A verdict may differ only by naming a
 * border's other side too.
 */
export function compareJobs(ours: Answer, theirs: Answer, drawn: DrawnFriction[]): Agreement {
  const check = new Checks(ours.compounds, theirs.compounds);
  const widths = { rebound: [0, 0], friction: [0, 0] };
  for (const a of ours.compounds) {
    const b = theirs.compounds.find(({ name }: Answer) => name === a.name);
    if (!check.bothOrNone("compound", a, b)) continue;
    const [transition] = a.glassTransitions;
    const half_K = (transition.tanDeltaPeak.high_C - transition.tanDeltaPeak.low_C) / 2;
    check.scaled(
      "tan δ peak, in half widths",
      transition.tanDeltaPeak.temperature_C,
      b.glassTransition.tanDelta.temperature_C,
      half_K,
      0.25,
    );
    const { wlf } = a.superposition;
    if (check.bothOrNone("WLF law", wlf, b.superposition)) {
      const theirProduct = b.superposition.c1 * b.superposition.c2_K;
      check.relative("C1·C2, relative", wlf.c1 * wlf.c2_K, theirProduct, 0.001);
    }
    for (let i = 0; i < a.outlooks.length; i++) {
      const [mine, other] = [a.outlooks[i], b.outlooks[i]];
      check.absolute("use temperature, K", mine.temperature_C, other.temperature_C, 1e-9);
      if (mine.rebound !== null) {
        check.absolute("rebound", mine.rebound.fraction, other.rebound.value, 1e-3);
        widths.rebound[0] += mine.rebound.high - mine.rebound.low;
        widths.rebound[1] += other.rebound.high - other.rebound.low;
      }
      if (mine.grip !== null) {
        const { frictionCoefficient, low, high, cutOffSensitivity } = mine.grip;
        const { halved, doubled } = cutOffSensitivity;
        check.relative("friction, relative", frictionCoefficient, other.friction.value, 2e-3);
        check.relative("friction, cut-off halved, relative", halved, other.cutOff.halved, 2e-3);
        check.relative("friction, cut-off doubled, relative", doubled, other.cutOff.doubled, 2e-3);
        const draws = drawn.find(({ name }) => name === a.name)?.uses[i];
        if (check.bothOrNone("draws of friction", draws, other.friction)) {
          check.relative("friction of the job run once more", frictionCoefficient, draws!.value, 1e-12);
          check.relative("lower end of friction", low, Math.min(draws!.low, halved, doubled), 1e-12);
          check.relative("upper end of friction", high, Math.max(draws!.high, halved, doubled), 1e-12);
          widths.friction[0] += draws!.high - draws!.low;
          widths.friction[1] += other.friction.high - other.friction.low;
        }
      }
      if (mine.cold !== null) check.equal("verdict", ...sharedVerdict(mine.cold.verdict, other.verdict));
    }
  }
  for (const [what, [a, b]] of Object.entries(widths)) {
    check.equal(`${what} compared anywhere`, a > 0 && b > 0, true);
    const where = what === "friction" ? "of the draws of friction" : `of ${what}`;
    check.relative(`mean interval ${where}, relative`, a, b, fourErrors(0.17, ours.compounds.length));
  }
  return check.result();
}

/** Four standard errors of the difference of two means of n values that scatter so. */
const fourErrors = (scatter: number, n: number) => 4 * scatter * Math.sqrt(2 / n);

function sharedVerdict(a: string, b: string | null): [string, string | null] {
  if (b !== null && (a.split(" or ").includes(b) || b.split(" or ").includes(a))) return [a, a];
  return [a, b];
}

/** Gathers the largest difference of each kind. */
class Checks {
  private readonly found = new Map<string, { difference: number; allowed: number }>();

  constructor(ours: Json[], theirs: Json[]) {
    this.sameLength("answers", ours, theirs);
    if (ours.length === 0) this.note("no answer at all", 1, 0);
  }

  absolute(what: string, a: number, b: number, allowed: number): void {
    this.note(what, Math.abs(a - b), allowed);
  }

  relative(what: string, a: number, b: number, allowed: number): void {
    this.note(what, a === b ? 0 : Math.abs(a - b) / Math.max(Math.abs(a), Math.abs(b)), allowed);
  }

  scaled(what: string, a: number, b: number, unit: number, allowed: number): void {
    this.note(what, Math.abs(a - b) / unit, allowed);
  }

  all<Value>(
    what: string,
    a: Value[],
    b: Value[],
    distance: (x: Value, y: Value) => number,
    allowed: number,
  ) {
    this.sameLength(what, a, b);
    for (let i = 0; i < a.length; i++) this.note(what, distance(a[i], b[i]), allowed);
  }

  equal(what: string, a: unknown, b: unknown): void {
    this.note(`${what} not the same`, a === b ? 0 : 1, 0);
  }

  sameLength(what: string, a: ArrayLike<unknown>, b: ArrayLike<unknown>): void {
    this.note(`count of ${what}`, Math.abs(a.length - b.length), 0);
  }

  bothOrNone(what: string, a: unknown, b: unknown): boolean {
    const has = (value: unknown) => value !== null && value !== undefined;
    this.note(`${what} by one side only`, has(a) === has(b) ? 0 : 1, 0);
    return has(a) && has(b);
  }

  result(): Agreement {
    const checks = [...this.found].map(([what, { difference, allowed }]) => ({ what, difference, allowed }));
    return { ok: checks.every(({ difference, allowed }) => difference <= allowed), checks };
  }

  /** A difference that is no number counts as infinite. */
  private note(what: string, difference: number, allowed: number): void {
    const size = Number.isNaN(difference) ? Number.POSITIVE_INFINITY : difference;
    const known = this.found.get(what);
    if (known === undefined) this.found.set(what, { difference: size, allowed });
    else known.difference = Math.max(known.difference, size);
  }
}
