import { z } from "zod";

/**
 * The compounder's results as they stand in results.json: network, Payne effect, filler series, batches, and what a
 * compound flagged in the cold would need. One to one with the interfaces of `fit` and `predict`; a test holds them to it.
 */
const number = z.number();
const maybe = z.number().nullable();
const text = z.string();
const deformation = z.enum(["shear", "tension", "bending", "compression", "unstated"]);
const direction = z.enum(["heating", "cooling"]);
const interval = z.object({ value: number, low: maybe, high: maybe });

/** `RubberyNetwork` */
export const networkSchema = z.object({
  plateauModulus_Pa: interval.describe(
    "Storage modulus on the rubbery plateau, in the deformation mode named.",
  ),
  deformation,
  temperature_C: number,
  from_C: number,
  to_C: number,
  frequency_Hz: number,
  tanDelta: number,
  drift: number.describe("Change of M′/T over 20 K, as a fraction; 0 for an ideal network."),
  basis: z.enum(["temperature sweep", "master curve"]),
  paths: z.array(text),
  shearModulus_Pa: interval.nullable(),
  shearModulusReading: text,
  networkDensity_mol_m3: interval.nullable().describe("ν = G/(RT)."),
  chainMolarMass_g_mol: interval.nullable().describe("Mc = ρ/ν."),
  withoutFiller: z
    .object({
      volumeFraction: number,
      guthGold: number,
      networkDensity_mol_m3: interval,
      chainMolarMass_g_mol: interval.nullable(),
    })
    .nullable(),
  caution: text,
});

/** `PayneEffect` */
export const payneEffectSchema = z.object({
  deformation,
  temperature_C: maybe,
  frequency_Hz: maybe,
  smallestStrain: number,
  largestStrain: number,
  storageModulusAtSmallest_Pa: number,
  storageModulusAtLargest_Pa: number,
  amplitude_Pa: interval,
  relativeAmplitude: number,
  limitOfLinearity: interval.nullable().describe("Strain amplitude at which M′ has dropped by 5 %."),
  lossMaximumStrain: interval.nullable(),
  levelAtSmallest: z.boolean(),
  levelAtLargest: z.boolean(),
  points: z.int(),
  path: text,
  section: text.nullable(),
});

/** `FillerSeries` */
export const fillerSeriesSchema = z.object({
  name: text,
  deformation,
  unfilledModulus_Pa: interval,
  unfilledSource: z.enum(["unfilled member", "fit"]),
  unfilledReading: text,
  members: z.array(
    z.object({
      compound: text,
      volumeFraction: number,
      plateauModulus_Pa: interval,
      temperature_C: maybe,
      reinforcement: interval.describe("Measured M/M0."),
      guthGold: number.describe("1 + 2.5 φ + 14.1 φ²."),
      beyondCommonVolumeFraction: z.boolean(),
    }),
  ),
  sentence: text,
  caution: text,
});

const equivalence = z.enum(["equivalent", "different", "not decided", "no limit stated"]);
const batchQuantity = z.enum([
  "glass transition",
  "tan delta at 0 °C",
  "tan delta at 60 °C",
  "storage modulus at −25 °C",
  "rebound",
]);

/** `BatchComparison` */
export const batchComparisonSchema = z.object({
  accepted: text,
  batch: text,
  differences: z.array(
    z.object({
      quantity: batchQuantity,
      comparison: z.enum(["difference", "ratio"]),
      unit: z.enum(["°C", "1", "Pa"]),
      acceptedValue: number,
      batchValue: number,
      result: number.describe("batch − accepted (K for a temperature), or batch / accepted for a ratio."),
      low: maybe,
      high: maybe,
      limit: maybe,
      statement: equivalence,
      temperature_C: maybe,
      frequency_Hz: maybe,
      deformation: deformation.nullable(),
      direction: direction.nullable(),
      method: text.nullable(),
      acceptedRuns: z.int(),
      batchRuns: z.int(),
      acceptedPaths: z.array(text),
      batchPaths: z.array(text),
      sentence: text,
    }),
  ),
  notCompared: z.array(z.object({ quantity: batchQuantity, why: text, limitStated: z.boolean() })),
  statement: equivalence,
  sentence: text,
  basis: text,
  caution: text,
});

const wayAcross = z.object({
  glassTransitionFall_K: interval.nullable(),
  contacts: z.array(
    z.object({
      contact: z.enum(["sliding", "impact"]),
      frequency_Hz: number,
      neededFrequency_Hz: interval,
      frequencyFactor: interval,
      speed_m_s: maybe,
      neededSpeed_m_s: interval.nullable(),
    }),
  ),
  reasons: z.array(text),
});

/** `WhatItTakes` */
export const whatItTakesSchema = z.object({
  use: text,
  temperature_C: number,
  verdict: z.enum(["rubbery", "leathery", "glassy", "glassy or leathery", "leathery or rubbery"]),
  toBeRubbery: wayAcross,
  toLeaveGlassy: wayAcross.nullable(),
  sentence: text,
  caution: text,
});
