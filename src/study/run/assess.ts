import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import type { Problem } from "../../io/problem.js";
import type { Assessment } from "../../report/assessment.js";
import { findInputs } from "../inputs/find-inputs.js";
import { exportsAmong, type GatheredInputs, groupsOf, nothingUsable } from "../inputs/gathered-inputs.js";
import type { GroupedCompound } from "../inputs/group-compounds.js";
import type { InputAsRead } from "../inputs/input-reading.js";
import { readInput } from "../inputs/read-inputs.js";
import { loadStudy } from "../study-file/load-study.js";
import type { Study } from "../study-file/study.js";
import { assessCompound, type CompoundAssessment } from "./assess-compound.js";
import { type Cache, hashOf, noCache } from "./cache.js";
import { concludeAssessment, tasksOf } from "./conclude-assessment.js";

export interface AssessOptions {
  outputFolder: string;
  studyFile: string | null;
  /** Worker threads for the fits; the results do not depend on it. Null: one a core. */
  workers: number | null;
  version: string;
  onProgress?: (progress: Progress) => void;
  /** What was computed before; by default nothing is kept. */
  cache?: Cache;
}

export interface Progress {
  stage: "reading" | "fitting";
  done: number;
  total: number;
  name: string;
  /** How much of the file at hand has been read: 0 at its start, more only where it is large. */
  share?: number;
}

export type AssessOutcome = { ok: true; assessment: Assessment } | { ok: false; problems: Problem[] };

/**
 * The main job: from paths to an assessment. Nothing is written and no input is changed.
 * @example (await assess(["no such folder"], { outputFolder: "report", studyFile: null, workers: 1, version: "0.1.0" })).problems[0].code // "study.no-such-path"
 */
export async function assess(paths: string[], options: AssessOptions): Promise<AssessOutcome> {
  const gathered = await gatherInputs(paths, options);
  return gathered.ok ? assessInputs(gathered.value, options) : gathered;
}

/** Finds and reads everything. */
export async function gatherInputs(
  paths: string[],
  options: AssessOptions,
): Promise<{ ok: true; value: GatheredInputs } | { ok: false; problems: Problem[] }> {
  const { found, problems } = await findInputs(paths, options.outputFolder);
  if (found === null) return { ok: false, problems };
  const study = await loadStudy(options.studyFile ?? found.study);
  if (!study.ok) return { ok: false, problems: [study.problem] };
  const inputs: InputAsRead[] = [];
  const exports = exportsAmong(found, study.value);
  for (const [i, input] of exports.entries()) {
    const tell = (share: number) =>
      options.onProgress?.({ stage: "reading", done: i, total: exports.length, name: input.path, share });
    tell(0);
    inputs.push(await readInput(input, study.value.columns, options.cache, tell));
  }
  return { ok: true, value: { found: { notices: found.notices }, inputs, study: study.value } };
}

/** The same from inputs already read. */
export async function assessInputs(
  gathered: GatheredInputs,
  options: Pick<AssessOptions, "workers" | "version" | "onProgress" | "cache">,
): Promise<AssessOutcome> {
  const groups = groupsOf(gathered);
  if (groups.length === 0) return { ok: false, problems: nothingUsable(gathered.inputs) };
  const assessed = await assessGroups(groups, gathered.study, options);
  return { ok: true, assessment: concludeAssessment(gathered, groups, assessed, options.version) };
}

/** The fits and predictions of each compound, by worker threads where there are several. */
export async function assessGroups(
  groups: GroupedCompound[],
  study: Study,
  { workers, onProgress, cache = noCache }: Pick<AssessOptions, "workers" | "onProgress" | "cache">,
): Promise<CompoundAssessment[]> {
  const tasks = tasksOf(groups, study);
  const keys = cache === noCache ? [] : tasks.map(hashOf);
  const assessed = await Promise.all(keys.map((key) => cache.get("compounds", key)));
  const missing = tasks.map((_, i) => i).filter((i) => assessed[i] === undefined);
  const threads = Math.min(workers ?? availableParallelism(), missing.length);
  let done = 0;
  const finish = async (i: number, assessment: CompoundAssessment) => {
    onProgress?.({ stage: "fitting", done: done++, total: missing.length, name: tasks[i].material.compound });
    assessed[i] = assessment;
    if (keys.length > 0) await cache.put("compounds", keys[i], assessment);
  };
  // The worker's file is there only once the program is bundled.
  if (threads <= 1 || !import.meta.url.endsWith(".js")) {
    for (const i of missing) await finish(i, assessCompound(tasks[i]));
    return assessed as CompoundAssessment[];
  }
  const { Tinypool } = await import("tinypool");
  const pool = new Tinypool({
    filename: fileURLToPath(new URL("./compound-worker.js", import.meta.url)),
    minThreads: threads,
    maxThreads: threads,
  });
  try {
    await Promise.all(missing.map(async (i) => finish(i, await pool.run(tasks[i]))));
  } finally {
    await pool.destroy();
  }
  return assessed as CompoundAssessment[];
}
