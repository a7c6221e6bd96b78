import type { z } from "zod";
import type { Notice } from "../words/notice.js";
import type {
  glassTransitionSchema,
  networkSchema,
  payneEffectSchema,
  softeningSchema,
  superpositionSchema,
} from "./material-schema.js";
import type { MeasuredState } from "./measured-states.js";
import type { RelaxationModel } from "./spectrum/relaxation-model.js";
import type { SpectrumAt } from "./spectrum/spectra-at.js";

/** A peak's place with its 95 % interval. Where it is not bracketed, `temperature_C` is null and the interval is a bound. */
export type Peak = NonNullable<GlassTransition["lossModulusPeak"]>;

export type TanDeltaPeak = NonNullable<GlassTransition["tanDeltaPeak"]>;

/** A further maximum: a second phase or a secondary transition. */
export type FurtherPeak = GlassTransition["furtherPeaks"][number];

export type Onset = NonNullable<GlassTransition["storageModulusOnset"]>;

/** The three readings of a glass transition at one frequency (ASTM E1640, ISO 6721-11, IEC 61006). */
export type GlassTransition = z.infer<typeof glassTransitionSchema>;

export type ShiftFactor = Superposition["shifts"][number];

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

/** How M′ and tan δ change with strain, relative to the smallest strain of the sweep; ascending strains. */
export interface StrainSoftening {
  temperature_C: number;
  strain: number[];
  storageRatio: number[];
  tanDeltaRatio: number[];
}

/** One phase of a blend, as two additive spectra with a law each have it. */
export type BlendPhase = NonNullable<Superposition["phases"]>[number];

export type Superposition = z.infer<typeof superpositionSchema> & { masterCurve: MasterCurve | null };

/** The rubbery plateau and the network that the kinetic theory reads from it. All of it is apparent: see `caution`. */
export type RubberyNetwork = z.infer<typeof networkSchema>;

/** Where a compound softens at the warm end. */
export type Softening = z.infer<typeof softeningSchema>;

/** What one strain sweep at one temperature and frequency shows. Strains are amplitudes as fractions. */
export type PayneEffect = z.infer<typeof payneEffectSchema>;

/**
 * What the measurements say of one compound: pure data, no functions, so that it can be stored, sent to a
 * worker and embedded in the page.
 */
export interface Material {
  compound: string;
  glassTransitions: GlassTransition[];
  /** Of sweeps whose frequency nothing states (NaN): nothing is moved or predicted from them. Absent where there are none. */
  transitionsAtUnstatedFrequency?: GlassTransition[];
  superposition: Superposition | null;
  /** Null where nothing allows a prediction at another temperature or frequency. */
  model: RelaxationModel | null;
  /** Equally likely alternatives to `model` (scatter of the constants and of the moduli): intervals come from these. */
  draws: RelaxationModel[];
  /** Where nothing joins the isotherms: the spectrum of each, for predictions at its own temperature. */
  spectraAt?: SpectrumAt[];
  /** No sweep of modulus was read: routine properties or rebound are all there is. Missing: there is one. */
  hasNoSweep?: boolean;
  /** What was measured, beside what the model gives in the same states. */
  measuredStates: MeasuredState[];
  /** Null where no rubbery plateau was measured. */
  network: RubberyNetwork | null;
  /** Null or missing: no rubbery plateau was measured to soften from. */
  softening?: Softening | null;
  /** One a strain sweep. */
  /** From a strain sweep; "unfilled" where the recipe says so; null or missing: not known. */
  strainSoftening?: StrainSoftening | "unfilled" | null;
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
