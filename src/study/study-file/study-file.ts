import { LineCounter, parseDocument } from "yaml";
import { type StudyFile, studyFileSchema } from "../../report/results/study-file-schema.js";
import type { Outcome } from "../../words/notice.js";
import type { studyCodes } from "../study-codes.js";
import { contradiction } from "./study-contradiction.js";
import { problemOf } from "./study-file-problem.js";

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

function failed(
  code: keyof typeof studyCodes,
  message: string,
  line?: number,
  column?: number,
): Outcome<StudyFile> {
  return { ok: false, problem: { code, message, line, column } };
}
