import { type Document, isMap, isNode, type LineCounter } from "yaml";
import * as z from "zod";
import { studyFileSchema } from "../../report/results/study-file-schema.js";
import type { Problem } from "../../words/notice.js";
import { nearestOf } from "./nearest.js";

/** What the schema found wrong, in words: the key, its line, what stands there and what would be right. */
export function problemOf(issue: z.core.$ZodIssue, document: Document, lines: LineCounter): Problem {
  const path = issue.path as (string | number)[];
  const key = path.length > 0 ? keyName(path) : "the study";
  if (issue.code === "unrecognized_keys") {
    const unknown = issue.keys[0];
    const known = knownKeysAt(path);
    const nearest = nearestOf(unknown, known);
    // YAML parts "{ speed_m_s: 0,3 }" at the comma, and what follows it becomes a key.
    const hint = /^\d+$/.test(unknown)
      ? "is it the rest of a number with a decimal comma? Write 0.3, not 0,3."
      : nearest
        ? `did you mean "${nearest}"?`
        : `known keys here: ${known.join(", ")}.`;
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
      : `${key} is ${shortened(shown)}; expected ${expectation(issue)}${exampleFor(issue, found)}.`;
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

/** How the value that stands there is to be written, where its meaning is plain. */
function exampleFor(issue: z.core.$ZodIssue, found: unknown): string {
  if (issue.code !== "invalid_type") return "";
  if (issue.expected === "array" && typeof found === "string" && found.length < 40)
    return `, such as [${JSON.stringify(found)}]`;
  if (issue.expected === "number" && typeof found === "string" && /^[-+]?\d+,\d+$/.test(found))
    return ` with a decimal point, ${found.replace(",", ".")}`;
  return "";
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

/** Line and column of a value, or of its key. */
export function placeOf(
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
