import type { FileSource } from "../inputs/gathered-inputs.js";
import type { FitCompounds } from "../run/assess-from.js";
import { type NamedProfile, studyFromText } from "../study-file/study-from-text.js";
import type { JobPool } from "./job-pool.js";
import type { DroppedInput, SortedFiles } from "./sort-dropped.js";

/** The dropped files, read by the page's workers. */
export function droppedSource(sorted: SortedFiles, pool: JobPool): FileSource<DroppedInput> {
  const { inputs, notices, study } = sorted;
  return {
    inputs,
    notices,
    atOnce: Number.POSITIVE_INFINITY,
    study: async () => {
      const text = study === null ? "" : await textOf(study.content);
      if (text === null) {
        const message = `${study!.path}: the study file cannot be read. Drop it again.`;
        return { ok: false, problem: { code: "study.unreadable", message } };
      }
      return studyFromText(text, study?.path ?? null, (path) => profileIn(sorted, path));
    },
    read: async (input, stated, onShare) => {
      const read = await pool.run("read", { input, stated });
      onShare(1);
      return read;
    },
  };
}

/** Fits the compounds in the page's workers. */
export function fitInPool(pool: JobPool): FitCompounds {
  return (tasks, onDone) =>
    Promise.all(
      tasks.map(async (task) => {
        const assessment = await pool.run("fit", task);
        onDone(task.material.compound, tasks.length);
        return assessment;
      }),
    );
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
