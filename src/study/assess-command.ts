import { join, relative, resolve } from "node:path";
import type { Assessment } from "../report/assessment.js";
import { printable, terminalSummary } from "../report/terminal-summary.js";
import { assess } from "./assess.js";
import { outputFiles } from "./output-files.js";
import { progressLine } from "./progress-line.js";
import { writeOutputs } from "./write-outputs.js";

export interface AssessCommandOptions {
  out: string;
  study?: string;
  workers?: number;
  failOn?: string[];
  quiet?: boolean;
  version: string;
}

/** `frostline assess`: progress on stderr, results on stdout. @returns the exit code */
export async function assessCommand(paths: string[], options: AssessCommandOptions): Promise<number> {
  const progress = progressLine(process.stderr, options.quiet ?? false);
  const outcome = await assess(paths, {
    outputFolder: options.out,
    studyFile: options.study ?? null,
    workers: options.workers ?? null,
    version: options.version,
    onProgress: progress.show,
  });
  progress.end();
  if (!outcome.ok) {
    for (const { code, message } of outcome.problems)
      process.stderr.write(`frostline: [${code}] ${printable(message)}\n`);
    process.stderr.write("frostline: nothing usable was found; nothing was written.\n");
    return 2;
  }
  const problem = await writeOutputs(options.out, outputFiles(outcome.assessment));
  if (problem !== null) {
    process.stderr.write(`frostline: [${problem.code}] ${printable(problem.message)}\n`);
    return 2;
  }
  const shown = (name: string) => relative(process.cwd(), join(resolve(options.out), name)) || name;
  process.stdout.write(
    `${terminalSummary(outcome.assessment)}\n\nreport   ${shown("report.html")}\nresults  ${shown("results.json")}\ntables   ${shown("tables")}\n`,
  );
  return exitCode(outcome.assessment, options.failOn ?? []);
}

function exitCode({ results }: Assessment, failOn: string[]): number {
  // A verdict that may be glassy fails the gate as well: it is there to stop what is not known to be safe.
  const glassy = results.compounds.some(({ outlooks }) =>
    outlooks.some(({ cold }) => cold?.verdict === "glassy" || cold?.verdict === "glassy or leathery"),
  );
  const rejected = results.inputs.some(({ status }) => status === "rejected");
  return (failOn.includes("glassy") && glassy) || (failOn.includes("rejected") && rejected) ? 1 : 0;
}
