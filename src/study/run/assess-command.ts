import { join } from "node:path";
import type { Assessment } from "../../report/assessment.js";
import type { EarlierResults } from "../../report/results/changes-schema.js";
import { terminalSummary } from "../../report/terminal/terminal-summary.js";
import type { Outcome } from "../../words/notice.js";
import { groupsOf, nothingUsable } from "../inputs/gathered-inputs.js";
import { bytesOfFile } from "../inputs/regular-file.js";
import { outputFiles } from "../outputs/output-files.js";
import { writeOutputs } from "../outputs/write-outputs.js";
import { shownPath } from "../study-file/shown-path.js";
import { type AssessOptions, assess, gatherInputs } from "./assess.js";
import { toldOf } from "./assess-from.js";
import { cacheOfOutput } from "./cache.js";
import { tasksOf } from "./conclude/conclude-assessment.js";
import { earlierResults } from "./conclude/earlier-results.js";
import { fitInThreads } from "./fit-in-threads.js";
import { occurredOf, undeterminedWarning } from "./gate/fail-on.js";
import type { FailOn } from "./gate/fail-on-words.js";
import { openFile } from "./open-file.js";
import { isInShare, jobOf, mergePartials, type PartialResult, parsePartial, partialText } from "./partial.js";
import { progressLine } from "./progress/progress-line.js";
import { reportProblems } from "./report-problems.js";

export interface AssessCommandOptions {
  out: string;
  study?: string;
  workers?: number;
  failOn?: FailOn[];
  quiet?: boolean;
  format?: string[];
  /** An earlier results.json to compare with. */
  since?: string;
  /** Whether the report is shown when it is done. */
  open?: boolean;
  /** False: nothing is taken from the output folder's cache or put there. */
  cache?: boolean;
  /** One share of the job instead of all of it. */
  part?: { part: number; of: number };
  version: string;
}

/** `frostline assess`: progress on stderr, results on stdout. @returns the exit code */
export async function assessCommand(paths: string[], options: AssessCommandOptions): Promise<number> {
  const since = await earlierOf(options);
  if (!since.ok) return reportProblems([since.problem]);
  const progress = progressLine(process.stderr, options.quiet ?? false);
  const cache = options.cache === false ? null : await cacheOfOutput(options.out, options.version);
  const assessOptions: AssessOptions = {
    outputFolder: options.out,
    studyFile: options.study ?? null,
    workers: options.workers ?? null,
    version: options.version,
    since: since.value,
    onProgress: progress.show,
    // A run that was killed goes on where it was.
    ...(cache === null ? {} : { cache }),
  };
  if (options.part) {
    const code = await writeShare(paths, options.part, assessOptions);
    progress.end();
    return code;
  }
  const outcome = await assess(paths, assessOptions);
  progress.end();
  if (!outcome.ok) return reportProblems(outcome.problems);
  const code = await finishAssessment(outcome.assessment, options);
  await cache?.prune();
  return code;
}

const mostResults_bytes = 500_000_000;

/** The earlier results that were given; null where none were. */
async function earlierOf({ since }: AssessCommandOptions): Promise<Outcome<EarlierResults | null>> {
  if (since === undefined) return { ok: true, value: null };
  const bytes = bytesOfFile(since, mostResults_bytes);
  if (typeof bytes !== "string") return earlierResults(bytes.toString("utf8"), since);
  return {
    ok: false,
    problem: { code: "study.no-such-path", message: `${since}: ${bytes}. Check the path.` },
  };
}

/** A text of more characters than this the engine cannot hold. */
const mostPartial_bytes = 500_000_000;

/** `frostline merge`: the shares of one job to the same bytes as a single run. @returns the exit code */
export async function mergeCommand(files: string[], options: AssessCommandOptions): Promise<number> {
  const partials: PartialResult[] = [];
  for (const file of files) {
    const bytes = bytesOfFile(file, mostPartial_bytes);
    const parsed: Outcome<PartialResult> =
      typeof bytes === "string"
        ? {
            ok: false,
            problem: { code: "study.no-such-path", message: `${file}: ${bytes}. Check the path.` },
          }
        : parsePartial(bytes.toString("utf8"), file);
    if (!parsed.ok) return reportProblems([parsed.problem]);
    partials.push(parsed.value);
  }
  const since = await earlierOf(options);
  if (!since.ok) return reportProblems([since.problem]);
  const merged = mergePartials(partials, { version: options.version, since: since.value });
  return merged.ok ? finishAssessment(merged.value, options) : reportProblems([merged.problem]);
}

async function writeShare(
  paths: string[],
  share: { part: number; of: number },
  options: AssessOptions,
): Promise<number> {
  const gathered = await gatherInputs(paths, options);
  if (!gathered.ok) return reportProblems(gathered.problems);
  const { inputs, ...rest } = gathered.value;
  const groups = groupsOf(gathered.value);
  if (groups.length === 0) return reportProblems(nothingUsable(gathered.value));
  const mine = groups.map((_, index) => index).filter((index) => isInShare(index, share));
  const tasks = tasksOf(
    mine.map((index) => groups[index]),
    gathered.value.study,
  );
  const assessed = await fitInThreads(options.workers, options.cache)(tasks, toldOf(options.onProgress));
  const partial: PartialResult = {
    schema: "frostline.partial/1",
    version: options.version,
    ...share,
    job: jobOf(gathered.value),
    gathered: rest,
    inputs: inputs.map((input, index) => ({ index, input })).filter(({ index }) => isInShare(index, share)),
    compounds: mine.map((index, i) => ({ index, assessment: assessed[i] })),
  };
  const name = `part-${share.part}-of-${share.of}.json`;
  const problem = await writeOutputs(options.outputFolder, [{ path: name, content: partialText(partial) }]);
  if (problem !== null) return reportProblems([problem]);
  process.stdout.write(`share    ${join(options.outputFolder, name)}\n`);
  return 0;
}

async function finishAssessment(assessment: Assessment, options: AssessCommandOptions): Promise<number> {
  const problem = await writeOutputs(options.out, await outputFiles(assessment, options.format ?? []));
  if (problem !== null) return reportProblems([problem]);
  const shown = (name: string) => shownPath(join(options.out, name));
  process.stdout.write(
    `${terminalSummary(assessment)}\n\nreport   ${shown("report.html")}\nresults  ${shown("results.json")}\ntables   ${shown("tables")}\n`,
  );
  if (options.open) {
    const why = await openFile(join(options.out, "report.html"));
    if (why !== null) process.stderr.write(`frostline: the report is not shown: ${why}. Open it yourself.\n`);
  }
  const failOn = options.failOn ?? [];
  const warning = undeterminedWarning(assessment, failOn);
  if (warning !== null) process.stderr.write(`frostline: ${warning}\n`);
  return occurredOf(assessment, failOn).length > 0 ? 1 : 0;
}
