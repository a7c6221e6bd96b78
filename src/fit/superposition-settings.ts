import { type NamedConstants, referenceCurves } from "./reference-curves.js";

/** How time–temperature superposition is done. */
export interface SuperpositionSettings {
  /** Null: the measured isotherm in the middle of those that carry the shift law. */
  referenceTemperature_C: number | null;
  verticalShift: "off" | "density-temperature" | "fitted";
  /** Volume expansion of the rubber, used by the density–temperature factor only. */
  expansion_per_K: number;
  law: "auto" | "wlf" | "arrhenius";
  /** Constants at Tg for data that cannot give their own (sweeps at a single frequency). */
  assumed: NamedConstants;
  /** How many equally likely models are drawn for the intervals of the predictions. */
  draws: number;
  /** Mixed into the seed from the compound's name: another number, another set of draws. */
  seed: number;
}

/**
 * The defaults. 80 draws: a 95 % interval from the 2.5 and 97.5 % points of n draws has a Monte-Carlo error
 * of about 0.3 standard deviations at n = 80 (order statistics of a normal sample), which is below what
 * residual-based standard errors themselves are uncertain by on a dozen isotherms, at half the cost of 160.
 * The expansion is 6.6e-4 per K, the order of unfilled rubbers above Tg (from memory).
 */
export const defaultSuperpositionSettings: SuperpositionSettings = {
  referenceTemperature_C: null,
  verticalShift: "off",
  expansion_per_K: 6.6e-4,
  law: "auto",
  assumed: {
    name: referenceCurves.universal.name,
    c1: referenceCurves.universal.c1,
    c2_K: referenceCurves.universal.c2_K,
  },
  draws: 80,
  seed: 0,
};
