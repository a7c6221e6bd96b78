import { z } from "zod";
import { deformationSchema, directionSchema } from "../../fit/material-schema.js";

/** Batches held against each other, as results.json has them; the TypeScript types are inferred from here. */
const number = z.number();
const maybe = z.number().nullable();
const text = z.string();

const equivalence = z.enum(["equivalent", "different", "not decided", "no limit stated"]);
const batchQuantity = z.enum([
  "glass transition",
  "tan delta at 0 °C",
  "tan delta at 60 °C",
  "storage modulus at −25 °C",
  "rebound",
]);

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
      deformation: deformationSchema.nullable(),
      direction: directionSchema.nullable(),
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
