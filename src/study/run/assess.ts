import type { EarlierResults } from "../../report/results/changes-schema.js";
import type { Problem } from "../../words/notice.js";
import { folderSource } from "../inputs/folder-source.js";
import type { GatheredInputs } from "../inputs/gathered-inputs.js";
import { type AssessOutcome, assessFrom, gather, type Progress } from "./assess-from.js";
import type { Cache } from "./cache.js";
import { fitInThreads } from "./fit-in-threads.js";

export interface AssessOptions {
  outputFolder: string;
  studyFile: string | null;
  /** Worker threads for the fits; the results do not depend on it. Null: one a core. */
  workers: number | null;
  version: string;
  /** Results of an earlier run to compare with. */
  since?: EarlierResults | null;
  onProgress?: (progress: Progress) => void;
  /** Fits computed before; by default nothing is kept. */
  cache?: Cache;
}

/**
 * The main job: from paths to an assessment. Nothing is written and no input is changed.
 * @example (await assess(["no such folder"], { outputFolder: "report", studyFile: null, workers: 1, version: "0.1.0" })).problems[0].code // "study.no-such-path"
 */
export async function assess(paths: string[], options: AssessOptions): Promise<AssessOutcome> {
  const source = await folderSource(paths, options);
  if (!source.ok) return source;
  return assessFrom(source.value, fitInThreads(options.workers, options.cache), options);
}

/** Finds and reads everything. */
export async function gatherInputs(
  paths: string[],
  options: AssessOptions,
): Promise<{ ok: true; value: GatheredInputs } | { ok: false; problems: Problem[] }> {
  const source = await folderSource(paths, options);
  if (!source.ok) return source;
  const gathered = await gather(source.value, options);
  return gathered.ok ? gathered : { ok: false, problems: [gathered.problem] };
}
