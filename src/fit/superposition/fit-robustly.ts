import { exp10 } from "../../numeric/elementary/exponential.js";
import { square } from "../../numeric/elementary/power.js";
import type { Notice } from "../../words/notice.js";
import type { GlassTransition } from "../material.js";
import type { VerticalShift } from "../spectrum/relaxation-model.js";
import { bestOutsideGlass } from "./fit-outside-glass.js";
import type { SplitIsotherms } from "./isotherms/glass-isotherms.js";
import type { IsothermSet } from "./isotherms/isotherms.js";
import { offTheLawNotice, pointsLeftOutNotice, slippedIsothermNotice } from "./isotherms/left-out-notices.js";
import { misfittingPoints, withoutModuli } from "./isotherms/misfitting-points.js";
import type { OutlyingModulus } from "./isotherms/rough-points.js";
import { partByRow, suspectedSlip, verticalOffset } from "./isotherms/slipped-isotherm.js";
import { isothermsOffTheLaw, type ShiftDeviation } from "./law/off-the-law.js";
import { startingShifts } from "./shift/area-shift.js";
import { chooseVertical, isFarWorse } from "./shift/choose-vertical.js";
import { factorOfParts } from "./shift/factor-of-parts.js";
import { withSharesOfParts } from "./shift/shares-of-parts.js";
import {
  fitSuperposition,
  followingFit,
  isDrifting,
  middleIsotherm,
  type SuperpositionFit,
} from "./shift/superposition-fit.js";
import { densityShift, knownVertical, scaled } from "./shift/vertical-factor.js";
import { temperatureCount } from "./superposition-checks.js";
import type { SuperpositionSettings } from "./superposition-settings.js";

export interface RobustFit extends Omit<BestFit, "choice"> {
  /** Why there is a vertical factor or none, where the misfit decided. */
  verticalChoice: Notice | null;
  /** What was fitted and what lies in the glass, without the points that were left out. */
  measured: IsothermSet;
  /** With the isotherms that were set aside because they stand off the one law: two laws may hold for them. */
  forTwoLaws: IsothermSet;
  /** What is said of those where one law is all there is. */
  offTheLaw: Notice[];
  /** Whether those are the warmest and leave the law more and more, as where a second phase sets in. */
  departTogether: boolean;
}

interface BestFit {
  fit: SuperpositionFit;
  split: SplitIsotherms;
  density: VerticalShift;
  /** Where the misfit decided on the vertical factor: the fits without and with it, and what is said of them. */
  choice: VerticalFits | null;
  notices: Notice[];
}

interface VerticalFits {
  off: SuperpositionFit;
  entropic: SuperpositionFit;
  density: VerticalShift;
  notice: Notice;
}

/** Rounds of leaving out what stands off and fitting again. */
const mostRounds = 4;

/**
 * The fit of a set in which single points may be wrong: found by their residuals, left out by name, and the rest
 * fitted again.
 * @param rough moduli that were left out of the set beforehand
 */
export function fitRobustly(
  checked: IsothermSet,
  rough: OutlyingModulus[],
  glassTransitions: GlassTransition[],
  settings: SuperpositionSettings,
): RobustFit | null {
  let measured = checked;
  let forTwoLaws = checked;
  const points = rough.slice();
  const notices: Notice[] = [];
  const offTheLaw: OffTheLaw[] = [];
  const refit = (set: IsothermSet) => bestFit(set, glassTransitions, settings, best?.fit ?? null);
  let best: BestFit | null = null;
  best = refit(measured);
  for (let round = 0; best !== null && round < mostRounds; round++) {
    const found = misfittingPoints(best.fit, points.length - rough.length);
    if (found.length > 0) {
      points.push(...found);
      measured = withoutModuli(measured, found);
      forTwoLaws = withoutModuli(forTwoLaws, found);
      best = refit(measured);
      continue;
    }
    const slip = withoutSlip(measured, best, refit);
    if (slip !== null) {
      forTwoLaws = partAt(forTwoLaws, best.fit, [slip.isotherm]).without;
      notices.push(slip.notice);
      ({ best, measured } = slip);
      continue;
    }
    const off: OffTheLaw | null = withoutOffTheLaw(measured, best, refit);
    if (off === null) break;
    offTheLaw.push(off);
    ({ best, measured } = off);
  }
  if (best === null) return null;
  const notice = pointsLeftOutNotice(points);
  if (notice !== null) notices.unshift(notice);
  const { choice, ...fitted } = best;
  return {
    ...fitted,
    fit: choice === null ? best.fit : withParts(best.fit, choice, settings),
    verticalChoice: choice?.notice ?? null,
    measured,
    forTwoLaws,
    offTheLaw: offTheLaw.map((off) => off.notice),
    departTogether: departTogether(
      offTheLaw.flatMap((off) => off.aside),
      measured,
    ),
    notices: [...notices, ...best.notices],
  };
}

