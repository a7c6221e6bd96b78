import type { Notice } from "../../words/notice.js";
import {
  byCodeUnit,
  earlierOutputNotice,
  isHidden,
  isOwnResults,
  isPassedOver,
  outputNames,
  passedOverNotice,
  studyNames,
} from "../inputs/input-names.js";
import type { DroppedFile } from "./dropped-files-of.js";

/** One export, named as the command line names it. */
export interface DroppedInput {
  /** Relative to the base folder, with forward slashes. */
  path: string;
  file: string;
  /** Null where the browser could not open it. */
  content: File | null;
}

export interface SortedFiles {
  inputs: DroppedInput[];
  /** The study file of the base folder, or null. */
  study: { path: string; content: File | null } | null;
  /** An earlier results.json to compare with, or null. */
  since: { path: string; content: File } | null;
  /** Every file dropped, by its path from the base folder. */
  byPath: ReadonlyMap<string, File | null>;
  /** Study files that stand elsewhere than in the base folder. */
  unusedStudies: string[];
  /** Files whose name says that they hold no measurement. */
  passedOver: { path: string; dropped: string }[];
  notices: Notice[];
}

/**
 * Which of the dropped files are read, by the rules of the command line for a folder. The base folder is the
 * one folder that was dropped, or what the dropped files and folders lie in.
 *
 * @param named paths, as dropped, of files that are read whatever their name says
 */
export async function sortDropped(
  dropped: readonly DroppedFile[],
  named: ReadonlySet<string> = new Set(),
): Promise<SortedFiles> {
  const base = commonTop(dropped);
  const files = dropped
    .map(({ path, file }) => ({ dropped: path, path: path.slice(base.length), content: file }))
    .sort((a, b) => byCodeUnit(a.path, b.path));
  const outputs = await outputFolders(files);
  const notices = [...outputs].sort(byCodeUnit).map(earlierOutputNotice);
  const inputs: DroppedInput[] = [];
  const studies: string[] = [];
  const passedOver: SortedFiles["passedOver"] = [];
  let since: SortedFiles["since"] = null;
  for (const { dropped: droppedPath, path, content } of files) {
    const steps = path.split("/");
    const name = steps[steps.length - 1];
    // The top of a dropped folder was named by the one who dropped it.
    const below = base === "" && steps.length > 1 ? steps.slice(1) : steps;
    if (below.some(isHidden) || below.slice(0, -1).includes("node_modules")) continue;
    if (isInOutput(steps, outputs)) continue;
    if (studyNames.includes(name)) {
      studies.push(path);
      continue;
    }
    if (since === null && name.endsWith(".json") && content !== null && (await startsOwnResults(content))) {
      since = { path, content };
      continue;
    }
    if (isPassedOver(name) && !named.has(droppedPath)) passedOver.push({ path, dropped: droppedPath });
    else inputs.push({ path, file: path, content });
  }
  const passed = passedOverNotice(passedOver.map(({ path }) => path));
  if (passed !== null) notices.push(passed);
  const byPath = new Map(files.map(({ path, content }) => [path, content]));
  const studyPath = studyNames.find((name) => byPath.has(name));
  const study = studyPath === undefined ? null : { path: studyPath, content: byPath.get(studyPath) ?? null };
  const unusedStudies = studies.filter((path) => path !== studyPath);
  return { inputs, study, since, byPath, unusedStudies, passedOver, notices };
}

/** "exports/" where all files lie in that one dropped folder, else "". */
function commonTop(dropped: readonly DroppedFile[]): string {
  const tops = new Set(dropped.map(({ path }) => path.slice(0, path.indexOf("/") + 1)));
  const [top] = tops;
  return tops.size === 1 ? top : "";
}

/** Folders into which an earlier run wrote its output: its tables are numbers, but no measurements. */
async function outputFolders(files: { path: string; content: File | null }[]): Promise<Set<string>> {
  const entries = new Map<string, Set<string>>();
  for (const { path } of files) {
    const steps = path.split("/");
    for (let depth = 0; depth < steps.length; depth++) {
      const folder = steps.slice(0, depth).join("/");
      entries.set(folder, (entries.get(folder) ?? new Set()).add(steps[depth]));
    }
  }
  const found = new Set<string>();
  for (const { path, content } of files) {
    const cut = path.lastIndexOf("/");
    const folder = cut < 0 ? "" : path.slice(0, cut);
    if (path.slice(cut + 1) !== "results.json") continue;
    if (!outputNames.every((name) => entries.get(folder)?.has(name))) continue;
    if (content !== null && (await startsOwnResults(content))) found.add(folder);
  }
  return found;
}

async function startsOwnResults(content: File): Promise<boolean> {
  return isOwnResults(
    await content
      .slice(0, 200)
      .text()
      .catch(() => ""),
  );
}

function isInOutput(steps: string[], outputs: ReadonlySet<string>): boolean {
  return steps.some(
    (step, depth) => outputNames.includes(step) && outputs.has(steps.slice(0, depth).join("/")),
  );
}
