// Writes what the reference of the documentation takes from the program itself: docs/reference/codes.md from the
// tables of codes, and the list of keys in docs/reference/results.md from the schema of results.json.
// With --check nothing is written, and a difference is a failure.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { importText, root } from "./bundler.mjs";

const isCheck = process.argv.includes("--check");
const tables = await importText(`
  export { readerCodes } from "./src/words/codes/reader-codes.js";
  export { fitNoticeCodes } from "./src/words/codes/fit-codes.js";
  export { predictionNotices } from "./src/words/codes/prediction-codes.js";
  export { studyCodes } from "./src/words/codes/study-codes.js";
  export { resultsJsonSchema } from "./src/report/results/results-json-schema.js";
`);

const cell = (text) => text.replaceAll("|", "\\|");
const rows = (codes) =>
  Object.entries(codes).map(
    ([code, { severity, means, whatToDo, told }]) =>
      `| \`${code}\` | ${told === "step" ? "step" : told === "standing" ? "standing caution" : severity} | ${cell(means)} | ${cell(whatToDo)} |`,
  );
const section = (title, intro, codes) => [
  `## ${title}`,
  "",
  intro,
  "",
  "| code | severity | what it means | what to do |",
  "| --- | --- | --- | --- |",
  ...rows(codes),
  "",
];

const codesPage = [
  "# Codes",
  "",
  "Every problem and notice carries a stable code, in `results.json`, in `tables/notices.csv`, in the report and on the terminal. The message beside it names the file, the line and the numbers. Each fact is told once: of a compound, a use or a file where it is theirs, for the study where it holds for several compounds. A *step* is an ordinary part of reading and fitting, told in the evidence of the compound or file (`steps`, `tables/steps.csv`); a *standing caution* is what a method cannot do, whatever the compound (`cautions`). `npm run codes` writes this page from the program's own tables.",
  "",
  ...section(
    "Reading a file",
    "A problem of these codes rejects a file or a table in it; a notice of them says what was assumed.",
    tables.readerCodes,
  ),
  ...section("Fitting", "Notices of the fits, beside the compound they are about.", tables.fitNoticeCodes),
  ...section("Predicting", "Notices of the predictions and comparisons.", tables.predictionNotices),
  ...section("Study file, folders and outputs", "From the study file to the disk.", tables.studyCodes),
];
// Without the blank line that the last section ends with.
put("docs/reference/codes.md", `${codesPage.join("\n").trimEnd()}\n`);

const start = "<!-- keys: written by npm run codes -->";
const end = "<!-- end of keys -->";
const page = readFileSync(join(root, "docs/reference/results.md"), "utf8");
const [before, rest] = page.split(start);
const after = rest?.split(end)[1];
if (after === undefined) throw new Error(`docs/reference/results.md lacks "${start}" or "${end}"`);
const keys = keyRows(tables.resultsJsonSchema(), "");
put(
  "docs/reference/results.md",
  `${before}${start}\n\n| key | type | note |\n| --- | --- | --- |\n${keys.join("\n")}\n\n${end}${after}`,
);

/** One row a key: lists as [], alternatives with null as "or null". */
function keyRows(schema, path) {
  const rows = [];
  for (const [name, value] of Object.entries(schema.properties ?? {})) {
    const optional = schema.required?.includes(name) ? "" : "may be absent";
    const { inner, type } = resolved(value);
    const key = path === "" ? name : `${path}.${name}`;
    const note = [value.description ?? inner.description ?? "", optional].filter(Boolean).join("; ");
    rows.push(`| \`${key}${type.startsWith("list") ? "[]" : ""}\` | ${cell(type)} | ${cell(note)} |`);
    const below = inner.type === "array" ? resolved(inner.items).inner : inner;
    rows.push(...keyRows(below, inner.type === "array" ? `${key}[]` : key));
  }
  return rows;
}

function resolved(schema) {
  const options = schema.anyOf ?? (Array.isArray(schema.type) ? schema.type.map((type) => ({ type })) : null);
  if (options) {
    const kept = options.filter(({ type }) => type !== "null");
    const inner = kept.length === 1 ? kept[0] : { type: kept.map(({ type }) => type).join(" or ") };
    const orNull = kept.length < options.length ? " or null" : "";
    return { inner: { ...inner, ...without(schema) }, type: `${typeWords(inner)}${orNull}` };
  }
  return { inner: schema, type: typeWords(schema) };
}

function without({ anyOf: _anyOf, type: _type, ...rest }) {
  return rest;
}

function typeWords(schema) {
  if (schema.const !== undefined) return `"${schema.const}"`;
  if (schema.enum) return schema.enum.map((value) => JSON.stringify(value)).join(", ");
  if (schema.type === "array") return `list of ${resolved(schema.items).type}`;
  return (
    { object: "keys", integer: "whole number", string: "text", boolean: "true or false" }[schema.type] ??
    schema.type
  );
}

function put(path, text) {
  const file = join(root, path);
  const stored = existsSync(file) ? readFileSync(file, "utf8") : "";
  if (stored === text) return;
  if (isCheck) {
    console.error(`${path} is not what the program says; run \`npm run codes\`.`);
    process.exitCode = 1;
  } else {
    writeFileSync(file, text);
    console.log(`${path} written`);
  }
}
