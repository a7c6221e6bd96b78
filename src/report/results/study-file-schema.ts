import * as z from "zod";
import {
  type MeasuredQuantity,
  measuredQuantities,
  type PredictedQuantity,
  predictedQuantities,
} from "../../predict/decision/requirement.js";

const positive = z.number().positive();
const text = z.string().trim().min(1);
const temperature_C = z.number().min(-273.15).max(1000);
const deformation = z.enum(["shear", "tension", "bending", "compression"]);

const filler = z
  .strictObject({
    name: text.optional(),
    phr: z.number().nonnegative().optional(),
    density_kg_m3: positive.optional(),
    rubberDensity_kg_m3: positive.optional(),
    particleSize_nm: positive.optional(),
    volumeFraction: z.number().min(0).max(0.7).optional(),
  })
  .refine(
    (value) => value.volumeFraction !== undefined || value.phr !== undefined,
    "needs phr with both densities, or volumeFraction",
  );

const compound = z.strictObject({
  name: text,
  files: z.array(text).default([]),
  samples: z.array(text).default([]),
  density_kg_m3: positive.optional(),
  hardness_ShoreA: z.number().min(0).max(100).optional(),
  filler: filler.optional(),
  reference: z.boolean().default(false),
  deformation: deformation.optional(),
  batchOf: text.optional(),
});

/** What a person says of the files that a glob names, where the reader cannot tell. */
const fileSettings = z.strictObject({
  sample: text.optional(),
  deformation: deformation.optional(),
  frequency_Hz: positive.optional(),
  temperature_C: temperature_C.optional(),
  rigidReading_MPa: positive.optional(),
  decimalMark: z.enum([".", ","]).optional(),
  ignoreRows: z
    .array(
      z.union([
        z.int().positive(),
        z
          .string()
          .regex(
            /^\s*[1-9]\d*\s*(?:-|–|to)\s*[1-9]\d*\s*$/,
            'expected a line such as 12, or a range such as "12-40"',
          ),
      ]),
    )
    .optional(),
  ignoreColumns: z.array(z.union([text, z.int().positive()])).optional(),
  columns: z.record(z.string(), text).optional(),
});

const sliding = z.strictObject({
  speed_m_s: positive.default(0.3),
  pressure_MPa: positive.default(0.3),
  texture: text.default("worn asphalt"),
});

const impact = z
  .strictObject({
    method: text.optional(),
    contact: z.enum(["sphere", "flat"]).default("sphere"),
    mass_kg: positive.optional(),
    speed_m_s: positive.optional(),
    energy_J: positive.optional(),
    indenterRadius_mm: positive.optional(),
    diameter_mm: positive.optional(),
    thickness_mm: positive.nullable().optional(),
  })
  .refine(
    ({ speed_m_s, energy_J }) => speed_m_s === undefined || energy_J === undefined,
    "takes speed_m_s or energy_J, not both: one follows from the other and the mass",
  )
  .refine(
    (value) =>
      value.contact === "sphere"
        ? value.diameter_mm === undefined
        : value.indenterRadius_mm === undefined &&
          value.diameter_mm !== undefined &&
          (value.thickness_mm ?? null) !== null &&
          value.mass_kg !== undefined &&
          (value.speed_m_s ?? value.energy_J) !== undefined,
    "needs, for contact: flat, the face's diameter_mm, the pad's thickness_mm, mass_kg, and speed_m_s or energy_J; for a sphere indenterRadius_mm",
  );

const use = z.strictObject({
  name: text.optional(),
  temperature_C,
  sliding: sliding.nullable().optional(),
  impact: impact.nullable().optional(),
});

const texture = z
  .strictObject({
    name: text,
    source: text.optional(),
    rmsHeight_mm: positive.optional(),
    hurstExponent: z.number().gt(0).max(1).optional(),
    q0_per_m: positive.optional(),
    q1_per_m: positive.nullable().optional(),
    profile: text.optional(),
  })
  .refine(
    (value) =>
      value.profile !== undefined ||
      (value.rmsHeight_mm !== undefined && value.hurstExponent !== undefined && value.q0_per_m !== undefined),
    "needs rmsHeight_mm, hurstExponent and q0_per_m, or a profile file",
  );

const requirement = z
  .strictObject({
    name: text.optional(),
    quantity: z.enum([
      ...(Object.keys(predictedQuantities) as [PredictedQuantity]),
      ...(Object.keys(measuredQuantities) as [MeasuredQuantity]),
    ]),
    use: text.optional(),
    atLeast: z.number().optional(),
    atMost: z.number().optional(),
    verdict: z.enum(["rubbery", "leathery", "glassy"]).optional(),
  })
  .refine(
    ({ quantity, verdict, atLeast, atMost }) =>
      quantity === "verdict"
        ? verdict !== undefined && atLeast === undefined && atMost === undefined
        : verdict === undefined && (atLeast !== undefined || atMost !== undefined),
    "needs atLeast or atMost, in the quantity's own unit; of the quantity verdict it needs verdict: rubbery or leathery",
  );

/** The shape of a study file; a key that stands nowhere in it is refused. */
export const studyFileSchema = z.strictObject({
  title: text.optional(),
  compounds: z.array(compound).default([]),
  uses: z.array(use).min(1).optional(),
  textures: z.array(texture).default([]),
  superposition: z
    .strictObject({
      referenceTemperature_C: temperature_C.nullable().optional(),
      verticalShift: z.enum(["auto", "off", "density-temperature", "fitted"]).optional(),
      expansion_per_K: z.number().min(0).max(0.01).optional(),
      law: z.enum(["auto", "wlf", "arrhenius"]).optional(),
      assumedConstants: z.strictObject({ name: text.optional(), c1: positive, c2_K: positive }).optional(),
      draws: z.int().min(0).max(2000).optional(),
    })
    .default({}),
  verdict: z
    .strictObject({
      glassyBorder_K: z.number().min(-100).max(100).optional(),
      leatheryBorder_K: z.number().min(-100).max(100).optional(),
    })
    .default({}),
  uncertainty: z
    .strictObject({
      temperature_K: z.number().min(0).max(20).optional(),
      modulus: z.number().min(0).max(1).optional(),
    })
    .default({}),
  limits: z
    .strictObject({
      reboundMinimum: z.number().min(0).max(1).optional(),
      frictionMinimum: z.number().min(0).optional(),
      glassTransitionDifference_K: positive.optional(),
      tanDeltaDifference: positive.optional(),
      reboundDifference: positive.optional(),
    })
    .default({}),
  requirements: z.array(requirement).default([]),
  fillerSeries: z.array(z.strictObject({ name: text, compounds: z.array(text).min(2) })).default([]),
  columns: z.record(text, z.record(z.string(), text)).default({}),
  files: z.record(text, fileSettings).default({}),
  seed: z.int().min(0).max(2147483647).default(1),
});

/** A study file as read, defaults filled in. */
export type StudyFile = z.infer<typeof studyFileSchema>;

/** What a study file may say: the settings as the report and the page show them and write them out again. */
export type StudySettings = z.input<typeof studyFileSchema>;
