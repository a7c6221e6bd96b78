import { type Document, isMap, isNode, LineCounter, parseDocument } from "yaml";
import * as z from "zod";
import type { Outcome, Problem } from "../io/problem.js";
import { nearestOf } from "./nearest.js";
import type { studyCodes } from "./study-codes.js";

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

const sliding = z.strictObject({
  speed_m_s: positive.default(0.3),
  pressure_MPa: positive.default(0.3),
  texture: text.default("worn asphalt"),
});

const impact = z.strictObject({
  method: text.default("ISO 4662 pendulum"),
  mass_kg: positive.optional(),
  speed_m_s: positive.optional(),
  indenterRadius_mm: positive.optional(),
  thickness_mm: positive.nullable().optional(),
});

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
  fillerSeries: z.array(z.strictObject({ name: text, compounds: z.array(text).min(2) })).default([]),
  columns: z.record(text, z.record(z.string(), text)).default({}),
  seed: z.int().min(0).max(2147483647).default(1),
});

export type StudyFile = z.infer<typeof studyFileSchema>;

/**
 * Reads a study file. An error names the key, the line and what would be right; unknown keys are errors with
 * the nearest known one. Anchors and aliases are held to a small number, so that a file cannot explode.
 * @example parseStudyFile("uses:\n  - temperatur_C: 5").problem.code // "study.unknown-key"
 */
export function parseStudyFile(content: string): Outcome<StudyFile> {
  const lines = new LineCounter();
  const document = parseDocument(content, { lineCounter: lines, prettyErrors: false });
  const [error] = document.errors;
  if (error) {
    const { line, col } = lines.linePos(error.pos[0]);
    return failed("study.not-yaml", `not valid YAML: ${error.message}. Mend this line.`, line, col);
  }
  let value: unknown;
  try {
    value = document.toJS({ maxAliasCount: 100 }) ?? {};
  } catch (thrown) {
    return failed(
      "study.not-yaml",
      `${(thrown as Error).message}. Write the values out instead of using aliases.`,
    );
  }
  const parsed = studyFileSchema.safeParse(value);
  if (!parsed.success) {
    const { issues } = parsed.error;
    // A misspelt key is also a missing one; its spelling is what helps.
    const issue = issues.find(({ code }) => code === "unrecognized_keys") ?? issues[0];
    return { ok: false, problem: problemOf(issue, document, lines) };
  }
  const problem = contradiction(parsed.data, document, lines);
  return problem === null ? { ok: true, value: parsed.data } : { ok: false, problem };
}

function problemOf(issue: z.core.$ZodIssue, document: Document, lines: LineCounter): Problem {
  const path = issue.path as (string | number)[];
  const key = path.length > 0 ? keyName(path) : "the study";
  if (issue.code === "unrecognized_keys") {
    const unknown = issue.keys[0];
    const known = knownKeysAt(path);
    const nearest = nearestOf(unknown, known);
    const hint = nearest ? `did you mean "${nearest}"?` : `known keys here: ${known.join(", ")}.`;
    const where = placeOf(document, lines, [...path, unknown], true);
    const inside = path.length > 0 ? ` in ${key}` : "";
    return { code: "study.unknown-key", message: `unknown key "${unknown}"${inside}; ${hint}`, ...where };
  }
  const found = document.getIn(path);
  const shown = isNode(found) ? found.toString().trim() : JSON.stringify(found);
  const place = found === undefined ? path.slice(0, -1) : path;
  const message =
    found === undefined
      ? `${key} is missing; expected ${expectation(issue)}.`
      : `${key} is ${shortened(shown)}; expected ${expectation(issue)}.`;
  return { code: "study.wrong-value", message, ...placeOf(document, lines, place, false) };
}

const kindWords: Record<string, string> = {
  int: "a whole number",
  array: "a list",
  object: "keys with values",
  record: "keys with values",
  boolean: "true or false",
  number: "a number",
  string: "a text",
};

function expectation(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case "invalid_type":
      return kindWords[issue.expected] ?? issue.expected;
    case "invalid_value":
      return `one of ${issue.values.map(String).join(", ")}`;
    case "too_small":
      return `${issue.origin === "array" ? "a list with at least" : issue.inclusive ? "at least" : "more than"} ${issue.minimum}${issue.origin === "array" ? " entries" : ""}`;
    case "too_big":
      return `at most ${issue.maximum}`;
    case "invalid_union":
      return "another kind of value";
    default:
      return issue.message;
  }
}

