import { z } from "zod";

/** The parts of results.json that hold what a compound does in use. Same units and names as in `predict`. */
const number = z.number();
const maybe = z.number().nullable();

const ratio = z.object({ ratio: number, low: number, high: number });
const temperatureInterval = z.object({ temperature_C: number, low_C: number, high_C: number });

export const outlookSchema = z.object({
  use: z.string(),
  temperature_C: number,
  rebound: z
    .object({
      fraction: number,
      low: number,
      high: number,
      textbookFraction: number.describe("exp(−π tan δ) at the contact's own frequency."),
      contactTime_s: number,
      indentation_m: number.optional(),
      calibrated: z.boolean().optional(),
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
      cutOffSensitivity: z.object({ halved: number, doubled: number }),
      cutOff_per_m: number.optional(),
      rmsSlope: number.optional(),
      contactFrequency_Hz: maybe.optional(),
    })
    .nullable(),
  cold: z
    .object({
      verdict: z.enum(["rubbery", "leathery", "glassy", "glassy or leathery", "leathery or rubbery"]),
      contactFrequency_Hz: number,
      contact: z.enum(["sliding", "impact"]),
      marginToGlassy_K: number,
      marginToLeathery_K: number,
      glassTemperatureAtUse: z
        .object({
          frequency_Hz: number,
          tanDeltaPeak: temperatureInterval,
          lossModulusPeak: temperatureInterval,
        })
        .optional(),
      glassTemperatureMeasured: z
        .object({ frequency_Hz: number, tanDeltaPeak_C: maybe, lossModulusPeak_C: maybe })
        .nullable()
        .optional(),
      lowestRubbery_C: maybe.optional(),
      lowestAboveGlassy_C: maybe.optional(),
    })
    .nullable(),
  flags: z
    .array(z.string())
    .optional()
    .describe("Codes of the notices that cast doubt on this outlook, of severity caution or error"),
  verdictMissing: z.string().optional().describe("Why cold is null, and which measurement would settle it"),
  nearestMeasurement: z
    .object({
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
    })
    .nullable()
    .optional()
    .describe("The measured state nearest to the use, beside the model's values in it."),
});

export const reboundCalibrationSchema = z.object({
  compound: z.string(),
  method: z.string().nullable(),
  stiffnessFactor: number,
  low: number,
  high: number,
  logStandardError: number,
  leaveOneOutError: maybe,
  uncalibratedError: number,
  readings: z.array(
    z.object({
      temperature_C: number,
      measuredFraction: number,
      measuredLow: maybe.optional(),
      measuredHigh: maybe.optional(),
      tests: z.int().optional(),
      laboratories: z.array(z.string()).optional(),
      calibratedFraction: number,
      uncalibratedFraction: number,
      leftOutFraction: maybe,
      path: z.string(),
      line: z.int(),
    }),
  ),
});

export const quickIndicatorSchema = z.object({
  value: maybe,
  unit: z.enum(["1", "Pa"]),
  temperature_C: number,
  frequency_Hz: maybe,
  reading: z.string(),
  caution: z.string(),
  source: z.object({ file: z.string(), section: z.string().nullable(), firstLine: z.int() }).nullable(),
});

export const stiffeningSchema = z.object({
  time_s: number,
  referenceTemperature_C: number,
  temperatures: z.array(
    z.object({ ratio: z.literal([2, 5, 10, 100]), reached: temperatureInterval.nullable() }),
  ),
  caution: z.string(),
});
