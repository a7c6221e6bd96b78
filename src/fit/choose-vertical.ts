import { ln } from "../elementary/logarithm.js";
import { square } from "../elementary/power.js";
import type { Notice } from "../io/problem.js";
import type { SuperpositionFit } from "./superposition-fit.js";

export type VerticalChoice = "off" | "density-temperature";

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
  const choice = difference > tellingDifference ? "density-temperature" : "off";
  const figures = `the misfit (root mean square of both moduli) is ${misfit(off)} without it and ${misfit(density)} with it`;
  const message =
    choice === "density-temperature"
      ? `The moduli are moved by the vertical factor bT = ρ0T0/(ρT), as rubber elasticity asks: ${figures}.`
      : difference < -tellingDifference
        ? `No vertical factor was taken: ${figures}.`
        : `No vertical factor was taken, for the isotherms do not tell whether bT = ρ0T0/(ρT) holds: ${figures}. State verticalShift in the study if you know it.`;
  return { choice, notice: { severity: "info", code: "fit.vertical-shift-chosen", message } };
}

/** −2 ln likelihood but for a constant, each modulus with its own noise, so that their weights do not matter. */
function deviance({ set, noise }: SuperpositionFit): number {
  const storages = set.storageModulus_Pa.filter((value) => value > 0).length;
  const losses = set.lossModulus_Pa.filter((value) => value > 0).length;
  return 2 * (storages * ln(noise.storage) + losses * ln(noise.loss));
}

const misfit = ({ noise }: SuperpositionFit) =>
  `${(100 * Math.sqrt((square(noise.storage) + square(noise.loss)) / 2)).toFixed(2)} %`;
