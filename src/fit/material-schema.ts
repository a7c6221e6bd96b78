import { z } from "zod";

/** What a material is made of, as it stands in results.json: the TypeScript types of fit are inferred from here. */
const number = z.number();
const maybe = z.number().nullable();
const text = z.string();
export const deformationSchema = z.enum(["shear", "tension", "bending", "compression", "unstated"]);
export const directionSchema = z.enum(["heating", "cooling"]);
export const intervalSchema = z.object({ value: number, low: maybe, high: maybe });

const peak = z.object({
  temperature_C: maybe.describe("Null where the peak lies beyond the data; low_C or high_C is then a bound."),
  low_C: maybe,
  high_C: maybe,
  bracketed: z.boolean(),
});

export const glassTransitionSchema = z.object({
  frequency_Hz: number,
  deformation: deformationSchema,
  direction: directionSchema.nullable(),
  tanDeltaPeak: peak.extend({ height: maybe, width_K: maybe }).nullable(),
  lossModulusPeak: peak.nullable(),
  storageModulusOnset: z.object({ temperature_C: number, low_C: number, high_C: number }).nullable(),
  furtherPeaks: z.array(
    z.object({
      quantity: z.enum(["tan delta", "loss modulus"]),
      temperature_C: number,
      low_C: number,
      high_C: number,
      height: number,
      prominence: number,
    }),
  ),
  path: z.string(),
  origin: z
    .enum(["isotherms"])
    .optional()
    .describe("Isotherms read across their temperatures at this frequency; missing: a temperature sweep."),
});

/** Without the points of the master curve, which stand in the tables and in the report. */
export const superpositionSchema = z.object({
  source: z.enum(["fitted", "assumed"]),
  assumption: z.string().nullable(),
  deformation: deformationSchema,
  referenceTemperature_C: number,
  law: z.enum(["wlf", "arrhenius"]),
  wlf: z
    .object({ c1: number, c2_K: number, c1Low: maybe, c1High: maybe, c2Low_K: maybe, c2High_K: maybe })
    .nullable(),
  arrhenius: z.object({ activationEnergy_J_mol: number, low_J_mol: maybe, high_J_mol: maybe }).nullable(),
  aicc: z.object({ wlf: maybe, arrhenius: maybe }),
  derived: z
    .object({
      vogelTemperature_C: maybe.describe(
        "T0 − C2; null, as B is, where the curve bends so little that it would lie below absolute zero.",
      ),
      vogelTemperatureLow_C: maybe,
      vogelTemperatureHigh_C: maybe,
      vogelB_K: maybe,
      fragility: maybe,
      activationEnergyAtTg_J_mol: maybe,
      glassTemperature_C: maybe,
    })
    .nullable(),
  shifts: z.array(
    z.object({
      temperature_C: number,
      log10aT: number,
      log10aTLow: maybe,
      log10aTHigh: maybe,
      log10bT: number,
    }),
  ),
  verticalShift: z.enum(["off", "density-temperature", "fitted"]),
  rmsLog10: maybe,
  thermorheologicallySimple: z.boolean().nullable(),
  simplicity: z
    .object({
      nearlySimple: z
        .boolean()
        .describe(
          "One law holds although the isotherms differ at equal modulus by more than noise explains.",
        ),
      wicketScatterLog10: number,
      phaseScatter_deg: number,
      allowedScatterLog10: number,
      allowedScatter_deg: number,
    })
    .nullable(),
  /** Where one law fails and two additive spectra, each with a law of its own, hold. */
  phases: z
    .array(
      z.object({
        /** Where its M″ peak stands at 1.59 mHz. */
        glassTemperature_C: number,
        lossModulusPeakAt1Hz_C: number,
        shareOfFall: number.describe("Of the fall of the storage modulus from glass to plateau."),
        law: z.object({ c1: number, c2_K: number }).describe("At the phase's glass temperature."),
      }),
    )
    .optional()
    .describe("Of a blend that two additive spectra with a law each describe: its phases, colder first."),
});

