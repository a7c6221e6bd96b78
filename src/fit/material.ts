import type { Deformation, Direction } from "../io/measurement.js";
import type { Notice } from "../io/problem.js";
import type { ValueInterval } from "../numeric/value-interval.js";
import type { MeasuredState } from "./measured-states.js";
import type { RelaxationModel } from "./spectrum/relaxation-model.js";

/** A peak's place with its 95 % interval. Where it is not bracketed, `temperature_C` is null and the interval is a bound. */
export interface Peak {
  temperature_C: number | null;
  low_C: number | null;
  high_C: number | null;
  /** False where the largest value stands at the edge of the data: the peak lies beyond. */
  bracketed: boolean;
}

export interface TanDeltaPeak extends Peak {
  height: number | null;
  /** Full width at half height in K; null where a flank leaves the data. */
  width_K: number | null;
}

/** A further maximum: a second phase or a secondary transition. */
export interface FurtherPeak {
  quantity: "tan delta" | "loss modulus";
  temperature_C: number;
  low_C: number;
  high_C: number;
  height: number;
  /** Height above the higher of the two valleys beside it, in the quantity's own unit. */
  prominence: number;
}

export interface Onset {
  temperature_C: number;
  low_C: number;
  high_C: number;
}

/** The three readings of a glass transition at one frequency (ASTM E1640, ISO 6721-11, IEC 61006). */
export interface GlassTransition {
  frequency_Hz: number;
  deformation: Deformation;
  direction: Direction | null;
  tanDeltaPeak: TanDeltaPeak | null;
  lossModulusPeak: Peak | null;
  storageModulusOnset: Onset | null;
  furtherPeaks: FurtherPeak[];
  /** Path of the file the sweep came from. */
  path: string;
  /** Isotherms read across their temperatures at this frequency; missing: a temperature sweep. */
  origin?: "isotherms";
}

export interface ShiftFactor {
  temperature_C: number;
  log10aT: number;
  log10aTLow: number | null;
  log10aTHigh: number | null;
  log10bT: number;
}

/** All points of the measurements moved to the reference temperature, with what the model leaves over. */
export interface MasterCurve {
  temperature_C: number[];
  frequency_Hz: number[];
  reducedFrequency_Hz: number[];
  /** Vertically shifted moduli. */
  storageModulus_Pa: number[];
  lossModulus_Pa: number[];
  /** log10(measured) − log10(model). */
  storageResidualLog10: number[];
  lossResidualLog10: number[];
}

/** One phase of a blend, as two additive spectra with a law each have it. */
export interface BlendPhase {
  /** Where its M″ peak stands at 1.59 mHz. */
  glassTemperature_C: number;
  lossModulusPeakAt1Hz_C: number;
  /** Of the fall of M′ from glass to plateau, as a fraction. */
  shareOfFall: number;
  /** At its glass temperature. */
  law: { c1: number; c2_K: number };
}

export interface Superposition {
  source: "fitted" | "assumed";
  /** Names the assumed constants and where they were hung; null where fitted. */
  assumption: string | null;
  deformation: Deformation;
  referenceTemperature_C: number;
  law: "wlf" | "arrhenius";
  wlf: {
    c1: number;
    c2_K: number;
    c1Low: number | null;
    c1High: number | null;
    c2Low_K: number | null;
    c2High_K: number | null;
  } | null;
  arrhenius: { activationEnergy_J_mol: number; low_J_mol: number | null; high_J_mol: number | null } | null;
  /** Corrected Akaike criterion of each law on the same data, lower is better. */
  aicc: { wlf: number | null; arrhenius: number | null };
  derived: {
    /** T∞ = T0 − C2. */
    vogelTemperature_C: number;
    vogelTemperatureLow_C: number | null;
    vogelTemperatureHigh_C: number | null;
    /** B = ln 10 · C1 · C2. */
    vogelB_K: number;
    /** m = C1 Tg / C2 with the constants moved to Tg; null without a Tg. */
    fragility: number | null;
    activationEnergyAtTg_J_mol: number | null;
    /** The Tg these two were taken at. */
    glassTemperature_C: number | null;
  } | null;
  shifts: ShiftFactor[];
  verticalShift: "off" | "density-temperature" | "fitted";
  /** Root mean square of the residuals in log10 modulus, both moduli. */
  rmsLog10: number | null;
  thermorheologicallySimple: boolean | null;
  /** The figures behind that judgement; null where it could not be made. */
  simplicity: {
    /** Scatter of log tan δ about one curve against log |M*|, and what noise alone explains. */
    wicketScatterLog10: number;
    phaseScatter_deg: number;
    allowedScatterLog10: number;
    allowedScatter_deg: number;
  } | null;
  masterCurve: MasterCurve | null;
  /** Where one law fails and two additive spectra, each with a law of its own, hold: the two phases, colder first. */
  phases?: BlendPhase[];
}

