import { pushTo } from "../../numeric/push-to.js";
import { verdictRule } from "../../predict/cold/border-words.js";
import { practicallyNone } from "../../predict/contact/friction.js";
import { unsaidSentence } from "../../predict/decision/lever-words.js";
import { lacksSweep } from "../../predict/outlook-of.js";
import { cautions } from "../../words/cautions.js";
import { sweepAdvice } from "../../words/codes/prediction-codes.js";
import { countText, fixed, percentText } from "../../words/quantity-text.js";
import { hanging, wrapped } from "../../words/wrapped.js";
import type { Assessment } from "../assessment.js";
import { commonDoubts, doubtsOf, ownDoubts } from "../doubts.js";
import { answerOfStudy, bestFirst } from "../html/answer/answer.js";
import { worstFirst } from "../html/answer/ranking.js";
import { contactWords } from "../html/answer/verdict-matrix.js";
import type { Changes } from "../results/changes-schema.js";
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
  "no sweep": "–",
};

/**
 * What a terminal shows of an assessment: compounds and uses in the report's order with verdict, grip and rebound,
 * then doubts, rejected files and the choice.
 */
export function terminalSummary({ results, uses }: Assessment): string {
  const { inputs, verdictBorders, decision } = results;
  const compounds = worstFirst(results.compounds).map((index) => results.compounds[index]);
  const rejected = inputs.filter(({ status }) => status === "rejected");
  const lines = [
    `${countText(compounds.length, "compound")} from ${countText(inputs.length, "file")}${rejected.length > 0 ? `, ${rejected.length} rejected` : ""}`,
    "",
    ...matrixLines(compounds, uses),
    "",
    ...legendLines(compounds),
    ...wrapped(`At the contact's frequency ${verdictRule(verdictBorders)}.`, columnsShown),
    ...useLines(uses),
    ...doubtLines(compounds),
    ...undeterminedLines(compounds),
    ...unsweptLines(compounds),
  ];
  if (rejected.length > 0) {
    lines.push("", `${rejected.length} of ${countText(inputs.length, "file")} rejected:`);
    for (const { path, problem } of rejected) {
      const place = problem?.line ? `:${problem.line}${problem.column ? `:${problem.column}` : ""}` : "";
      const text = `${printable(path)}${place} [${problem?.code}] ${printable(problem?.message ?? "")}`;
      lines.push(...hanging(text, columnsShown, "  ", "    "));
    }
  }
  const counts = noticeCounts(results);
  if (counts !== "") lines.push("", `Notices, in full in the report: ${counts}.`);
  // What is asked stands as in the report: the compounds to choose first.
  const byChoice = bestFirst(answerOfStudy(results, uses)).map((index) => results.compounds[index]);
  lines.push(...changeLines(results.changes), ...decisionLines(decision, byChoice));
  lines.push("", ...wrapped(cautions.screening, columnsShown));
  const hasFrost = compounds.some(({ outlooks }) =>
    outlooks.some(({ grip, temperature_C }) => grip !== null && temperature_C < 0),
  );
  if (hasFrost) lines.push(...wrapped(cautions.frost, columnsShown));
  return lines.join("\n");
}

const coldestFirst = <Of extends { temperature_C: number }>(all: Of[]): Of[] =>
  [...all].sort((a, b) => a.temperature_C - b.temperature_C);

/** What each column is a use of; those that the study leaves to the program share one contact, which is said once. */
function useLines(uses: Assessment["uses"]): string[] {
  const stated = coldestFirst(uses.filter(({ assumed }) => !assumed));
  const assumed = new Map<string, string[]>();
  for (const use of coldestFirst(uses.filter((one) => one.assumed)))
    pushTo(assumed, contactWords(use).replaceAll("\u202f", " "), degrees(use.temperature_C));
  return [
    ...stated.map((use) => `${degrees(use.temperature_C).padStart(8)}  ${printable(use.name)}`),
    ...[...assumed].flatMap(([contact, temperatures]) =>
      wrapped(
        `Use assumed at ${temperatures.join(", ")}, for the study states none: ${contact}.`,
        columnsShown,
      ),
    ),
  ];
}

