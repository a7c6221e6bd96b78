import { z } from "zod";
import { intervalSchema, measuredStateSchema } from "../fit/material-schema.js";

/** What a compound does in use, as it stands in results.json: the TypeScript types of predict are inferred from here. */
const number = z.number();
const maybe = z.number().nullable();

const verdictSchema = z.enum(["rubbery", "leathery", "glassy", "glassy or leathery", "leathery or rubbery"]);
const contact = z.enum(["sliding", "impact"]);

const ratio = z.object({ ratio: number, low: number, high: number });
const intervalOfDraws = z.object({ value: number, low: number, high: number });
const temperatureInterval = z.object({ temperature_C: number, low_C: number, high_C: number });

const openInterval = z
  .object({ temperature_C: maybe, low_C: maybe, high_C: maybe, reason: z.string().nullable() })
  .describe("As far as it is known: null where no value was seen, and for an end that nothing bounds.");

export const outlookSchema = z.object({
  use: z.string(),
  temperature_C: number,
  rebound: z
    .object({
      fraction: number,
      low: number,
      high: number,
      textbookFraction: number.describe(
        "exp(−π tan δ) at the contact's own frequency, with the same factors on stiffness and loss as the value.",
      ),
      contactTime_s: number,
      /** Deepest indentation of the impact. */
      indentation_m: number,
      /** Whether the impact was calibrated on measured rebound. */
      calibrated: z.boolean(),
      strainBasis: z
        .enum(["corrected", "calibrated", "unfilled", "small strain"])
        .optional()
        .describe(
          "How the strain of the impact is accounted for; with small strain alone the value is an upper bound in tendency.",
        ),
      relativeToReference: ratio.optional(),
    })
    .nullable(),
  grip: z
    .object({
      frictionCoefficient: number,
      low: number,
      high: number,
      contactAreaRatio: number,
      relativeToReference: ratio.optional(),
      /** With the cut-off q1 halved and doubled. */
      shortestWave_m: number.optional().describe("Shorter waves of the texture are left out: 2π/q1."),
      cutOffSensitivity: z.object({ halved: number, doubled: number }),
      /** The cut-off that was used, given or found from the slope. */
      cutOff_per_m: number,
      /** Root mean square slope of the texture up to the cut-off. */
      rmsSlope: number,
      /** v·q½/2π, q½ the wave number below which half of the friction arises; null where no friction arises. */
      contactFrequency_Hz: maybe,
    })
    .nullable(),
  cushioning: z
    .object({
      peakForce_N: intervalOfDraws,
      peakDeceleration_g: intervalOfDraws,
      indentation_m: intervalOfDraws,
      energyAbsorbed_J: intervalOfDraws,
      /** Of the peak force: below 1 it cushions more. */
      relativeToReference: ratio.optional(),
    })
    .nullable()
    .describe("Of the use's impact, from the same simulation as the rebound; null without an impact."),
  cold: z
    .object({
      verdict: verdictSchema,
      contactFrequency_Hz: number,
      contact: contact,
      /** Use temperature less the border of glassy at the contact frequency: positive is warmer. Null: peak not seen. */
      marginToGlassy_K: maybe,
      /** Use temperature less the border between leathery and rubbery. Null: peak not seen. */
      marginToLeathery_K: maybe,
      /** The glass transition at the contact frequency. */
      glassTemperatureAtUse: z.object({
        frequency_Hz: number,
        tanDeltaPeak: openInterval,
        lossModulusPeak: openInterval,
      }),
      /** As the oven showed it, to stand beside the one above; null where no sweep has it. */
      glassTemperatureMeasured: z
        .object({ frequency_Hz: number, tanDeltaPeak_C: maybe, lossModulusPeak_C: maybe })
        .nullable(),
      /** Lowest temperature at which the compound stays rubbery in this contact; null: not determined. */
      lowestRubbery_C: maybe,
      /** Lowest temperature at which it stays above glassy in this contact; null: not determined. */
      lowestAboveGlassy_C: maybe,
    })
    .nullable(),
  transitionAtContact: z
    .object({
      contactFrequency_Hz: number,
      contact: contact,
      tanDeltaPeak: openInterval,
      lossModulusPeak: openInterval,
      tangentBelow_C: maybe.describe("Below this the shift law goes on as its tangent."),
    })
    .optional()
    .describe("Both peaks at the contact frequency, also where no verdict is given."),
  flags: z
    .array(z.string())
    .describe("Codes of the notices that cast doubt on this outlook, of severity caution or error"),
  predictsOnlyAt_C: z
    .array(z.number())
    .optional()
    .describe(
      "Temperatures measured over frequency, where nothing joins them: nothing is predicted elsewhere.",
    ),
  predictionMissing: z
    .string()
    .optional()
    .describe("Why rebound or grip is null, and which measurement would settle it"),
  verdictMissing: z.string().optional().describe("Why cold is null, and which measurement would settle it"),
  nearestMeasurement: measuredStateSchema
    .nullable()
    .describe("The measured state nearest to the use, beside the model's values in it."),
});

