import { printable } from "../../report/terminal/terminal-summary.js";
import type { Problem } from "../../words/notice.js";

const nothingUsable = 2;
/** A defect, an output that could not be written, a partial result that is none. */
const failed = 3;
const failures = new Set(["study.cannot-write", "study.not-a-partial", "study.failed"]);

/**
 * Says on stderr why a command did not do its work.
 * @param wouldWrite whether it would have written something: then it is said that it has not
 * @returns the exit code
 */
export function reportProblems(problems: readonly Problem[], wouldWrite = true): number {
  for (const { code, message } of problems)
    process.stderr.write(`frostline: [${code}] ${printable(message)}\n`);
  if (wouldWrite) process.stderr.write("frostline: nothing was written.\n");
  return problems.some(({ code }) => failures.has(code)) ? failed : nothingUsable;
}