export const networkSchema = z.object({
  plateauModulus_Pa: intervalSchema.describe(
    "Storage modulus on the rubbery plateau, in the deformation mode named.",
  ),
  deformation: deformationSchema,
  temperature_C: number,
  from_C: number,
  to_C: number,
  frequency_Hz: number,
  tanDelta: number,
  drift: number.describe("Change of M′/T over 20 K, as a fraction; 0 for an ideal network."),
  basis: z.enum(["temperature sweep", "master curve"]),
  paths: z.array(text),
  shearModulus_Pa: intervalSchema.nullable(),
  shearModulusReading: text,
  networkDensity_mol_m3: intervalSchema.nullable().describe("ν = G/(RT)."),
  chainMolarMass_g_mol: intervalSchema.nullable().describe("Mc = ρ/ν."),
  withoutFiller: z
    .object({
      volumeFraction: number,
      guthGold: number,
      networkDensity_mol_m3: intervalSchema,
      chainMolarMass_g_mol: intervalSchema.nullable(),
    })
    .nullable(),
  caution: text,
});

export const softeningSchema = z.object({
  temperature_C: maybe.describe(
    "M′/T has fallen to half of its plateau's with tan δ rising; null: not by low_C, where the data end.",
  ),
  low_C: maybe,
  high_C: maybe,
  bracketed: z.boolean(),
  frequency_Hz: number,
  deformation: deformationSchema,
  paths: z.array(text),
});

export const payneEffectSchema = z.object({
  deformation: deformationSchema,
  temperature_C: maybe,
  frequency_Hz: maybe,
  smallestStrain: number,
  largestStrain: number,
  storageModulusAtSmallest_Pa: number,
  storageModulusAtLargest_Pa: number,
  amplitude_Pa: intervalSchema,
  relativeAmplitude: number,
  limitOfLinearity: intervalSchema.nullable().describe("Strain amplitude at which M′ has dropped by 5 %."),
  lossMaximumStrain: intervalSchema.nullable(),
  levelAtSmallest: z.boolean(),
  levelAtLargest: z.boolean(),
  points: z.int(),
  path: text,
  section: text.nullable(),
});

export const boundRubberSchema = z.object({
  layer_nm: intervalSchema.describe(
    "Δ that brings M/M0 to Guth–Gold at φ (1 + 2Δ/d)³; below 0: none is seen.",
  ),
  layerByLoss_nm: intervalSchema
    .nullable()
    .describe("Δ from the heights of the tan δ peaks; null: none at a common frequency."),
  agree: z.boolean().nullable().describe("Whether the two intervals overlap; null: one has none."),
  members: z.array(
    z.object({
      compound: text,
      particleSize_nm: number,
      effectiveVolumeFraction: number,
      guthGoldWithLayer: number,
      reinforcement: number,
      immobilisedShare: maybe.describe("Of filler and rubber together, from the tan δ peaks."),
    }),
  ),
  sentence: text,
});

export const particleSizeSchema = z.object({
  coarser: text.describe("Compound with the coarser particles."),
  finer: text,
  coarserSize_nm: number,
  finerSize_nm: number,
  volumeFraction: number.describe("Of both, within 0.005."),
  ratio: intervalSchema.describe("Plateau modulus of the finer over that of the coarser, as measured."),
  distinguishable: z.boolean().nullable().describe("Whether the ratio is told from 1; null: no interval."),
  sentence: text,
});

export const fillerSeriesSchema = z.object({
  name: text,
  deformation: deformationSchema,
  unfilledModulus_Pa: intervalSchema,
  unfilledSource: z.enum(["unfilled member", "fit"]),
  unfilledReading: text,
  members: z.array(
    z.object({
      compound: text,
      volumeFraction: number,
      plateauModulus_Pa: intervalSchema,
      temperature_C: maybe,
      reinforcement: intervalSchema.describe("Measured M/M0."),
      guthGold: number.describe("1 + 2.5 φ + 14.1 φ²."),
      beyondCommonVolumeFraction: z.boolean(),
    }),
  ),
  boundRubber: boundRubberSchema
    .nullable()
    .optional()
    .describe("Null or missing: no particle size is stated, or there is no filled member beside a gum."),
  particleSizes: z
    .array(particleSizeSchema)
    .optional()
    .describe(
      "Finer against coarser particles of the same load; empty: no two sizes were measured at one load.",
    ),
  sentence: text,
  caution: text,
});

export const measuredStateSchema = z.object({
  path: z.string(),
  temperature_C: number,
  frequency_Hz: number,
  storageModulus_Pa: number,
  tanDelta: number,
  modelStorageModulus_Pa: number,
  modelTanDelta: number,
  modulusMisfit_ln: number.describe(
    "Median of ln(measured/model) of |M*| over the rows around this temperature and decade of frequency.",
  ),
  tanDeltaMisfit_ln: number.describe("The same of tan δ."),
});