export const reboundCalibrationSchema = z.object({
  compound: z.string(),
  method: z.string().nullable(),
  stiffnessFactor: number,
  low: number,
  high: number,
  /** Standard error of its natural logarithm, widened for few readings. */
  logStandardError: number,
  /** Factor on the loss: a rebound R becomes R to this power; 1 where the loss is not calibrated. */
  lossFactor: number.optional(),
  lossLogStandardError: number.optional(),
  /** Root mean square error of each reading predicted from the others, as a fraction; null for one reading. */
  leaveOneOutError: maybe,
  /** Root mean square error with the factor at 1, for comparison. */
  uncalibratedError: number,
  readings: z.array(
    z.object({
      temperature_C: number,
      /** The test's value; of several tests or laboratories, their mean with its 95 % interval from the spread between them. */
      measuredFraction: number,
      measuredLow: maybe,
      measuredHigh: maybe,
      tests: z.int(),
      laboratories: z.array(z.string()),
      calibratedFraction: number,
      uncalibratedFraction: number,
      /** Predicted with the factor found on the other readings. */
      leftOutFraction: maybe,
      path: z.string(),
      line: z.int(),
    }),
  ),
});

const quickIndicatorSchema = z.object({
  value: maybe,
  unit: z.enum(["1", "Pa"]),
  temperature_C: number,
  frequency_Hz: maybe,
  /** How it was read ("at 1 Hz, the nearest to 10 Hz that was measured"), or why there is no value. */
  reading: z.string(),
  caution: z.string(),
  source: z.object({ file: z.string(), section: z.string().nullable(), firstLine: z.int() }).nullable(),
});

export const quickIndicatorsSchema = z.object({
  /** Wet grip, higher is better (common practice). */
  tanDeltaAt0C: quickIndicatorSchema,
  /** Rolling loss, lower is better (common practice). */
  tanDeltaAt60C: quickIndicatorSchema,
  /** Winter compliance, lower is better (common practice). */
  storageModulusAtMinus25C: quickIndicatorSchema,
});

export const stiffeningSchema = z.object({
  time_s: number,
  referenceTemperature_C: number,
  temperatures: z.array(
    z.object({ ratio: z.literal([2, 5, 10, 100]), reached: temperatureInterval.nullable() }),
  ),
  caution: z.string(),
});

const wayAcross = z.object({
  glassTransitionFall_K: intervalSchema.nullable(),
  contacts: z.array(
    z.object({
      contact: contact,
      frequency_Hz: number,
      neededFrequency_Hz: intervalSchema,
      frequencyFactor: intervalSchema,
      speed_m_s: maybe,
      neededSpeed_m_s: intervalSchema.nullable(),
    }),
  ),
  reasons: z.array(z.string()),
});

export const whatItTakesSchema = z.object({
  use: z.string(),
  temperature_C: number,
  verdict: verdictSchema,
  toBeRubbery: wayAcross,
  toLeaveGlassy: wayAcross.nullable(),
  sentence: z.string(),
  caution: z.string(),
});