/** One compound in two lines: the verdicts, and beneath each grip and rebound; as many uses side by side as there is room for. */
function matrixLines(compounds: ResultsCompound[], uses: { temperature_C: number }[]): string[] {
  const nameWidth = Math.min(28, Math.max(8, ...compounds.map(({ name }) => name.length)));
  const heads = coldestFirst(uses).map(({ temperature_C }) => degrees(temperature_C));
  const rows = compounds.map((compound) => {
    const outlooks = coldestFirst(compound.outlooks);
    return {
      name: compound.name,
      verdicts: outlooks.map((outlook) => {
        const verdict = outlook.cold?.verdict ?? (lacksSweep(outlook) ? "no sweep" : "not determined");
        return `${shapes[verdict]} ${short(verdict)}${doubtsOf(compound, outlook).length > 0 ? " !" : ""}`;
      }),
      numbers: outlooks.map(numbersOf),
    };
  });
  const texts = [...heads, ...rows.flatMap(({ verdicts, numbers }) => [...verdicts, ...numbers])];
  const widest = Math.max(0, ...texts.map((text) => text.length));
  // The last cell needs no gap behind it.
  const room = (gap: number) => Math.floor((columnsShown - nameWidth - 2 + gap) / (widest + gap));
  const gap = room(2) < heads.length && room(1) >= heads.length ? 1 : 2;
  const cellWidth = widest + gap;
  const atOnce = Math.max(1, room(gap));
  const line = (name: string, cells: string[]) =>
    `${name}  ${cells.map((text) => text.padEnd(cellWidth)).join("")}`.trimEnd();
  const blocks: string[] = [];
  for (let from = 0; from < heads.length; from += atOnce) {
    const part = (cells: string[]) => cells.slice(from, from + atOnce);
    if (from > 0) blocks.push("");
    blocks.push(line("".padEnd(nameWidth), part(heads)));
    for (const { name, verdicts, numbers } of rows)
      blocks.push(line(clipped(name, nameWidth), part(verdicts)), line("".padEnd(nameWidth), part(numbers)));
  }
  return blocks;
}

/** "×0.45, 77 %": grip relative to the reference, or "µ 0.13" without one, and rebound. */
function numbersOf({ grip, rebound }: ResultsCompound["outlooks"][number]): string {
  const parts: string[] = [];
  if (grip?.relativeToReference !== undefined) parts.push(`×${fixed(grip.relativeToReference.ratio, 2)}`);
  else if (grip !== null) parts.push(`µ ${frictionText(grip.frictionCoefficient)}`);
  if (rebound !== null) parts.push(percentText(rebound.fraction));
  return parts.length === 0 ? "–" : parts.join(", ");
}

/** Two digits where they say something, and a word where friction is practically none. */
function frictionText(coefficient: number): string {
  if (coefficient < practicallyNone) return "none";
  return fixed(coefficient, coefficient < 0.1 ? 3 : 2);
}

function legendLines(compounds: ResultsCompound[]): string[] {
  const reference = compounds.find(({ isReference }) => isReference)?.name;
  const outlooks = compounds.flatMap((compound) => compound.outlooks);
  const hasNone = outlooks.some(({ grip: one }) => one !== null && one.frictionCoefficient < practicallyNone);
  const hasPlain = outlooks.some(({ grip: one }) => one !== null && one.relativeToReference === undefined);
  const grip =
    reference !== undefined && outlooks.some(({ grip: one }) => one?.relativeToReference !== undefined)
      ? `grip relative to ${printable(reference)} (×)${hasPlain ? ", or µ where that is not determined" : ""}`
      : `grip µ${hasNone ? ` (none: practically none, below ${practicallyNone})` : ""}`;
  return [
    "● rubbery   ◆ leathery   ■ glassy   ? unknown: not determined   ! in doubt",
    `◑ leathery?: leathery or rubbery   ◈ glassy?: glassy or leathery${outlooks.some(lacksSweep) ? "   – no verdict" : ""}`,
    ...(outlooks.some((one) => one.grip !== null || one.rebound !== null)
      ? wrapped(`Beneath: ${grip}, rebound.`, columnsShown)
      : []),
  ];
}

