import { existsSync } from "node:fs";
import { stat } from "node:fs/promises";
import { basename, dirname, join, relative, sep } from "node:path";
import { describeReading } from "../../io/describe-reading.js";
import type { Problem } from "../../io/problem.js";
import { printable } from "../../report/terminal/terminal-summary.js";
import { reportProblems } from "../run/report-problems.js";
import { loadStudy } from "../study-file/load-study.js";
import { readOptionsFor } from "./input-reading.js";
import { readInput } from "./read-inputs.js";

/** `frostline inspect`: how one file was read. @returns the exit code */
export async function inspectCommand(file: string, options: { study?: string }): Promise<number> {
  const notOneFile = await whyNotOneFile(file);
  if (notOneFile !== null) return reportProblems([notOneFile], false);
  const beside = ["study.yaml", "study.yml"]
    .map((name) => join(dirname(file), name))
    .find((path) => existsSync(path));
  const studyFile = options.study ?? beside ?? null;
  const study = await loadStudy(studyFile);
  if (!study.ok) return reportProblems([study.problem], false);
  const path =
    studyFile === null
      ? basename(file)
      : relative(dirname(studyFile), file).split(sep).join("/") || basename(file);
  const input = await readInput({ path, file }, readOptionsFor(path, study.value));
  if (input.reading === null) {
    const { code, message, line, column } = input.problem!;
    const place = line ? `:${line}${column ? `:${column}` : ""}` : "";
    process.stdout.write(`${printable(file)}${place}: rejected [${code}]\n  ${printable(message)}\n`);
    return 2;
  }
  process.stdout.write(`${describeReading(input.reading, path)}\n`);
  return 0;
}

/** What cannot be opened for other reasons is said when it is read. */
async function whyNotOneFile(file: string): Promise<Problem | null> {
  try {
    const info = await stat(file);
    if (!info.isDirectory()) return null;
    return {
      code: "study.not-a-file",
      message: `${file}: a folder; expected one file in it. \`frostline assess\` takes a whole folder.`,
    };
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOENT") return null;
    return { code: "study.no-such-path", message: `${file}: no such file. Check the spelling.` };
  }
}
