import { z } from "zod";
import {
  deformationSchema,
  fillerSeriesSchema,
  glassTransitionSchema,
  networkSchema,
  payneEffectSchema,
  softeningSchema,
  superpositionSchema,
} from "../../fit/material-schema.js";
import { batchComparisonSchema } from "../../predict/batches/batch-schema.js";
import { decisionSchema, propertySchema } from "../../predict/decision/decision-schema.js";
import { leversSchema } from "../../predict/decision/lever-schema.js";
import {
  outlookSchema,
  quickIndicatorsSchema,
  reboundCalibrationSchema,
  stiffeningSchema,
  whatItTakesSchema,
} from "../../predict/outlook-schema.js";
import { changesSchema } from "./changes-schema.js";

/**
 * The shape of results.json, the contract other programs read. New keys may be added; a key that is there
 * keeps its meaning. The same shape is published as JSON Schema in schema/results.schema.json.
 */
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
  states: z.array(z.string()).optional().describe("The states in which it holds, as the message lists them."),
  covers: z
    .array(z.string())
    .optional()
    .describe("Codes that were raised too and say no more than this notice does."),
});

const told = z.object({ code: z.string(), message: z.string(), path: z.string().optional() });

const input = z.object({
  path: z.string(),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
  bytes: z.int(),
  status: z.enum(["read", "rejected"]),
  measurements: z.int().describe("How many measurements were read from the file."),
  problem: problem.optional(),
  steps: z.array(told).optional().describe("What was read in an unusual place or form; no doubt in it."),
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

const spectrum = z.object({
  referenceTemperature_C: number,
  equilibriumModulus_Pa: number,
  modes: z.array(z.object({ time_s: number, modulus_Pa: number })),
  deformation: deformationSchema,
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
  glassTransitions: z.array(
    glassTransitionSchema.extend({
      frequency_Hz: maybe.describe(
        "Null where nothing states it: nothing is moved or predicted from that sweep.",
      ),
    }),
  ),
  superposition: superpositionSchema.nullable(),
  spectrum: spectrum.nullable(),
  outlooks: z.array(outlookSchema),
  properties: z.array(propertySchema).describe("As measured, never predicted."),
  reboundCalibration: reboundCalibrationSchema.nullable(),
  quickIndicators: quickIndicatorsSchema,
  stiffening: stiffeningSchema.nullable(),
  network: networkSchema.nullable(),
  softening: softeningSchema.nullable().describe("At the warm end; null: no rubbery plateau was measured."),
  payneEffects: z.array(payneEffectSchema),
  repeatedRuns: z.array(batchComparisonSchema),
  flags: z
    .array(z.string())
    .describe("Codes of the notices that cast doubt on every outlook of the compound"),
  whatItTakes: z.array(whatItTakesSchema.nullable()).describe("One a use, in the order of outlooks."),
  notices: z
    .array(notice)
    .describe("What is this compound's own; the study's list has what holds for several."),
  steps: z.array(told).describe("How its data were read and fitted on the way; no doubt in them."),
});

export const resultsSchema = z.object({
  schema: z.literal("frostline.results/1"),
  program: z.object({ name: z.literal("frostline"), version: z.string() }),
  inputs: z.array(input),
  compounds: z.array(compound),
  fillerSeries: z.array(fillerSeriesSchema),
  batchComparisons: z.array(batchComparisonSchema),
  decision: decisionSchema
    .extend({
      levers: leversSchema
        .optional()
        .describe("What a change of filler would do to what fails, from this study's own series only."),
    })
    .nullable()
    .describe("What the study asks and which compound meets it; null where it asks nothing."),
  verdictBorders: z
    .object({ glassyBorder_K: number, leatheryBorder_K: number })
    .describe(
      "Glassy ends so far above the M″ peak, leathery above the tan δ peak, at the contact's frequency.",
    ),
  settings: z
    .record(z.string(), z.unknown())
    .describe("The study as understood: what a study file may say, defaults filled in."),
  changes: changesSchema
    .nullable()
    .describe("What moved since the earlier results that were given; null where none were."),
  cautions: z.array(told).describe("What the methods used cannot do, whatever the compound."),
  notices: z
    .array(
      notice.extend({
        compounds: z
          .array(z.object({ name: z.string(), states: z.array(z.string()) }))
          .optional()
          .describe(
            "The compounds it holds for, with the states of each; none where it is about the folder.",
          ),
      }),
    )
    .describe("What concerns the folder as a whole or holds for compounds alike, each fact once."),
});

export type Results = z.infer<typeof resultsSchema>;
export type ResultsInput = Results["inputs"][number];
export type ResultsCompound = Results["compounds"][number];

/** The part of a compound's results that verdicts, ranking and sentences are made of; the page has it too. */
export type JudgedCompound = Pick<
  ResultsCompound,
  "name" | "inputs" | "glassTransitions" | "superposition" | "outlooks" | "flags"
>;