/** The rubbery plateau and the network that the kinetic theory reads from it. All of it is apparent: see `caution`. */
export interface RubberyNetwork {
  /** Storage modulus on the plateau, in the data's own deformation mode. */
  plateauModulus_Pa: ValueInterval;
  deformation: Deformation;
  /** Where it was read, and the window it was read in. */
  temperature_C: number;
  from_C: number;
  to_C: number;
  frequency_Hz: number;
  tanDelta: number;
  /** Change of M′/T over 20 K at the slope found in the window, as a fraction; an ideal network has 0. */
  drift: number;
  basis: "temperature sweep" | "master curve";
  /** Files that went into the value; of temperature sweeps more than one: their mean, their spread in the interval. */
  paths: string[];
  /** G, or E/3; null where the file does not state how the specimen was deformed. */
  shearModulus_Pa: ValueInterval | null;
  /** In words, how G was had. */
  shearModulusReading: string;
  /** ν = G/(RT). */
  networkDensity_mol_m3: ValueInterval | null;
  /** Mc = ρ/ν; null without a density. */
  chainMolarMass_g_mol: ValueInterval | null;
  /** The same with G divided by Guth–Gold's factor; null where no filler is stated. */
  withoutFiller: {
    volumeFraction: number;
    guthGold: number;
    networkDensity_mol_m3: ValueInterval;
    /** With the rubber's own density; null where it is not stated. */
    chainMolarMass_g_mol: ValueInterval | null;
  } | null;
  caution: string;
}

/** What one strain sweep at one temperature and frequency shows. Strains are amplitudes as fractions. */
export interface PayneEffect {
  deformation: Deformation;
  /** Null where the file does not state it. */
  temperature_C: number | null;
  frequency_Hz: number | null;
  smallestStrain: number;
  largestStrain: number;
  /** M′ at the smallest strain, in the data's own deformation mode. */
  storageModulusAtSmallest_Pa: number;
  storageModulusAtLargest_Pa: number;
  /** M′ at the smallest strain less M′ at the largest. */
  amplitude_Pa: ValueInterval;
  /** The amplitude over M′ at the smallest strain. */
  relativeAmplitude: number;
  /** Strain at which M′ has dropped by 5 %; null where the sweep does not get there. */
  limitOfLinearity: ValueInterval | null;
  /** Strain at which M″ is highest; null where it has no maximum inside the sweep. */
  lossMaximumStrain: ValueInterval | null;
  /** Whether M′ is level at that end; where it is not, the amplitude is a lower bound. */
  levelAtSmallest: boolean;
  levelAtLargest: boolean;
  points: number;
  path: string;
  section: string | null;
}

/**
 * What the measurements say of one compound: pure data, no functions, so that it can be stored, sent to a
 * worker and embedded in the page.
 */
export interface Material {
  compound: string;
  glassTransitions: GlassTransition[];
  superposition: Superposition | null;
  /** Null where nothing allows a prediction at another temperature or frequency. */
  model: RelaxationModel | null;
  /** Equally likely alternatives to `model` (bootstrap and parameter scatter): intervals come from these. */
  draws: RelaxationModel[];
  /** What was measured, beside what the model gives in the same states. */
  measuredStates: MeasuredState[];
  /** Null where no rubbery plateau was measured. */
  network: RubberyNetwork | null;
  /** One a strain sweep. */
  payneEffects: PayneEffect[];
  notices: Notice[];
}

export interface SuperpositionResult {
  superposition: Superposition | null;
  model: RelaxationModel | null;
  /** Equally likely alternatives to `model`, seeded from the data. */
  draws: RelaxationModel[];
  notices: Notice[];
}
