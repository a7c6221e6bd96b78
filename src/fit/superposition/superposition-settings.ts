import { rubberExpansion_per_K } from "../spectrum/density-temperature.js";
import { type NamedConstants, referenceCurves } from "./law/reference-curves.js";

/** How time–temperature superposition is done. */
export interface SuperpositionSettings {
  /** Null: the measured isotherm in the middle of those that carry the shift law. */
  referenceTemperature_C: number | null;
  /** "auto": off or density–temperature, whichever leaves the smaller misfit. */
  verticalShift: "auto" | "off" | "density-temperature" | "fitted";
  /** Volume expansion of the rubber, used by the density–temperature factor only. */
  expansion_per_K: number;
  law: "auto" | "wlf" | "arrhenius";
  /** Constants at Tg for data that cannot give their own (sweeps at a single frequency). */
  assumed: NamedConstants;
  /** How many equally likely models are drawn for the intervals of the predictions. */
  draws: number;
  /** Of the spectra at the temperatures of single frequency sweeps; what is superposed does without. */
  seed: number;
}

/**
 * The defaults. 60 draws, measured on 600 of an example rubber (2 % on each modulus, 0.25 decade on the shift, 3 % on
 * the contact stiffness; rebound and friction at 23, 0, −10, −20 and −30 °C): against the interval from all 600, the
 * ends of one from n draws are off by 0.30 of its half width for n = 20, 0.17 for 60, 0.11 for 200 (root mean
 * square), and lie inwards by 0.15, 0.05 and 0.01 of it. So 60 tell a wide interval from a narrow one, which is what
 * it is read for; the time grows with n, the error falls with its root only.
 */
export const defaultSuperpositionSettings: SuperpositionSettings = {
  referenceTemperature_C: null,
  verticalShift: "auto",
  expansion_per_K: rubberExpansion_per_K,
  law: "auto",
  assumed: {
    name: referenceCurves.universal.name,
    c1: referenceCurves.universal.c1,
    c2_K: referenceCurves.universal.c2_K,
  },
  draws: 60,
  seed: 0,
};
