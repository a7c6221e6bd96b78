import { dot } from "../../../numeric/dot.js";
import { square } from "../../../numeric/elementary/power.js";
import { symmetricInverse } from "../../../numeric/symmetric-inverse.js";
import type { LawFit } from "../law/law-fit.js";
import { deviance } from "./choose-vertical.js";
import type { PartShares } from "./factor-of-parts.js";
import type { SuperpositionFit } from "./superposition-fit.js";

/** A part may take half of the other than what was chosen for all, none or the whole factor, with one standard deviation. */
const shareDeviation = 0.5;
/**
 * How much of a difference of constants counts as one standard deviation more: of the fits with the factor and without it,
 * and of the constants with shares, taken or not, and with all or none, for where the network ends and the glass begins is a
 * convention.
 */
const doubtShare = { ofChoice: 0.1, taken: 0.3, notTaken: 0.5 };
/**
 * Difference in −2 ln likelihood from which shares are taken. Where a few sharp modes stand between the times of the fit's, shares
 * gained up to 32 with no factor at all; where a filler's constant stands beside a factor on the rest, up to 520.
 */
const telling = 20;
/** Of residuals that stand for fewer independent ones than this share of them, what the shares follow is no noise. */
const leastIndependence = 0.5;

/**
 * The fit with the constants that its isotherms give where the slow modes and the equilibrium modulus each take a share of the
 * vertical factor of their own, and with the doubt of these shares in their covariance: a filler's network is no entropic
 * spring, and the glass need not follow the rubber's factor. The factor moves moduli by some hundredths, so residuals and
 * constants follow the shares nearly without bending, and four fits tell those of any. What these promise a fit with the
 * shares must keep, for sums of fits also average their noise away.
 * @param fit one of the next two, chosen by the misfit
 * @param off without the factor
 * @param all with the factor on all moduli
 * @param fitOf the same isotherms with the factor shared so, null where they cannot be fitted; null where they tell no parts
 */
export function withSharesOfParts(
  fit: SuperpositionFit,
  off: SuperpositionFit,
  all: SuperpositionFit,
  fitOf: ((shares: PartShares) => SuperpositionFit | null) | null,
): SuperpositionFit {
  const doubted = withDoubt(fit.chosen, difference(off.chosen, all.chosen), doubtShare.ofChoice);
  if (fitOf === null) return withLaw(fit, doubted);
  const network = fitOf({ glass: 0, slow: 1, equilibrium: 1 });
  const allButEquilibrium = fitOf({ glass: 1, slow: 1, equilibrium: 0 });
  if (network === null || allButEquilibrium === null) return withLaw(fit, doubted);
  const every = [off, all, network, allButEquilibrium];
  if (!every.every(({ chosen }) => areAlike(chosen, fit.chosen))) return withLaw(fit, doubted);
  const found = sharesOf(
    inDeviations(off, off),
    byPart(every.map((one) => inDeviations(one, off))),
    fit === all ? 1 : 0,
  );
  const law = withCovariance(doubted, byPart(every.map(({ chosen }) => chosen.parameters)), found.covariance);
  const shared = fitOf(found.shares);
  if (shared === null || !areAlike(shared.chosen, fit.chosen)) return withLaw(fit, law);
  const isTaken = deviance(fit) - deviance(shared) > telling && independence(shared) >= leastIndependence;
  const share = isTaken ? doubtShare.taken : doubtShare.notTaken;
  const withBoth = withDoubt(law, difference(fit.chosen, shared.chosen), share);
  if (!isTaken) return withLaw(fit, withBoth);
  const { shifts, free, chosen } = shared;
  return withLaw(
    { ...fit, shifts, free: { ...fit.free, log10aT: free.log10aT } },
    { ...withBoth, parameters: chosen.parameters },
  );
}

/** What the whole factor on each part adds; of each of the four fits a vector. */
function byPart([off, all, network, allButEquilibrium]: Float64Array[]): Record<
  keyof PartShares,
  Float64Array
> {
  const glass = all.map((value, i) => value - network[i]);
  const equilibrium = all.map((value, i) => value - allButEquilibrium[i]);
  const slow = network.map((value, i) => value - off[i] - equilibrium[i]);
  return { glass, slow, equilibrium };
}

