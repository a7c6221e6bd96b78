import { z } from "zod";
import {
  batchComparisonSchema,
  fillerSeriesSchema,
  networkSchema,
  payneEffectSchema,
  whatItTakesSchema,
} from "./compounding-schema.js";
import {
  outlookSchema,
  quickIndicatorSchema,
  reboundCalibrationSchema,
  stiffeningSchema,
} from "./outlook-schema.js";

/**
 * The shape of results.json, the contract other programs read. New keys may be added; a key that is there
 * keeps its meaning. The same shape is published as JSON Schema in schema/results.schema.json.
 */
const deformation = z.enum(["shear", "tension", "bending", "compression", "unstated"]);
const number = z.number();
const maybe = z.number().nullable();

const problem = z.object({
  code: z.string(),
  message: z.string(),
  line: z.int().optional(),
  column: z.int().optional(),
});

const notice = z.object({
  severity: z.enum(["info", "caution", "error"]),
  code: z.string(),
  message: z.string(),
  path: z.string().optional(),
});

const input = z.object({
  path: z.string(),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  bytes: z.int(),
  status: z.enum(["read", "rejected"]),
  measurements: z.int().describe("How many measurements were read from the file."),
  problem: problem.optional(),
  encoding: z.string().optional(),
  delimiter: z.string().optional(),
  decimalMark: z.enum([".", ","]).nullable().optional(),
  readings: z
    .array(
      z.object({
        kind: z.enum(["temperature sweep", "frequency sweep", "strain sweep", "rebound"]),
        compound: z.string(),
        sheet: z.string().nullable(),
        section: z.string().nullable(),
        firstLine: z.int(),
        lastLine: z.int(),
        points: z.int(),
        columns: z.array(
          z.object({
            header: z.string(),
            column: z.int(),
            quantity: z.string(),
            unit: z.string(),
            unitAssumed: z.boolean(),
          }),
        ),
      }),
    )
    .optional(),
});

const peak = z.object({
  temperature_C: maybe.describe("Null where the peak lies beyond the data; low_C or high_C is then a bound."),
  low_C: maybe,
  high_C: maybe,
  bracketed: z.boolean(),
});

const glassTransition = z.object({
  frequency_Hz: number,
  deformation,
  direction: z.enum(["heating", "cooling"]).nullable(),
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

const superposition = z.object({
  source: z.enum(["fitted", "assumed"]),
  assumption: z.string().nullable(),
  deformation,
  referenceTemperature_C: number,
  law: z.enum(["wlf", "arrhenius"]),
  wlf: z
    .object({ c1: number, c2_K: number, c1Low: maybe, c1High: maybe, c2Low_K: maybe, c2High_K: maybe })
    .nullable(),
  arrhenius: z.object({ activationEnergy_J_mol: number, low_J_mol: maybe, high_J_mol: maybe }).nullable(),
  aicc: z.object({ wlf: maybe, arrhenius: maybe }),
  derived: z
    .object({
      vogelTemperature_C: number,
      vogelTemperatureLow_C: maybe,
      vogelTemperatureHigh_C: maybe,
      vogelB_K: number,
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
      wicketScatterLog10: number,
      phaseScatter_deg: number,
      allowedScatterLog10: number,
      allowedScatter_deg: number,
    })
    .nullable(),
  phases: z
    .array(
      z.object({
        glassTemperature_C: number,
        lossModulusPeakAt1Hz_C: number,
        shareOfFall: number.describe("Of the fall of the storage modulus from glass to plateau."),
        law: z.object({ c1: number, c2_K: number }).describe("At the phase's glass temperature."),
      }),
    )
    .optional()
    .describe("Of a blend that two additive spectra with a law each describe: its phases, colder first."),
});

const spectrum = z.object({
  referenceTemperature_C: number,
  equilibriumModulus_Pa: number,
  modes: z.array(z.object({ time_s: number, modulus_Pa: number })),
  deformation,
  lowestReducedFrequency_Hz: number,
  highestReducedFrequency_Hz: number,
  assumed: z.boolean(),
  furtherPhase: z
    .object({
      modes: z.array(z.object({ time_s: number, modulus_Pa: number })),
      wlf: z.object({ c1: number, c2_K: number, tangentBelow_C: maybe }),
    })
    .optional()
    .describe(
      "Of a blend: the modes of the other phase at the same temperature, and the law that moves them.",
    ),
});

const compound = z.object({
  name: z.string(),
  isReference: z.boolean(),
  inputs: z.array(z.string()),
  glassTransitions: z.array(glassTransition),
  superposition: superposition.nullable(),
  spectrum: spectrum.nullable(),
  outlooks: z.array(outlookSchema),
  reboundCalibration: reboundCalibrationSchema.nullable(),
  quickIndicators: z.object({
    tanDeltaAt0C: quickIndicatorSchema,
    tanDeltaAt60C: quickIndicatorSchema,
    storageModulusAtMinus25C: quickIndicatorSchema,
  }),
  stiffening: stiffeningSchema.nullable(),
  network: networkSchema.nullable(),
  payneEffects: z.array(payneEffectSchema),
  repeatedRuns: z.array(batchComparisonSchema),
  flags: z
    .array(z.string())
    .optional()
    .describe("Codes of the notices that cast doubt on every outlook of the compound"),
  whatItTakes: z.array(whatItTakesSchema.nullable()).describe("One a use, in the order of outlooks."),
  notices: z.array(notice),
});

export const resultsSchema = z.object({
  schema: z.literal("frostline.results/1"),
  program: z.object({ name: z.literal("frostline"), version: z.string() }),
  inputs: z.array(input),
  compounds: z.array(compound),
  fillerSeries: z.array(fillerSeriesSchema),
  batchComparisons: z.array(batchComparisonSchema),
  notices: z.array(notice).describe("What concerns the folder as a whole."),
});

export type Results = z.infer<typeof resultsSchema>;
export type ResultsInput = Results["inputs"][number];
export type ResultsCompound = Results["compounds"][number];

/** The part of a compound's results that verdicts, ranking and sentences are made of; the page has it too. */
export type JudgedCompound = Pick<
  ResultsCompound,
  "name" | "inputs" | "glassTransitions" | "superposition" | "outlooks" | "flags"
>;
