import type { Notice, Problem, Severity } from "../notice.js";
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

/** Why an input cannot be used; line and column count from 1. */
export function problem(code: Code, message: string, line?: number, column?: number): Problem {
  return {
    code,
    message,
    ...(line === undefined ? {} : { line }),
    ...(column === undefined ? {} : { column }),
  };
}
