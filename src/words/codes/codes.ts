import type { CodeMeaning, Notice, Problem, Severity } from "../notice.js";
import { fitNoticeCodes } from "./fit-codes.js";
import { predictionNotices } from "./prediction-codes.js";
import { readerCodes } from "./reader-codes.js";
import { studyCodes } from "./study-codes.js";

/** The one table of codes: each with one severity, what it means and what to do about it. Codes are stable. */
export const codes = { ...readerCodes, ...fitNoticeCodes, ...predictionNotices, ...studyCodes };

export type Code = keyof typeof codes;

/** A code with the severity that the table gives it. */
export function coded<Name extends Code>(code: Name): { severity: Severity; code: Name } {
  return { severity: codes[code].severity, code };
}

/** A notice: the table gives its severity. */
export function notice(code: Code, message: string): Notice {
  return { ...coded(code), message };
}

/**
 * A notice of a fact with the states in which it holds, as its message lists them: notices of the same fact can be
 * told as one.
 * @example noticeIn("predict.rebound-small-strain", "Rebound is too high", ["−20 °C"]).message // "Rebound is too high: −20 °C."
 */
export function noticeIn(code: Code, sentence: string, states: string[], remedy = ""): Notice {
  return {
    ...coded(code),
    message: factText(sentence, states.join("; "), remedy),
    fact: { sentence, states, remedy },
  };
}

/** "Sentence: list. Remedy." */
export function factText(sentence: string, list: string, remedy: string): string {
  return `${sentence}${list === "" ? "" : `: ${list}`}.${remedy === "" ? "" : ` ${remedy}`}`;
}

/** What the table says of a code; undefined where it has no such code. */
export function meaningOf(code: string): CodeMeaning | undefined {
  return (codes as Record<string, CodeMeaning>)[code];
}

/** Why an input cannot be used; line and column count from 1. */
export function problem(code: Code, message: string, line?: number, column?: number): Problem {
  return {
    code,
    message,
    ...(line === undefined ? {} : { line }),
    ...(column === undefined ? {} : { column }),
  };
}
