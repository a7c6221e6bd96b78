import type { MeasuredState } from "../fit/measured-states.js";

export type ColdVerdict = "rubbery" | "leathery" | "glassy" | "glassy or leathery" | "leathery or rubbery";

export interface ReboundOutlook {
  fraction: number;
  low: number;
  high: number;
  /** exp(−π tan δ) at the contact's own frequency. */
  textbookFraction: number;
  contactTime_s: number;
  /** Deepest indentation of the impact. */
  indentation_m?: number;
  /** Whether the contact stiffness was calibrated on measured rebound. */
  calibrated?: boolean;
  /** Ratio to the reference compound in the same use. */
  relativeToReference?: { ratio: number; low: number; high: number };
}

export interface GripOutlook {
  frictionCoefficient: number;
  low: number;
  high: number;
  contactAreaRatio: number;
  /** Ratio to the reference compound in the same use. */
  relativeToReference?: { ratio: number; low: number; high: number };
  /** With the cut-off q1 halved and doubled. */
  cutOffSensitivity: { halved: number; doubled: number };
  /** The cut-off that was used, given or found from the slope. */
  cutOff_per_m?: number;
  /** Root mean square slope of the texture up to the cut-off. */
  rmsSlope?: number;
  /** v·q½/2π, q½ the wave number below which half of the friction arises; null where no friction arises. */
  contactFrequency_Hz?: number | null;
}

/** A temperature with its 95 % interval. */
export interface TemperatureInterval {
  temperature_C: number;
  low_C: number;
  high_C: number;
}

/** A temperature as far as it is known: null where no value was seen, and for an end that nothing bounds. */
export interface OpenInterval {
  temperature_C: number | null;
  low_C: number | null;
  high_C: number | null;
  /** Why an end is open or the value missing; null where both are there. */
  reason: string | null;
}

/** The glass transition at the contact frequency, from all that was measured. */
export interface TransitionAtContact {
  contactFrequency_Hz: number;
  contact: "sliding" | "impact";
  tanDeltaPeak: OpenInterval;
  lossModulusPeak: OpenInterval;
  /** Below this the shift law goes on as its tangent; null: no such border. */
  tangentBelow_C: number | null;
}

export interface ColdOutlook {
  verdict: ColdVerdict;
  contactFrequency_Hz: number;
  contact: "sliding" | "impact";
  /** Use temperature less the M″ peak at the contact frequency: positive is warmer than the border. Null: peak not seen. */
  marginToGlassy_K: number | null;
  /** Use temperature less (tan δ peak at the contact frequency + 10 K). Null: peak not seen. */
  marginToLeathery_K: number | null;
  /** The glass transition at the contact frequency, from the master curve. */
  glassTemperatureAtUse?: {
    frequency_Hz: number;
    tanDeltaPeak: OpenInterval;
    lossModulusPeak: OpenInterval;
  };
  /** The glass transition as the oven showed it, to stand beside the one above; null where no sweep has it. */
  glassTemperatureMeasured?: {
    frequency_Hz: number;
    tanDeltaPeak_C: number | null;
    lossModulusPeak_C: number | null;
  } | null;
  /** Lowest temperature at which the compound stays rubbery in this contact; null: not determined. */
  lowestRubbery_C?: number | null;
  /** Lowest temperature at which it stays above glassy in this contact; null: not determined. */
  lowestAboveGlassy_C?: number | null;
}

/** What one compound does in one use. Null is "not determined"; a notice says why. */
export interface Outlook {
  use: string;
  temperature_C: number;
  rebound: ReboundOutlook | null;
  grip: GripOutlook | null;
  cold: ColdOutlook | null;
  /** Both peaks at the contact frequency, also where they leave the verdict open; missing: no contact frequency. */
  transitionAtContact?: TransitionAtContact;
  /** The measured state nearest to the use, beside the model's values in it; null where none is near. */
  nearestMeasurement?: MeasuredState | null;
  /** Codes of the notices that cast doubt on this outlook: its own cautions and errors, each once. */
  flags?: string[];
  /** Why there is no verdict, and which measurement would settle it; only where `cold` is null. */
  verdictMissing?: string;
}
