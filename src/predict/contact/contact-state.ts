import type { RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import type { PredictionSettings } from "../prediction-settings.js";
import { predictRebound, type ReboundPrediction } from "../rebound/rebound.js";
import type { Use } from "../use.js";
import { type Friction, hysteresisFriction } from "./friction.js";
import type { Roughness } from "./roughness.js";
import { tensileSpectrumAt } from "./tensile-spectrum.js";

/** The contacts of a use without its temperature, the texture settled and the impact calibrated. */
export interface Contacts {
  sliding: { speed_m_s: number; pressure_Pa: number; roughness: Roughness } | null;
  impact: Use["impact"];
  /** Calibration factor on the stiffness of the impact. */
  stiffnessFactor: number;
}

/** What the contacts do to one model at one temperature. */
export interface ContactState {
  rebound: ReboundPrediction | null;
  friction: Friction | null;
  /** The contact that decides on cold: the one of higher frequency. */
  governing: { contact: "sliding" | "impact"; frequency_Hz: number } | null;
}

/** Friction and impact of one model at one temperature, and the contact that governs the verdict: the faster one. */
export function contactState(
  model: RelaxationModel,
  temperature_C: number,
  contacts: Contacts,
  settings: PredictionSettings,
): ContactState {
  const spectrum = tensileSpectrumAt(model, temperature_C, settings);
  const { sliding, impact } = contacts;
  const rebound =
    impact === null ? null : predictRebound(spectrum, impact, settings, contacts.stiffnessFactor);
  const friction = sliding === null ? null : hysteresisFriction(spectrum, sliding, settings);
  return { rebound, friction, governing: governingContact(rebound, friction) };
}

/** Sliding: f = v q½/2π. Impact: f = 1/(2 t_contact). A use that has both takes the higher one. */
function governingContact(
  rebound: ReboundPrediction | null,
  friction: Friction | null,
): ContactState["governing"] {
  const sliding_Hz = friction?.contactFrequency_Hz ?? null;
  const impact_Hz = rebound === null ? null : 1 / (2 * rebound.contactTime_s);
  if (sliding_Hz !== null && (impact_Hz === null || sliding_Hz >= impact_Hz)) {
    return { contact: "sliding", frequency_Hz: sliding_Hz };
  }
  return impact_Hz === null ? null : { contact: "impact", frequency_Hz: impact_Hz };
}
