import { z } from "zod";
import { intervalSchema } from "../../fit/material-schema.js";

/** What a change of filler would do to a compound that fails a requirement, as results.json has it. */
const maybe = z.number().nullable();

const change = z.object({
  quantity: z.string(),
  use: z.string().nullable().describe("Null: of the compound."),
  unit: z.string().describe("Of a verdict K: the distance from its border."),
  requirement: z
    .string()
    .nullable()
    .describe("The requirement that asks for it; null: nothing is asked of it."),
  from: z.number(),
  to: z.number(),
  change: intervalSchema.describe(
    "to − from, draw against draw; null ends: a value without repeats is in it.",
  ),
  slope: intervalSchema.describe("The change over the difference in load."),
  probability: maybe.describe(
    "That the requirement is met at the changed load; null: nothing is asked, or values without repeats reach it there.",
  ),
  answer: z.enum(["meets", "open", "fails"]).nullable(),
});

const step = z.object({
  from: z.string().describe("The compound with less filler."),
  to: z.string(),
  fromLoad: z.number(),
  toLoad: z.number(),
  changes: z.array(change),
});

const trade = z.object({
  compound: z.string(),
  requirement: z.string(),
  series: z.string().nullable().describe("The filler series that says it; null: nothing in this study does."),
  load: maybe.describe("Of the compound itself, in the series' unit."),
  reaches: intervalSchema
    .nullable()
    .describe(
      "The load at which the limit is reached, on straight lines between measured compounds; a null end lies outside what was measured. Null: no measured load reaches it.",
    ),
  between: z.tuple([z.string(), z.string()]).nullable().describe("The measured compounds on either side."),
  changedLoad: maybe.describe(
    "What the changes are given for: the nearest measured load at which the requirement is met with more than 0.95, else where its central value reaches the limit, else the measured load that comes nearest.",
  ),
  changes: z.array(change),
  sentence: z.string(),
});

export const leversSchema = z.object({
  series: z.array(
    z.object({
      name: z.string(),
      loadUnit: z
        .enum(["phr", "% by volume", "nm"])
        .describe("nm: compounds of one load that differ in the size of their particles."),
      members: z.array(z.object({ compound: z.string(), load: z.number() })),
      steps: z.array(step).describe("Between neighbours in load, with particles of one size."),
    }),
  ),
  trades: z
    .array(trade)
    .describe(
      "For each requirement that a compound fails: by load, by particle size, or that nothing says it.",
    ),
  remark: z.string().describe("Common practice, not of this study."),
  caution: z.string(),
});

export type Levers = z.infer<typeof leversSchema>;
export type Trade = Levers["trades"][number];
export type LeverChange = Trade["changes"][number];
