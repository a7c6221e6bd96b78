import { z } from "zod";

const maybe = z.number().nullable();
const valued = z.object({ value: z.number(), low: maybe, high: maybe });

/** What moved since an earlier results.json, and because of what. */
export const changesSchema = z.object({
  since: z.object({ version: z.string() }),
  files: z.object({ added: z.array(z.string()), removed: z.array(z.string()), changed: z.array(z.string()) }),
  settings: z
    .array(z.object({ key: z.string(), before: z.string(), after: z.string() }))
    .nullable()
    .describe("Null where the earlier results do not hold their settings."),
  compounds: z.object({ added: z.array(z.string()), removed: z.array(z.string()) }),
  verdicts: z.array(
    z.object({
      compound: z.string(),
      use: z.string(),
      before: z.string().nullable(),
      after: z.string().nullable(),
      because: z.string(),
    }),
  ),
  numbers: z
    .array(
      z.object({
        compound: z.string(),
        use: z.string().nullable(),
        quantity: z.string(),
        unit: z.string(),
        before: valued,
        after: valued,
        because: z.string(),
      }),
    )
    .describe("Each value lies outside the other's interval."),
  choice: z.object({ before: z.array(z.string()), after: z.array(z.string()) }).nullable(),
  sentences: z.array(z.string()),
});

export type Changes = z.infer<typeof changesSchema>;

const interval = z.looseObject({ low: maybe, high: maybe });
const peak = z.looseObject({ temperature_C: maybe, low_C: maybe, high_C: maybe }).nullable();

/** As much of an earlier results.json as is compared; whatever version wrote it. */
export const earlierResultsSchema = z.looseObject({
  schema: z.literal("frostline.results/1"),
  program: z.looseObject({ version: z.string() }),
  inputs: z.array(z.looseObject({ path: z.string(), sha256: z.string() })),
  settings: z.record(z.string(), z.unknown()).optional(),
  compounds: z.array(
    z.looseObject({
      name: z.string(),
      inputs: z.array(z.string()),
      glassTransitions: z.array(
        z.looseObject({
          frequency_Hz: maybe,
          deformation: z.string(),
          tanDeltaPeak: peak,
          lossModulusPeak: peak,
        }),
      ),
      outlooks: z.array(
        z.looseObject({
          use: z.string(),
          rebound: interval.extend({ fraction: z.number() }).nullable(),
          grip: interval.extend({ frictionCoefficient: z.number() }).nullable(),
          cushioning: z
            .looseObject({ peakForce_N: interval.extend({ value: z.number() }) })
            .nullable()
            .optional(),
          cold: z.looseObject({ verdict: z.string() }).nullable(),
        }),
      ),
      properties: z
        .array(
          interval.extend({
            quantity: z.string(),
            unit: z.string(),
            value: z.number(),
            method: z.string().nullable(),
          }),
        )
        .optional(),
    }),
  ),
  decision: z
    .looseObject({ choice: z.looseObject({ names: z.array(z.string()) }) })
    .nullable()
    .optional(),
});

export type EarlierResults = z.infer<typeof earlierResultsSchema>;