/** The keys of the schema at a path of keys and list places. */
function knownKeysAt(path: (string | number)[]): string[] {
  let schema: unknown = studyFileSchema;
  for (const step of path) {
    schema = unwrapped(schema);
    if (schema instanceof z.ZodObject) schema = schema.shape[step as string];
    else if (schema instanceof z.ZodArray) schema = schema.element;
    else return [];
  }
  schema = unwrapped(schema);
  return schema instanceof z.ZodObject ? Object.keys(schema.shape) : [];
}

function unwrapped(schema: unknown): unknown {
  let inner = schema;
  while (inner instanceof z.ZodOptional || inner instanceof z.ZodNullable || inner instanceof z.ZodDefault) {
    inner = inner.def.innerType;
  }
  return inner;
}

function contradiction(study: StudyFile, document: Document, lines: LineCounter): Problem | null {
  const references = study.compounds.flatMap((each, i) => (each.reference ? [i] : []));
  if (references.length > 1) {
    const names = references.map((i) => study.compounds[i].name).join(" and ");
    return {
      code: "study.two-references",
      message: `${names} are both marked as reference; expected one. Remove "reference" from all but one.`,
      ...placeOf(document, lines, ["compounds", references[1], "reference"], false),
    };
  }
  for (const list of ["compounds", "uses", "textures"] as const) {
    const seen = new Map<string, number>();
    for (const [i, { name }] of (study[list] ?? []).entries()) {
      if (name === undefined) continue;
      if (seen.has(name)) {
        return {
          code: "study.duplicate-name",
          message: `the name "${name}" stands twice under ${list}. Give each its own name.`,
          ...placeOf(document, lines, [list, i, "name"], false),
        };
      }
      seen.set(name, i);
    }
  }
  for (const [c, { name, batchOf }] of study.compounds.entries()) {
    if (batchOf === undefined || study.compounds.some((each) => each.name === batchOf && batchOf !== name))
      continue;
    const nearest = nearestOf(
      batchOf,
      study.compounds.map((each) => each.name).filter((each) => each !== name),
    );
    return {
      code: "study.unknown-compound",
      message: `batchOf is "${batchOf}", which is no other compound of the study${nearest ? `; did you mean "${nearest}"?` : "."}`,
      ...placeOf(document, lines, ["compounds", c, "batchOf"], false),
    };
  }
  for (const [s, series] of study.fillerSeries.entries()) {
    for (const [c, name] of series.compounds.entries()) {
      if (study.compounds.some((each) => each.name === name)) continue;
      const nearest = nearestOf(
        name,
        study.compounds.map((each) => each.name),
      );
      return {
        code: "study.unknown-compound",
        message: `the filler series "${series.name}" names "${name}", which is not under compounds${nearest ? `; did you mean "${nearest}"?` : "."}`,
        ...placeOf(document, lines, ["fillerSeries", s, "compounds", c], false),
      };
    }
  }
  return null;
}

/** Line and column of a value, or of its key. */
function placeOf(
  document: Document,
  lines: LineCounter,
  path: (string | number)[],
  ofKey: boolean,
): { line?: number; column?: number } {
  let node: unknown = document.getIn(path, true);
  if (ofKey) {
    const parent = path.length > 1 ? document.getIn(path.slice(0, -1), true) : document.contents;
    const last = path[path.length - 1];
    if (isMap(parent)) node = parent.items.find((item) => String(item.key) === String(last))?.key ?? node;
  }
  if (!isNode(node) || !node.range) return {};
  const { line, col } = lines.linePos(node.range[0]);
  return { line, column: col };
}

/** "uses[2].sliding.speed_m_s", places in lists counted from 1. */
function keyName(path: (string | number)[]): string {
  return path
    .map((step, i) => (typeof step === "number" ? `[${step + 1}]` : i === 0 ? step : `.${step}`))
    .join("");
}

function shortened(value: string): string {
  return value.length > 60 ? `${value.slice(0, 57)}…` : value;
}

function failed(
  code: keyof typeof studyCodes,
  message: string,
  line?: number,
  column?: number,
): Outcome<StudyFile> {
  return { ok: false, problem: { code, message, line, column } };
}
