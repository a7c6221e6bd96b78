import { z } from "zod";

/** Requirements and what they decide, as results.json has them; the TypeScript types are inferred from here. */
const maybe = z.number().nullable();

/** A property of a compound as measured: the median of its repeats. */
export const propertySchema = z.object({
  quantity: z.string(),
  unit: z.string(),
  value: z.number().describe("Median of the repeats."),
  low: maybe.describe("95 % interval of the mean by Student's t; null for a single value."),
  high: maybe,
  count: z.int(),
  method: z.string().nullable(),
  inputs: z.array(z.string()),
});

export type CompoundProperty = z.infer<typeof propertySchema>;

export const requirementSchema = z.object({
  name: z.string(),
  quantity: z.string(),
  use: z.string().nullable().describe("Null: of the compound."),
  unit: z.string(),
  atLeast: z.number().optional(),
  atMost: z.number().optional(),
  verdict: z.enum(["rubbery", "leathery", "glassy"]).optional().describe("That state or a warmer one."),
});

const judgement = z.object({
  requirement: z.string(),
  value: maybe.describe("The central value, in the requirement's unit."),
  probability: maybe,
  answer: z.enum(["meets", "open", "fails", "unknown"]),
  asStated: z.boolean().describe("A single value without repeats: taken as it stands."),
});

export const decisionSchema = z.object({
  requirements: z.array(requirementSchema),
  compounds: z.array(
    z.object({
      name: z.string(),
      meets: z.array(judgement),
      meetsAllProbability: maybe,
      onFrontier: z.boolean().describe("No other compound is better in all that is required."),
    }),
  ),
  choice: z.object({ names: z.array(z.string()), sentence: z.string() }),
  nextTest: z.object({ compound: z.string(), test: z.string(), why: z.string() }).nullable(),
});
