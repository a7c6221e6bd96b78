/** The free choices of the prediction. Each is a convention, not a measurement, and stands in the report. */
export interface PredictionSettings {
  /** The glassy border stands this far above the M″ peak at the contact frequency. */
  glassyBorder_K: number;
  /** The leathery border stands this far above the tan δ peak at the contact frequency. */
  leatheryBorder_K: number;
  /**
   * 95 % half width of the specimen's temperature: a calibrated instrument's thermometer stands beside the specimen,
   * and laboratories agree to one or two kelvin (common practice). In every interval and verdict.
   */
  temperatureUncertainty_K: number;
  /** The same of the modulus, as a share: the specimen's dimensions and clamping (common practice: 5 to 10 %). */
  modulusUncertainty: number;
  /** γ in S = γ + (1 − γ) P² (Persson, J. Chem. Phys. 115, 3840, 2001). */
  contactShare: number;
  poissonRatio: number;
  /** E = tensilePerShear · G: 2 (1 + ν), 3 for ν = 0.5. */
  tensilePerShear: number;
  /**
   * The contact under the impact: a sphere (Hertz) whose contact shrinks again on the way out; the same with the
   * plain history integral, which lets the rim of the contact pull; or a flat circular face (linear).
   */
  impactContact: "spherical" | "spherical, plain history" | "linear";
  /** The texture is cut off where its root mean square slope reaches this, unless it states a cut-off. */
  cutOffSlope: number;
  /** How far beyond the measured temperatures the shift law is still used; outside: not determined. */
  lawReach_K: number;
  /** Share of a texture's wave numbers, in decades, that may lie outside the measured range. */
  outsideShare: number;
  /** Time steps per estimated contact time in the coarser of the two runs of an impact. */
  impactSteps: number;
  frictionPointsPerDecade: number;
  /** Stiffening: the relaxation modulus at this time, relative to that at the reference temperature. */
  stiffeningTime_s: number;
  stiffeningReference_C: number;
}

export const defaultPredictionSettings: PredictionSettings = {
  glassyBorder_K: 0,
  leatheryBorder_K: 10,
  temperatureUncertainty_K: 1.5,
  modulusUncertainty: 0.1,
  contactShare: 0.5,
  poissonRatio: 0.5,
  tensilePerShear: 3,
  impactContact: "spherical",
  cutOffSlope: 1.3,
  lawReach_K: 20,
  outsideShare: 0.25,
  impactSteps: 48,
  frictionPointsPerDecade: 60,
  stiffeningTime_s: 10,
  stiffeningReference_C: 23,
};

/**
 * Coarser in time and wave number, for what is wanted of many models or to a per cent only: beside grids four times as fine
 * as the default's and finer, states of invented rubbers moved by at most 0.0014 in R, 0.05 % in force (500 states), 0.2 % in
 * μ and 0.5 % in contact frequency (160 states; 0.01 K of a border), for a third of the default's time. The default itself is
 * off by at most 0.0002 in R and 0.004 % in force.
 */
export function coarser(settings: PredictionSettings): PredictionSettings {
  return {
    ...settings,
    impactSteps: Math.min(16, settings.impactSteps),
    frictionPointsPerDecade: Math.min(16, settings.frictionPointsPerDecade),
  };
}
