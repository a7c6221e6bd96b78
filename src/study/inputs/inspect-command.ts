import { existsSync } from "node:fs";
import { stat } from "node:fs/promises";
import { basename, dirname, join, relative, sep } from "node:path";
import { describeReading } from "../../io/describe-reading.js";
import { printable } from "../../report/terminal/terminal-summary.js";
import type { Problem } from "../../words/notice.js";
import { reportProblems } from "../run/report-problems.js";
import { loadStudy } from "../study-file/load-study.js";
import { type InputAsRead, readOptionsFor } from "./input-reading.js";
import { readInput } from "./read-inputs.js";

/** `frostline inspect`: how files were read, for people or as JSON for programs. @returns the exit code */
export async function inspectCommand(
  files: string[],
  options: { study?: string; json?: boolean },
): Promise<number> {
  const looked: { path: string; input: InputAsRead }[] = [];
  for (const file of files) {
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
    looked.push({ path, input });
    if (!options.json) process.stdout.write(described(file, path, input));
  }
  if (options.json) process.stdout.write(`${JSON.stringify(looked.map(asData), null, 1)}\n`);
  return looked.every(({ input }) => input.reading === null) ? 2 : 0;
}

function described(file: string, path: string, { reading, problem }: InputAsRead): string {
  if (reading !== null) return `${describeReading(reading, path)}\n`;
  const { code, message, line, column } = problem!;
  const place = line ? `:${line}${column ? `:${column}` : ""}` : "";
  return `${printable(file)}${place}: rejected [${code}]\n  ${printable(message)}\n`;
}

/** The same for programs: numbers as plain arrays, what is not a number as null. */
function asData({ path, input }: { path: string; input: InputAsRead }) {
  const { sha256, bytes, reading, problem } = input;
  if (reading === null) return { path, sha256, bytes, status: "rejected", problem };
  const { measurements, ...rest } = reading;
  return {
    path,
    sha256,
    bytes,
    status: "read",
    ...rest,
    measurements: measurements.map((measurement) =>
      Object.fromEntries(
        Object.entries(measurement).map(([key, value]) => [
          key,
          value instanceof Float64Array ? Array.from(value) : value,
        ]),
      ),
    ),
  };
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