interface FewerIsotherms {
  measured: IsothermSet;
  best: BestFit;
  notice: Notice;
}

/** A slip moves all moduli of an isotherm by this at least, in decades, and by this many times their scatter. */
const smallestSlip_decades = 0.04;
const slipOverScatter = 3;
/** How much of the misfit may be left without the isotherm that slipped. */
const misfitLeft = 0.7;

/** Without the one isotherm that stands vertically apart from all others; null where there is none. */
function withoutSlip(
  measured: IsothermSet,
  before: BestFit,
  refit: (set: IsothermSet) => BestFit | null,
): (FewerIsotherms & { isotherm: number }) | null {
  const { fit, density } = before;
  if (fit.set.isotherms.length < 5 || density.kind === "fitted") return null;
  const suspect = suspectedSlip(fit);
  if (suspect === null) return null;
  const parts = partAt(measured, fit, [suspect]);
  if (!hangsTogether(parts.without)) return null;
  const best = refit(parts.without);
  if (best === null) return null;
  const rms = ({ noise }: SuperpositionFit) => Math.sqrt(square(noise.storage) + square(noise.loss));
  const offset = verticalOffset(parts.only, best.fit, best.density);
  if (offset === null || rms(best.fit) > misfitLeft * rms(fit)) return null;
  if (!isSlip(offset)) return null;
  const notice = slippedIsothermNotice(parts.only, offset.off_decades);
  return { measured: parts.without, isotherm: suspect, best, notice };
}

interface OffTheLaw extends FewerIsotherms {
  aside: ShiftDeviation[];
}

/** Without the few isotherms that alone scatter about the law; null where there are none. */
function withoutOffTheLaw(
  measured: IsothermSet,
  before: BestFit,
  refit: (set: IsothermSet) => BestFit | null,
): OffTheLaw | null {
  const { fit } = before;
  const off = isothermsOffTheLaw(fit.shifts, fit.chosen);
  if (off.length === 0) return null;
  const parts = partAt(
    measured,
    fit,
    off.map(({ isotherm }) => isotherm),
  );
  if (!hangsTogether(parts.without)) return null;
  const best = refit(parts.without);
  if (best === null || best.fit.chosen.scatter_decades >= fit.chosen.scatter_decades) return null;
  // On a straight stretch of the master curve a factor on the moduli moves a curve as a shift does.
  const factors = off.map(({ isotherm }) => {
    const offset = verticalOffset(partAt(measured, fit, [isotherm]).only, best.fit, best.density);
    return offset !== null && isSlip(offset) ? exp10(offset.off_decades) : null;
  });
  return { measured: parts.without, best, notice: offTheLawNotice(off, factors), aside: off };
}

/** So many isotherms in a row are no error of the oven, which strikes here and there. */
const fewestTogether = 3;

/** A phase of its own takes all isotherms from its transition on, and further off the law the further they are in it. */
function departTogether(aside: ShiftDeviation[], { isotherms }: IsothermSet): boolean {
  if (aside.length < fewestTogether) return false;
  const upwards = aside.slice().sort((a, b) => a.temperature_C - b.temperature_C);
  const side = Math.sign(upwards[0].off_decades);
  const away = upwards.map(({ off_decades }) => side * off_decades);
  return (
    isotherms.every(({ temperature_C }) => temperature_C < upwards[0].temperature_C) &&
    away.every((off, i) => off > (away[i - 1] ?? 0))
  );
}

