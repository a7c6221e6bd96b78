import { existsSync } from "node:fs";
import { basename, dirname, join, relative, sep } from "node:path";
import { describeReading } from "../io/describe-reading.js";
import { printable } from "../report/terminal-summary.js";
import { loadStudy } from "./load-study.js";
import { readInput } from "./read-inputs.js";

/** `frostline inspect`: how one file was read. @returns the exit code */
export async function inspectCommand(file: string, options: { study?: string }): Promise<number> {
  const beside = ["study.yaml", "study.yml"]
    .map((name) => join(dirname(file), name))
    .find((path) => existsSync(path));
  const studyFile = options.study ?? beside ?? null;
  const study = await loadStudy(studyFile);
  if (!study.ok) {
    process.stderr.write(`frostline: [${study.problem.code}] ${printable(study.problem.message)}\n`);
    return 2;
  }
  const path =
    studyFile === null
      ? basename(file)
      : relative(dirname(studyFile), file).split(sep).join("/") || basename(file);
  const input = await readInput({ path, file }, study.value.columns);
  if (input.reading === null) {
    const { code, message, line, column } = input.problem!;
    const place = line ? `:${line}${column ? `:${column}` : ""}` : "";
    process.stdout.write(`${printable(file)}${place}: rejected [${code}]\n  ${printable(message)}\n`);
    return 2;
  }
  process.stdout.write(`${describeReading(input.reading, path)}\n`);
  return 0;
}