/** A law with the errors in its constants that those of the shares of the slow modes and the equilibrium modulus make. */
function withCovariance(
  law: LawFit,
  { slow, equilibrium }: Record<keyof PartShares, Float64Array>,
  ofShares: Float64Array,
): LawFit {
  const byShare = [slow, equilibrium];
  const size = law.parameters.length;
  const covariance = law.covariance.map((value, at) => {
    const [i, j] = [Math.floor(at / size), at % size];
    let sum = value;
    for (let k = 0; k < 2; k++) {
      for (let l = 0; l < 2; l++) sum += byShare[k][i] * ofShares[2 * k + l] * byShare[l][j];
    }
    return sum;
  });
  return { ...law, covariance };
}

/** Residuals, storage first, in the standard deviations of a fit's noise. */
function inDeviations({ free, lossTrust }: SuperpositionFit, { noise }: SuperpositionFit): Float64Array {
  const { residuals } = free.state;
  const n = residuals.length / 2;
  return residuals.map((value, i) => value / (i < n ? noise.storage : lossTrust * noise.loss));
}

/**
 * How many independent residuals each stands for, (1 − ρ)/(1 + ρ) with ρ the correlation of neighbours in frequency (Bartlett,
 * J. R. Stat. Soc. 98, 536, 1935; from memory).
 */
function independence({ set, free }: SuperpositionFit): number {
  const { residuals } = free.state;
  const n = residuals.length / 2;
  let neighbours = 0;
  let squares = 0;
  for (const { first, end } of set.isotherms) {
    for (const from of [first, n + first]) {
      const count = end - first - 1;
      neighbours += dot(residuals, from, residuals, from + 1, count);
      squares += dot(residuals, from, residuals, from, count);
    }
  }
  const correlation = Math.max(0, neighbours / squares);
  return (1 - correlation) / (1 + correlation);
}

/**
 * The shares by least squares of residuals that are linear in them: the glass has the factor or has it not, the others any part
 * of it.
 * @param residuals without the factor
 * @param chosen 0 or 1, near which all shares are expected
 * @returns and the covariance of the two shares of slow modes and equilibrium modulus
 */
function sharesOf(
  residuals: Float64Array,
  columns: Record<keyof PartShares, Float64Array>,
  chosen: number,
): { shares: PartShares; covariance: Float64Array } {
  const product = (a: Float64Array, b: Float64Array) => dot(a, 0, b, 0, a.length);
  const prior = 1 / square(shareDeviation);
  const { slow: S, equilibrium: E } = columns;
  const [ss, se, ee] = [product(S, S) + prior, product(S, E), product(E, E) + prior];
  const inside = (share: number) => Math.min(1, Math.max(0, share));
  const withGlass = (glass: number) => {
    const start = residuals.map((value, i) => value + glass * columns.glass[i]);
    const [s, e] = [prior * chosen - product(S, start), prior * chosen - product(E, start)];
    let [slow, equilibrium] = [chosen, chosen];
    for (let round = 0; round < mostRounds; round++) {
      slow = inside((s - se * equilibrium) / ss);
      equilibrium = inside((e - se * slow) / ee);
    }
    const left = start.map((value, i) => value + slow * S[i] + equilibrium * E[i]);
    const expected = square(glass - chosen) + square(slow - chosen) + square(equilibrium - chosen);
    return { shares: { glass, slow, equilibrium }, misfit: product(left, left) + prior * expected };
  };
  const [none, whole] = [withGlass(0), withGlass(1)];
  const { shares } = whole.misfit < none.misfit ? whole : none;
  return { shares, covariance: symmetricInverse(Float64Array.of(ss, se, se, ee), 2) ?? new Float64Array(4) };
}

/** One share after the other, until neither moves: they are weakly tied. */
const mostRounds = 100;

const areAlike = (one: LawFit, other: LawFit) =>
  one.shape.kind === other.shape.kind &&
  one.shape.reference_C === other.shape.reference_C &&
  one.parameters.length === other.parameters.length;

/** Of two laws' constants; none where they are constants of different laws. */
const difference = (one: LawFit, other: LawFit): Float64Array | null =>
  areAlike(one, other) ? other.parameters.map((value, j) => value - one.parameters[j]) : null;

/** A law with so much of a difference of constants in their covariance. */
function withDoubt(law: LawFit, of: Float64Array | null, share: number): LawFit {
  if (of === null || of.length !== law.parameters.length) return law;
  const size = of.length;
  const covariance = law.covariance.map(
    (value, k) => value + square(share) * of[Math.floor(k / size)] * of[k % size],
  );
  return { ...law, covariance };
}

function withLaw(fit: SuperpositionFit, law: LawFit): SuperpositionFit {
  return {
    ...fit,
    chosen: law,
    wlf: law.shape.kind === "wlf" ? law : fit.wlf,
    arrhenius: law.shape.kind === "arrhenius" ? law : fit.arrhenius,
  };
}