/** What the study asks, compound by compound, and the choice; nothing where it asks nothing. */
function decisionLines(decision: Results["decision"], inOrder: ResultsCompound[]): string[] {
  if (decision === null) return [];
  const lines = ["", `What is asked, ${countText(decision.requirements.length, "requirement")}:`];
  for (const { name } of inOrder) {
    const meets = decision.compounds.find((compound) => compound.name === name)?.meets ?? [];
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
  const unsaid = unsaidSentence(
    trades.filter(({ series }) => series === null).map(({ compound }) => compound),
  );
  const head =
    "What filler would change where one requirement fails, on straight lines between compounds of this study (mix and test it):";
  return [
    "",
    ...wrapped(head, columnsShown),
    ...[...said, ...(unsaid === null ? [] : [unsaid])].flatMap((text) =>
      hanging(printable(text), columnsShown, "  ", "    "),
    ),
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

/** Where a verdict is missing, why, and what to measure; compounds that lack the same are named together. */
function undeterminedLines(compounds: ResultsCompound[]): string[] {
  const named = new Map<string, string[]>();
  for (const { name, outlooks } of compounds) {
    const unknown = coldestFirst(outlooks.filter((one) => one.cold === null && !lacksSweep(one)));
    if (unknown.length === 0) continue;
    const places =
      unknown.length === outlooks.length
        ? "each use"
        : [...new Set(unknown.map(({ temperature_C }) => degrees(temperature_C)))].join(", ");
    const why = unknown[0].verdictMissing ?? "its notices say why.";
    pushTo(named, JSON.stringify([places, why.replaceAll(` on ${name} `, " on it ")]), name);
  }
  const lines = [...named].flatMap(([key, names]) => {
    const [places, why] = JSON.parse(key) as [string, string];
    const text = `${names.join(", ")} (${places}): ${names.length === 1 ? why : why.replaceAll(" on it ", " on them ")}`;
    return hanging(printable(text), columnsShown, "  ", "    ");
  });
  return lines.length === 0 ? [] : ["", "? not determined, so possibly glassy:", ...lines];
}

/** Compounds of which only routine properties or rebound were read: no verdict is open there, for none was tried. */
function unsweptLines(compounds: ResultsCompound[]): string[] {
  const names = compounds.filter(({ outlooks }) => outlooks.some(lacksSweep)).map(({ name }) => name);
  if (names.length === 0) return [];
  const has = names.length === 1 ? "1 has" : `${names.length} have`;
  const text = `– ${has} no sweep, so no verdict, and could be glassy: ${names.join(", ")}. ${sweepAdvice}.`;
  return ["", ...hanging(printable(text), columnsShown, "", "  ")];
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

function noticeCounts({ compounds, notices: ofStudy }: Results): string {
  const counts = { error: 0, caution: 0, info: 0 };
  for (const { notices } of [{ notices: ofStudy }, ...compounds])
    for (const { severity } of notices) counts[severity]++;
  return [
    counts.error > 0 ? `${counts.error} ${counts.error === 1 ? "error" : "errors"}` : "",
    counts.caution > 0 ? `${counts.caution} ${counts.caution === 1 ? "caution" : "cautions"}` : "",
    counts.info > 0 ? `${counts.info} for information` : "",
  ]
    .filter((text) => text !== "")
    .join(", ");
}

const mostChanges = 12;

/** What moved since earlier results, the choice and the verdicts first. */
function changeLines(changes: Changes | null): string[] {
  if (changes === null) return [];
  const { sentences } = changes;
  const shown = sentences
    .slice(0, mostChanges)
    .flatMap((text) => hanging(printable(text), columnsShown, "  ", "    "));
  const more = sentences.length - mostChanges;
  return ["", "What changed:", ...shown, ...(more > 0 ? [`  ${more} more in the report.`] : [])];
}
