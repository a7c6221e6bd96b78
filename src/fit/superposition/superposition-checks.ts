import { coded, noticeIn } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { fixed, frequencyText, statedTemperature, temperatureText } from "../../words/quantity-text.js";
import type { SeparatePhases } from "../glass/separate-phases.js";
import type { GlassTransition } from "../material.js";
import { kramersKronigNotice } from "../spectrum/kramers-kronig.js";
import { solveSpectrum } from "../spectrum/spectrum.js";
import { isStraight, measuredLossPeak } from "./describe-superposition.js";
import { filterIsotherms, type IsothermSet } from "./isotherms/isotherms.js";
import { deviationsInWords } from "./isotherms/left-out-notices.js";
import type { Simplicity } from "./isotherms/simplicity.js";
import {
  conventionalFrequency_Hz,
  peakAboveGlassTemperature_K,
} from "./law/conventional-glass-temperature.js";
import { type LawFit, runOffset_K } from "./law/law-fit.js";
import { decadesText, deviationsFromLaw, type ShiftDeviation, standsOff } from "./law/off-the-law.js";
import { nearlySimpleNotice } from "./nearly-simple.js";
import { startingShifts } from "./shift/area-shift.js";
import { range, weightPoints } from "./shift/reduced-points.js";
import type { SuperpositionFit } from "./shift/superposition-fit.js";

/** How many temperatures a set has, those within 1 K counted once. */
export function temperatureCount(set: IsothermSet): number {
  const sorted = set.isotherms.map((isotherm) => isotherm.temperature_C).sort((a, b) => a - b);
  let count = 0;
  let last = Number.NEGATIVE_INFINITY;
  for (const t of sorted) {
    if (t - last > 1) {
      count++;
      last = t;
    }
  }
  return count;
}

/** The isotherms that can be superposed, or null, and what is to be said of them. */
export interface CheckedIsotherms {
  used: IsothermSet | null;
  notices: Notice[];
  /** Said of isotherms that share no range of moduli with the others. */
  apart: Notice[];
}

/**
 * The isotherms that can be superposed; none where there are fewer than three temperatures, no shared range of
 * moduli, or all of them lie in the glass. Where most of them hang together and a few stand apart, those few are left
 * out by name.
 */
export function checkIsotherms(set: IsothermSet, glassTransitions: GlassTransition[]): CheckedIsotherms {
  const none = { used: null, notices: [], apart: [] };
  if (set.isotherms.length === 0) return none;
  const count = temperatureCount(set);
  if (count < 3) {
    const message = `Superposition needs isotherms at three temperatures or more with at least two frequencies each; found ${count} (${temperaturesOf(set)}). Measure further isotherms, best 5 K apart from about Tg to 60 K above.`;
    return { ...none, notices: [{ ...coded("fit.too-few-temperatures"), message }] };
  }
  const { group } = startingShifts(set);
  const sizes = new Map<number, number>();
  for (const g of group) sizes.set(g, (sizes.get(g) ?? 0) + 1);
  const [largest, size] = [...sizes].reduce((a, b) => (b[1] > a[1] ? b : a));
  const apart: Notice[] = [];
  let used = set;
  if (sizes.size > 1) {
    used = filterIsotherms(set, (_, k) => group[k] === largest);
    const others = filterIsotherms(set, (_, k) => group[k] !== largest);
    if (size <= set.isotherms.length / 2 || temperatureCount(used) < 3) {
      const message = `Neighbouring isotherms share no range of storage modulus (${temperaturesOf(set)}), so no shift between them can be measured. Measure temperatures in between, or a wider range of frequencies.`;
      return { ...none, apart: [{ ...coded("fit.no-overlap"), message }] };
    }
    apart.push({
      ...coded("fit.isotherms-left-out"),
      message:
        others.isotherms.length === 1
          ? `The isotherm at ${temperaturesOf(others)} shares no range of storage modulus with the others and was left out of the master curve.`
          : `The isotherms at ${temperaturesOf(others)} share no range of storage modulus with the others and were left out of the master curve.`,
    });
  }
  const border = glassBorder(used, glassTransitions);
  if (border === null) return { used, notices: [], apart };
  const notices: Notice[] = [{ ...coded("fit.all-below-glass-transition"), message: border }];
  return { used: null, notices, apart };
}

function temperaturesOf(set: IsothermSet): string {
  return set.isotherms.map((isotherm) => statedTemperature(isotherm.temperature_C)).join(", ");
}

/** A glass by its own figures: everywhere stiffer than this and with less loss than this. */
const glassModulus_Pa = 3e8;
const glassLossFactor = 0.15;

