import type { Problem } from "../../io/problem.js";
import type { Assessment } from "../../report/assessment.js";
import { exportsAmong, groupsOf, nothingUsable } from "../inputs/gathered-inputs.js";
import { columnsFor, type InputAsRead } from "../inputs/input-reading.js";
import { concludeAssessment, tasksOf } from "../run/conclude-assessment.js";
import { type NamedProfile, studyFromText } from "../study-file/study-from-text.js";
import type { JobPool } from "./job-pool.js";
import type { SortedFiles } from "./sort-dropped.js";

export interface DropProgress {
  stage: "reading" | "fitting";
  done: number;
  total: number;
  name: string;
}

export type DropOutcome = { ok: true; assessment: Assessment } | { ok: false; problems: Problem[] };

/** From the dropped files to the same assessment that the command line makes of them. */
export async function assessDropped(
  sorted: SortedFiles,
  pool: JobPool,
  version: string,
  onProgress: (progress: DropProgress) => void,
  onRead: (inputs: InputAsRead[]) => void,
): Promise<DropOutcome> {
  const text = sorted.study === null ? "" : await textOf(sorted.study.content);
  if (text === null) {
    const message = `${sorted.study!.path}: the study file cannot be read. Drop it again.`;
    return { ok: false, problems: [{ code: "study.unreadable", message }] };
  }
  const study = await studyFromText(text, sorted.study?.path ?? null, (path) => profileIn(sorted, path));
  if (!study.ok) return { ok: false, problems: [study.problem] };
  const exports = exportsAmong(sorted, study.value);
  let read = 0;
  onProgress({ stage: "reading", done: 0, total: exports.length, name: "" });
  const inputs = await Promise.all(
    exports.map(async (input) => {
      const override = columnsFor(input.path, study.value.columns);
      const reading = await pool.run("read", { input, override });
      onProgress({ stage: "reading", done: ++read, total: exports.length, name: input.path });
      return reading;
    }),
  );
  onRead(inputs);
  const gathered = { found: { notices: sorted.notices }, inputs, study: study.value };
  const groups = groupsOf(gathered);
  if (groups.length === 0) return { ok: false, problems: nothingUsable(inputs) };
  let fitted = 0;
  onProgress({ stage: "fitting", done: 0, total: groups.length, name: "" });
  const assessed = await Promise.all(
    tasksOf(groups, study.value).map(async (task) => {
      const assessment = await pool.run("fit", task);
      onProgress({ stage: "fitting", done: ++fitted, total: groups.length, name: task.material.compound });
      return assessment;
    }),
  );
  return { ok: true, assessment: concludeAssessment(gathered, groups, assessed, version) };
}

/** UTF-8 as the command line reads a study: a byte order mark is no part of it. */
async function textOf(content: Blob | null): Promise<string | null> {
  return content?.text().catch(() => null) ?? null;
}

/** A profile beside the study file or below it. */
async function profileIn(sorted: SortedFiles, path: string): Promise<NamedProfile | null> {
  const steps: string[] = [];
  for (const step of path.replaceAll("\\", "/").split("/")) {
    if (step === "..") {
      if (steps.pop() === undefined) return null;
    } else if (step !== "." && step !== "") steps.push(step);
  }
  if (path.startsWith("/")) return null;
  const file = steps.join("/");
  return { file, text: await textOf(sorted.byPath.get(file) ?? null) };
}
