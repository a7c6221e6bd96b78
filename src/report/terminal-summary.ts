import { formatNumber } from "../io/format.js";
import type { Assessment } from "./assessment.js";
import type { ResultsCompound } from "./results.js";

const shapes: Record<string, string> = {
  rubbery: "●",
  "leathery or rubbery": "◑",
  leathery: "◆",
  "glassy or leathery": "◈",
  glassy: "■",
  "not determined": "?",
};

/** What a terminal shows of an assessment: a matrix of compounds and uses, then what was rejected. */
export function terminalSummary({ results, uses }: Assessment): string {
  const lines: string[] = [];
  const nameWidth = Math.min(28, Math.max(8, ...results.compounds.map(({ name }) => name.length)));
  const columns = uses.map(
    ({ temperature_C }) => `${formatNumber(temperature_C, Number.isInteger(temperature_C) ? 0 : 1)} °C`,
  );
  const cells = results.compounds.map(({ outlooks }) =>
    outlooks.map(({ cold }) => {
      const verdict = cold?.verdict ?? "not determined";
      return `${shapes[verdict]} ${short(verdict)}`;
    }),
  );
  const cellWidth = 2 + Math.max(0, ...[...columns, ...cells.flat()].map((text) => text.length));
  lines.push(`${"".padEnd(nameWidth)}  ${columns.map((text) => text.padEnd(cellWidth)).join("")}`.trimEnd());
  for (const [i, { name }] of results.compounds.entries()) {
    const row = cells[i].map((text) => text.padEnd(cellWidth)).join("");
    lines.push(`${clipped(name, nameWidth)}  ${row}`.trimEnd());
  }
  lines.push(
    "",
    "● rubbery   ◆ leathery (transition zone)   ■ glassy   ◑ ◈ straddles a border   ? not determined",
  );
  lines.push(
    ...uses.map((use, i) => `${columns[i].padStart(8)}  ${use.name}${use.assumed ? " (assumed use)" : ""}`),
  );
  const rejected = results.inputs.filter(({ status }) => status === "rejected");
  if (rejected.length > 0) {
    lines.push("", `${rejected.length} of ${results.inputs.length} inputs rejected:`);
    for (const { path, problem } of rejected) {
      const place = problem?.line ? `:${problem.line}${problem.column ? `:${problem.column}` : ""}` : "";
      lines.push(`  ${printable(path)}${place}  [${problem?.code}] ${printable(problem?.message ?? "")}`);
    }
  }
  const counts = noticeCounts(results.compounds);
  if (counts !== "") lines.push("", `Notices, in full in the report: ${counts}.`);
  lines.push(
    "",
    "A screening prediction, no friction or safety certificate: slip and impact safety need the tests and limits",
    "that local codes and the product's standard ask for, and a qualified person's judgement.",
  );
  return lines.join("\n");
}

function short(verdict: string): string {
  if (verdict === "not determined") return "unknown";
  return verdict.replace("glassy or leathery", "glassy?").replace("leathery or rubbery", "leathery?");
}

function clipped(name: string, width: number): string {
  const text = printable(name);
  return text.length > width ? `${text.slice(0, width - 1)}…` : text.padEnd(width);
}

/** Control characters in a name must not reach a terminal. */
export function printable(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}]/gu, "\uFFFD");
}

function noticeCounts(compounds: ResultsCompound[]): string {
  const counts = { error: 0, caution: 0, info: 0 };
  for (const { notices } of compounds) for (const { severity } of notices) counts[severity]++;
  return [
    counts.error > 0 ? `${counts.error} errors` : "",
    counts.caution > 0 ? `${counts.caution} cautions` : "",
    counts.info > 0 ? `${counts.info} for information` : "",
  ]
    .filter((text) => text !== "")
    .join(", ");
}
