export type ColdVerdict = "rubbery" | "leathery" | "glassy" | "glassy or leathery" | "leathery or rubbery";

export interface ReboundOutlook {
  fraction: number;
  low: number;
  high: number;
  /** exp(−π tan δ) at the contact's own frequency. */
  textbookFraction: number;
  contactTime_s: number;
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
}

export interface ColdOutlook {
  verdict: ColdVerdict;
  contactFrequency_Hz: number;
  contact: "sliding" | "impact";
  /** Use temperature less the M″ peak at the contact frequency: positive is warmer than the border. */
  marginToGlassy_K: number;
  /** Use temperature less (tan δ peak at the contact frequency + 10 K). */
  marginToLeathery_K: number;
}

/** What one compound does in one use. Null is "not determined"; a notice says why. */
export interface Outlook {
  use: string;
  temperature_C: number;
  rebound: ReboundOutlook | null;
  grip: GripOutlook | null;
  cold: ColdOutlook | null;
}
