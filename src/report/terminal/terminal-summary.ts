import { verdictRule } from "../../predict/cold/border-words.js";
import { cautions } from "../../words/cautions.js";
import { fixed } from "../../words/quantity-text.js";
import { hanging, wrapped } from "../../words/wrapped.js";
import type { Assessment } from "../assessment.js";
import { commonDoubts, doubtsOf, ownDoubts } from "../doubts.js";
import type { Results, ResultsCompound } from "../results/results.js";

/** A terminal is this wide unless somebody made it wider. */
const columnsShown = 80;

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
  const columns = uses.map(({ temperature_C }) => degrees(temperature_C));
  const cells = results.compounds.map((compound) =>
    compound.outlooks.map((outlook) => {
      const verdict = outlook.cold?.verdict ?? "not determined";
      return `${shapes[verdict]} ${short(verdict)}${doubtsOf(compound, outlook).length > 0 ? " !" : ""}`;
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
    "● rubbery   ◆ leathery   ■ glassy   ◑ ◈ straddles a border   ? not determined",
    ...wrapped(`At the contact's frequency ${verdictRule(results.verdictBorders)}.`, columnsShown),
  );
  lines.push(
    ...uses.map((use, i) => `${columns[i].padStart(8)}  ${use.name}${use.assumed ? " (assumed use)" : ""}`),
  );
  lines.push(...doubtLines(results.compounds), ...undeterminedLines(results.compounds));
  const rejected = results.inputs.filter(({ status }) => status === "rejected");
  if (rejected.length > 0) {
    lines.push("", `${rejected.length} of ${results.inputs.length} inputs rejected:`);
    for (const { path, problem } of rejected) {
      const place = problem?.line ? `:${problem.line}${problem.column ? `:${problem.column}` : ""}` : "";
      const text = `${printable(path)}${place} [${problem?.code}] ${printable(problem?.message ?? "")}`;
      lines.push(...hanging(text, columnsShown, "  ", "    "));
    }
  }
  const counts = noticeCounts(results.compounds);
  if (counts !== "") lines.push("", `Notices, in full in the report: ${counts}.`);
  lines.push(...decisionLines(results.decision));
  lines.push("", ...wrapped(cautions.screening, columnsShown));
  return lines.join("\n");
}

/** What the study asks, compound by compound, and the choice; nothing where it asks nothing. */
function decisionLines(decision: Results["decision"]): string[] {
  if (decision === null) return [];
  const lines = ["", `What the study asks, ${decision.requirements.length} in all:`];
  for (const { name, meets } of decision.compounds) {
    const answers = (["fails", "open", "unknown"] as const).flatMap((word) => {
      const which = meets.filter(({ answer }) => answer === word).map(({ requirement }) => requirement);
      return which.length === 0 ? [] : [`${word}: ${which.join(", ")}`];
    });
    const text = `${name}: ${answers.length === 0 ? "meets all" : answers.join("; ")}`;
    lines.push(...hanging(printable(text), columnsShown, "  ", "    "));
  }
  lines.push(...leverLines(decision));
  lines.push("", ...wrapped(printable(decision.choice.sentence), columnsShown));
  if (decision.nextTest !== null) {
    const { compound, test, why } = decision.nextTest;
    lines.push(...wrapped(printable(`Next test, ${compound}: ${test} ${why}`), columnsShown));
  }
  return lines;
}

/** What a change of filler would do to the compounds that fail one requirement only; the report has all. */
function leverLines({ compounds, levers }: NonNullable<Results["decision"]>): string[] {
  const nearly = compounds.filter(
    ({ meets }) => meets.filter(({ answer }) => answer === "fails").length === 1,
  );
  const trades = (levers?.trades ?? []).filter((one) => nearly.some(({ name }) => name === one.compound));
  if (trades.length === 0) return [];
  const said = trades.filter(({ series }) => series !== null).map(({ sentence }) => sentence);
  const unsaid = trades.filter(({ series }) => series === null).map(({ compound }) => compound);
  const head =
    "What filler would change where one requirement fails, on straight lines between compounds of this study (mix and test it):";
  return [
    "",
    ...wrapped(head, columnsShown),
    ...[
      ...said,
      ...(unsaid.length === 0 ? [] : [`No series of this study says it of ${unsaid.join(", ")}.`]),
    ].flatMap((text) => hanging(printable(text), columnsShown, "  ", "    ")),
  ];
}

/** The footnote of the mark "!": why each compound's verdicts are to be read with care. */
function doubtLines(compounds: ResultsCompound[]): string[] {
  const lines = compounds.flatMap((compound) => {
    const common = commonDoubts(compound).map(({ words }) => words);
    const own = compound.outlooks.flatMap((outlook) =>
      ownDoubts(compound, outlook).map(({ words }) => ({ words, at: degrees(outlook.temperature_C) })),
    );
    const further = [...new Set(own.map(({ words }) => words))].map(
      (words) =>
        `${words} (${[...new Set(own.filter((one) => one.words === words).map(({ at }) => at))].join(", ")})`,
    );
    const reasons = [...common, ...further];
    return reasons.length === 0
      ? []
      : hanging(`${printable(compound.name)}: ${reasons.join("; ")}`, columnsShown, "  ", "    ");
  });
  return lines.length === 0 ? [] : ["", "! in doubt, to be read with care:", ...lines];
}

/** Where a verdict is missing, why, and what to measure. */
function undeterminedLines(compounds: ResultsCompound[]): string[] {
  const lines = compounds.flatMap(({ name, outlooks }) => {
    const unknown = outlooks.filter(({ cold }) => cold === null);
    if (unknown.length === 0) return [];
    const [coldest] = [...unknown].sort((a, b) => a.temperature_C - b.temperature_C);
    const places = [...new Set(unknown.map(({ temperature_C }) => degrees(temperature_C)))].join(", ");
    const why = printable(coldest.verdictMissing ?? "its notices say why.");
    return hanging(`${printable(name)} (${places}): ${why}`, columnsShown, "  ", "    ");
  });
  return lines.length === 0 ? [] : ["", "? not determined, so possibly glassy:", ...lines];
}

function degrees(temperature_C: number): string {
  return `${fixed(temperature_C, Number.isInteger(temperature_C) ? 0 : 1)} °C`;
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
    counts.error > 0 ? `${counts.error} ${counts.error === 1 ? "error" : "errors"}` : "",
    counts.caution > 0 ? `${counts.caution} ${counts.caution === 1 ? "caution" : "cautions"}` : "",
    counts.info > 0 ? `${counts.info} for information` : "",
  ]
    .filter((text) => text !== "")
    .join(", ");
}