function isSlip({ off_decades, scatter_decades }: { off_decades: number; scatter_decades: number }): boolean {
  const size = Math.abs(off_decades);
  return size >= smallestSlip_decades && size >= slipOverScatter * scatter_decades;
}

/** The measured isotherms without some of a fit, and those alone. */
function partAt(measured: IsothermSet, { set }: SuperpositionFit, isotherms: number[]) {
  const rows = new Set(isotherms.map((k) => set.source[set.isotherms[k].first]));
  return partByRow(measured, (source) => rows.has(source));
}

/** Four temperatures or more, neighbours with a shared range of moduli. */
function hangsTogether(set: IsothermSet): boolean {
  return temperatureCount(set) >= 4 && startingShifts(set).group.every((group) => group === 0);
}

/**
 * The best fit outside the glass, with the vertical factor that the settings ask for or the misfit decides on.
 * @param before a fit of much the same rows; each fit begins where the last one ended
 */
function bestFit(
  measured: IsothermSet,
  glassTransitions: GlassTransition[],
  settings: SuperpositionSettings,
  before: SuperpositionFit | null,
): BestFit | null {
  let last = before;
  const densityOf = (verticalShift: SuperpositionSettings["verticalShift"]) =>
    densityShift({ ...settings, verticalShift });
  const isOpen = settings.verticalShift === "auto";
  const verticalShift = isOpen ? "off" : settings.verticalShift;
  const found = bestOutsideGlass(measured, glassTransitions, (isotherms, mostScatter_decades) => {
    const reference = middleIsotherm(isotherms, Number.NEGATIVE_INFINITY);
    const reference_C = isotherms.isotherms[reference].temperature_C;
    const moved = scaled(isotherms, knownVertical(isotherms, densityOf(verticalShift), reference_C));
    const fit = fitSuperposition(moved, reference, { ...settings, verticalShift }, last, mostScatter_decades);
    last = fit ?? last;
    return fit;
  });
  if (found === null) return null;
  const { fit, split } = found;
  const notices = found.notice === null ? [] : [found.notice];
  const best = { fit, split, density: densityOf(verticalShift), notices };
  if (!isOpen) return { ...best, choice: null };
  const density = densityOf("density-temperature");
  const known = knownVertical(fit.set, density, fit.chosen.shape.reference_C);
  const entropic = fitOfMoved(fit, scaled(fit.set, known), settings);
  if (entropic === null) return { ...best, choice: null };
  const { choice, notice } = chooseVertical(fit, entropic);
  const chosen = choice === "off" ? best : { ...best, fit: entropic, density };
  return { ...chosen, choice: { off: fit, entropic, density, notice } };
}

/** The fit with the constants, and the doubt, that shares of the vertical factor for each part of the moduli give. */
function withParts(
  fit: SuperpositionFit,
  { off, entropic, density }: VerticalFits,
  settings: SuperpositionSettings,
): SuperpositionFit {
  const known = knownVertical(off.set, density, off.chosen.shape.reference_C);
  const movedBy = factorOfParts(off, known);
  return withSharesOfParts(
    fit,
    off,
    entropic,
    movedBy && ((shares) => fitOfMoved(off, movedBy(shares), settings)),
  );
}

/**
 * A fit without vertical factor once more with its moduli moved by known factors. Where points are placed by the law that takes
 * several rounds, which are spared where the moduli then fit far worse.
 */
function fitOfMoved(
  off: SuperpositionFit,
  moved: IsothermSet,
  settings: SuperpositionSettings,
): SuperpositionFit | null {
  const known: SuperpositionSettings = { ...settings, verticalShift: "off" };
  const following = isDrifting(moved) ? followingFit(off, moved, known) : null;
  return following !== null && isFarWorse(following, off)
    ? following
    : fitSuperposition(moved, off.reference, known, off);
}