/** Why the isotherms are all in the glass; null where they are not. */
function glassBorder(set: IsothermSet, glassTransitions: GlassTransition[]): string | null {
  const warmest = Math.max(...set.isotherms.map((isotherm) => isotherm.temperature_C));
  const peak = measuredLossPeak(glassTransitions, set.deformation);
  const after = "Below Tg the shift factors follow no law that holds above it; measure isotherms above Tg.";
  if (peak !== null) {
    const glass_C = peak.temperature_C - peakAboveGlassTemperature_K(peak.frequency_Hz);
    if (warmest < glass_C) {
      return `All isotherms (up to ${temperatureText(warmest)}) lie below the glass transition at about ${temperatureText(glass_C)} (the M″ peak at ${temperatureText(peak.temperature_C)} and ${frequencyText(peak.frequency_Hz)}, carried down to ${frequencyText(conventionalFrequency_Hz)}). ${after}`;
    }
  }
  for (let i = 0; i < set.storageModulus_Pa.length; i++) {
    const storage = set.storageModulus_Pa[i];
    if (storage < glassModulus_Pa || set.lossModulus_Pa[i] > glassLossFactor * storage) return null;
  }
  return `All isotherms (up to ${temperatureText(warmest)}) are in the glassy state: M′ is above ${glassModulus_Pa / 1e6} MPa and tan δ below ${glassLossFactor} throughout. ${after}`;
}

/** "a.csv −0.8 K, b.csv +0.8 K" */
function temperaturesOfRuns({ runs }: IsothermSet, { shape, parameters }: LawFit): string {
  return runs
    .map(({ paths: [first, ...more] }, run) => {
      const warmer_K = runOffset_K(shape, parameters, run);
      const others = more.length === 0 ? "" : ` and ${more.length} more`;
      return `${first}${others} ${warmer_K >= 0.05 ? "+" : ""}${fixed(warmer_K, 1)} K`;
    })
    .join(", ");
}

/**
 * What the reader must know of the runs behind a set.
 * @param law that all runs follow, each at a temperature of its own; null where there is none
 */
export function setNotices(set: IsothermSet, law: LawFit | null): Notice[] {
  const notices: Notice[] = [];
  if (set.runs.length > 1) {
    notices.push({
      ...coded("fit.replicate-runs"),
      message: `${set.runs.length} runs were superposed together, each with a modulus scale and a temperature of its own${law === null ? "" : ` (${temperaturesOfRuns(set, law)} against their mean)`}; how far they differ is in the intervals.`,
    });
  }
  for (const run of set.runs) {
    if (run.kind !== "temperature sweep") continue;
    notices.push(
      run.paths.length > 1
        ? {
            ...coded("fit.ramps-joined"),
            message: `Ramps at one frequency each (${run.paths.join(", ")}) were read together as one ramp at several frequencies. That holds for one specimen measured again; for different specimens a difference in stiffness enters the shifts.`,
          }
        : {
            ...coded("fit.ramp-regrouped"),
            message: `The temperature ramp at several frequencies in ${run.paths[0]} was regrouped into isotherms on its measured temperatures.`,
          },
    );
  }
  return notices;
}

/** Says which isotherms lie in the glass, outside the master curve. */
export function glassNotice(glass: IsothermSet): Notice {
  const warmest_C = Math.max(...glass.isotherms.map(({ temperature_C }) => temperature_C));
  return noticeIn(
    "fit.glass-isotherms",
    "The coldest isotherms lie in the glass, which does not follow the shift law; they stand outside the master curve, and the model follows them by the law's Arrhenius tangent, closely in M′ and only roughly in M″, which comes from the secondary relaxation there",
    [
      `${glass.isotherms.length} at ${temperatureText(warmest_C, 0)}${glass.isotherms.length > 1 ? " and below" : ""}`,
    ],
  );
}

/** More isotherms than this are counted, and the farthest of them named; the shift factors have all of them. */
const mostNamed = 4;

const farthest = (off: ShiftDeviation[]) =>
  [...off].sort((a, b) => Math.abs(b.off_decades) - Math.abs(a.off_decades)).slice(0, mostNamed - 1);

/** M′ within a factor of two throughout. */
function isOnPlateau(set: IsothermSet): boolean {
  const { low, high } = range(set.storageModulus_Pa);
  return high < 2 * low;
}

