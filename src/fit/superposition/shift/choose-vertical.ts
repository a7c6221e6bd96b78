import { ln } from "../../../numeric/elementary/logarithm.js";
import { square } from "../../../numeric/elementary/power.js";
import { coded } from "../../../words/codes/codes.js";
import type { Notice } from "../../../words/notice.js";
import { percentText } from "../../../words/quantity-text.js";
import { filterIsotherms } from "../isotherms/isotherms.js";
import { roughness } from "../isotherms/simplicity.js";
import type { SuperpositionFit } from "./superposition-fit.js";

export type VerticalChoice = "off" | "density-temperature";

/**
 * A misfit up to this many times the noise is mostly noise, and likelihoods may be compared. Beyond it neither says
 * what was measured (a blend, another specimen's ramp), neighbouring residuals are not independent, and the factor
 * is taken only where it leaves this share of the misfit.
 */
const mostlyNoise = 1.5;
const telling = 0.8;
/** Difference in −2 ln likelihood from which one of two is preferred: odds of 20 to 1. */
const tellingDifference = 6;

/**
 * Without a vertical factor, or with bT = ρ0 T0/(ρ T) as rubber elasticity asks (Ferry, Viscoelastic Properties of
 * Polymers, 3rd ed., ch. 11). Both fits have the same free parameters, so the misfits alone decide; where they do
 * not, none is taken.
 */
export function chooseVertical(
  off: SuperpositionFit,
  density: SuperpositionFit,
): { choice: VerticalChoice; notice: Notice } {
  const difference = deviance(off) - deviance(density);
  // The steps of a ramp mix temperatures: how rough they are says nothing of the noise.
  const sweeps = filterIsotherms(off.set, ({ run }) => off.set.runs[run].kind === "frequency sweep");
  const { storage_log10, loss_log10 } = roughness(sweeps);
  const noise = Math.LN10 * rootMeanSquare(storage_log10, loss_log10);
  const [without, withIt] = [misfit(off), misfit(density)];
  const isDescribed = Math.min(without, withIt) <= mostlyNoise * noise;
  const isBetter = difference > tellingDifference && (isDescribed || withIt < telling * without);
  const choice = isBetter ? "density-temperature" : "off";
  const figures = `the misfit (root mean square of both moduli) is ${percent(without)} without it and ${percent(withIt)} with it`;
  const message =
    choice === "density-temperature"
      ? `The moduli are moved by the vertical factor bT = ρ0T0/(ρT), as rubber elasticity asks: ${figures}.`
      : difference < -tellingDifference
        ? `No vertical factor was taken: ${figures}.`
        : !isDescribed
          ? `No vertical factor was taken: neither with it nor without it do the isotherms fall together as closely as their noise (${percent(noise)}) suggests; ${figures}.`
          : `No vertical factor was taken, for the isotherms do not tell whether bT = ρ0T0/(ρT) holds: ${figures}. State verticalShift in the study if you know it.`;
  return {
    choice,
    notice: { ...coded("fit.vertical-shift-chosen"), message },
  };
}

const farWorse = 200;

/** Whether a fit of moduli moved by known factors follows them so much worse that its own last digits do not matter. */
export const isFarWorse = (moved: SuperpositionFit, off: SuperpositionFit): boolean =>
  deviance(moved) - deviance(off) > farWorse;

/** −2 ln likelihood but for a constant, each modulus with its own noise, so that their weights do not matter. */
export function deviance({ set, noise }: SuperpositionFit): number {
  const storages = set.storageModulus_Pa.filter((value) => value > 0).length;
  const losses = set.lossModulus_Pa.filter((value) => value > 0).length;
  return 2 * (storages * ln(noise.storage) + losses * ln(noise.loss));
}

/** Root mean square relative misfit of both moduli. */
export const misfit = ({ noise }: SuperpositionFit): number => rootMeanSquare(noise.storage, noise.loss);
const rootMeanSquare = (a: number, b: number) => Math.sqrt((square(a) + square(b)) / 2);
const percent = (value: number) => `${percentText(value, 2)}`;
