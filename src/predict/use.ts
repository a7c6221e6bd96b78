/** A surface: either parameters of a self-affine texture or a measured spectrum. */
export interface Texture {
  name: string;
  /** Where the numbers come from, or "invented". */
  source: string;
  /** Root mean square height between q0 and q1. */
  rmsHeight_m: number;
  hurstExponent: number;
  /** Lowest wave number, 1/m. */
  q0_per_m: number;
  /** Cut-off; null: where the rms slope reaches 1.3. */
  q1_per_m: number | null;
  /** Isotropic spectrum C(q) measured from a profile; takes the place of the parameters. */
  measured: { wavenumber_per_m: number[]; spectrum_m4: number[] } | null;
}

export interface SlidingContact {
  speed_m_s: number;
  pressure_Pa: number;
  texture: Texture;
}

export interface ImpactContact {
  /** The method in words: "pendulum as in ISO 4662". */
  method: string;
  mass_kg: number;
  speed_m_s: number;
  /** A sphere on the compound, or a flat round face on a pad of its own size. */
  contact: "sphere" | "flat";
  /** Radius of the spherical indenter, or of the flat face. */
  indenterRadius_m: number;
  /** Thickness of specimen or pad; null, for a sphere only: taken as thick against the contact. */
  thickness_m: number | null;
}

/** One way in which the compound is used, at one temperature. */
export interface Use {
  name: string;
  temperature_C: number;
  sliding: SlidingContact | null;
  impact: ImpactContact | null;
  /** True where the study stated none and the default was taken. */
  assumed: boolean;
}