/** Why the constants of the chosen law cannot be told; null where they can. */
export function undeterminedNotice({ set, chosen }: SuperpositionFit): Notice | null {
  const relative = Math.sqrt(chosen.covariance[0]) / chosen.parameters[0];
  if (relative < 0.3) return null;
  return {
    ...coded("fit.shifts-undetermined"),
    message: isOnPlateau(set)
      ? "The isotherms hardly change with temperature and frequency (all on one plateau), so the shift factors cannot be told. Measure nearer to the glass transition."
      : "The shifts of the isotherms scatter so much that no law can be told from them, although M′ changes with temperature. Look for isotherms that were measured wrongly (temperature, clamping, units), or measure more of them.",
  };
}

/** What is to be said of one law for all isotherms. */
export function lawNotices(fit: SuperpositionFit): Notice[] {
  const { chosen } = fit;
  const notices: Notice[] = [];
  if (chosen.shape.border_C !== null) {
    notices.push({
      ...coded("fit.law-border"),
      message: `Below ${temperatureText(chosen.shape.border_C, 0)} the isotherms leave the WLF curve, as a glass does; from there down the law goes on as its Arrhenius tangent.`,
    });
  }
  if (chosen.scatter_decades > 0) {
    const all = Array.from(fit.shifts.run.keys());
    const off = deviationsFromLaw(fit.shifts, chosen, all).filter((one) => standsOff(one));
    const named =
      off.length === 0
        ? ""
        : off.length <= mostNamed
          ? ` Beyond their own intervals lie those at ${deviationsInWords(off)}.`
          : ` Beyond their own intervals lie ${off.length} of ${all.length}, the farthest at ${deviationsInWords(farthest(off))}.`;
    notices.push({
      ...(off.length > 0 || chosen.scatter_decades > 0.15
        ? coded("fit.law-scatter")
        : coded("fit.law-scatter-small")),
      message: `The isotherms scatter about the ${chosen.shape.kind === "wlf" ? "WLF" : "Arrhenius"} law by ${decadesText(chosen.scatter_decades)} beyond their own errors; the intervals include it.${named}`,
    });
  }
  if (chosen.shape.kind === "arrhenius" && fit.wlf !== null && !isStraight(fit.wlf)) {
    notices.push({
      ...coded("fit.arrhenius-law"),
      message:
        "The Arrhenius law describes the shifts as well as the WLF law with one constant fewer (AICc). It must not be carried far above or below the measured temperatures.",
    });
  }
  return notices;
}

/** What is to be said of the isotherms whatever the law: that they are not simple, or contradict themselves. */
export function isothermNotices(
  fit: SuperpositionFit,
  simplicity: Simplicity | null,
  phases: SeparatePhases | null,
): Notice[] {
  const notices: Notice[] = [];
  if (simplicity?.nearlySimple && phases === null) {
    notices.push(nearlySimpleNotice(fit, simplicity));
  } else if (simplicity !== null && !simplicity.simple) {
    notices.push({
      ...coded("fit.not-simple"),
      message:
        "The isotherms do not fall on one line in the wicket plot or in the plot of phase angle against modulus: the material is not thermorheologically simple (a blend, a crystallising or a heavily filled rubber). Every number outside the measured temperatures and frequencies is doubtful.",
    });
  }
  if (phases !== null && simplicity?.simple !== false) {
    notices.push({
      ...coded("fit.not-simple"),
      message: `A sweep shows two tan δ peaks, at ${temperatureText(phases.governing_C, 0)} and ${temperatureText(phases.further_C, 0)} (${frequencyText(phases.frequency_Hz)}): two phases, each with a shift law of its own, so the material is not thermorheologically simple even where its isotherms fall together. Every number outside the measured temperatures and frequencies is doubtful.`,
    });
  }
  const contradiction = contradictionWithin(fit);
  if (contradiction !== null) notices.push(contradiction);
  return notices;
}

/** Kramers–Kronig on the isotherms one by one, looked at only where the joint misfit is large. */
function contradictionWithin(fit: SuperpositionFit): Notice | null {
  if (Math.sqrt(fit.free.variance) < 0.02) return null;
  const { set } = fit;
  const curves = set.isotherms
    .filter(({ first, end }) => end - first >= 5)
    .map(({ first, end }) => {
      const points = weightPoints(
        {
          frequency_Hz: set.frequency_Hz.slice(first, end),
          storageModulus_Pa: set.storageModulus_Pa.slice(first, end),
          lossModulus_Pa: set.lossModulus_Pa.slice(first, end),
        },
        1,
      );
      const { residuals } = solveSpectrum(points, { modesPerDecade: 4, margin: 3, strength: 1e-6 });
      return { points, residuals };
    });
  return kramersKronigNotice(curves);
}
