import type { Assessment } from "../../report/assessment.js";
import type { EarlierResults } from "../../report/results/changes-schema.js";
import type { Outcome, Problem } from "../../words/notice.js";
import {
  exportsAmong,
  type FileSource,
  type GatheredInputs,
  groupsOf,
  nothingUsable,
} from "../inputs/gathered-inputs.js";
import { type InputAsRead, readOptionsFor } from "../inputs/input-reading.js";
import type { CompoundAssessment, CompoundTask } from "./assess-compound.js";
import { concludeAssessment, tasksOf } from "./conclude/conclude-assessment.js";

export interface Progress {
  stage: "reading" | "fitting";
  /** How many are done before the one at hand. */
  done: number;
  total: number;
  name: string;
  /** How much of the file at hand has been read: 0 at its start, more only where it is large. A fit is told of once, when it is done. */
  share?: number;
}

export type AssessOutcome = { ok: true; assessment: Assessment } | { ok: false; problems: Problem[] };

/**
 * Assesses each compound and gives the assessments in the order of the tasks. How many are worked on at once, and
 * whether some were computed before, changes no result.
 *
 * @param onDone told of each compound that was computed, out of how many
 */
export type FitCompounds = (
  tasks: CompoundTask[],
  onDone: (compound: string, total: number) => void,
) => Promise<CompoundAssessment[]>;

export interface JobOptions {
  version: string;
  /** Results of an earlier run to compare with. */
  since?: EarlierResults | null;
  onProgress?: (progress: Progress) => void;
  /** Told of the inputs when all of them are read. */
  onRead?: (inputs: InputAsRead[]) => void;
}

/**
 * The main job, for the command line and the page alike: from the files of a source to an assessment, with the
 * compounds fitted by whoever is passed in. Nothing is written and no input is changed.
 */
export async function assessFrom<Input extends { path: string; file: string }>(
  source: FileSource<Input>,
  fitCompounds: FitCompounds,
  options: JobOptions,
): Promise<AssessOutcome> {
  const gathered = await gather(source, options);
  if (!gathered.ok) return { ok: false, problems: [gathered.problem] };
  options.onRead?.(gathered.value.inputs);
  return assessGathered(gathered.value, fitCompounds, options);
}

/** Reads the study and every input of a source. */
export async function gather<Input extends { path: string; file: string }>(
  source: FileSource<Input>,
  { onProgress }: Pick<JobOptions, "onProgress">,
): Promise<Outcome<GatheredInputs>> {
  const study = await source.study();
  if (!study.ok) return study;
  const exports = exportsAmong(source, study.value);
  let done = 0;
  const inputs = await mapInOrder(exports, source.atOnce, async (input) => {
    const { path } = input;
    const onShare = (share: number) =>
      onProgress?.({ stage: "reading", done, total: exports.length, name: path, share });
    const read = await source.read(input, readOptionsFor(path, study.value), onShare);
    done++;
    return read;
  });
  return { ok: true, value: { found: { notices: source.notices }, inputs, study: study.value } };
}

/** The same from inputs already read. */
export async function assessGathered(
  gathered: GatheredInputs,
  fitCompounds: FitCompounds,
  { version, since, onProgress }: JobOptions,
): Promise<AssessOutcome> {
  const groups = groupsOf(gathered);
  if (groups.length === 0) return { ok: false, problems: nothingUsable(gathered) };
  const assessed = await fitCompounds(tasksOf(groups, gathered.study), toldOf(onProgress));
  return { ok: true, assessment: concludeAssessment(gathered, groups, assessed, { version, since }) };
}

/** Counts the compounds that are done, and tells of each. */
export function toldOf(onProgress: JobOptions["onProgress"]): Parameters<FitCompounds>[1] {
  let done = 0;
  return (name, total) => onProgress?.({ stage: "fitting", done: done++, total, name });
}

/** Applies `work` to each item, at most so many at once, and gives the answers in the items' order. */
export async function mapInOrder<Item, Answer>(
  items: Item[],
  atOnce: number,
  work: (item: Item) => Promise<Answer>,
): Promise<Answer[]> {
  const answers: Answer[] = new Array(items.length);
  let next = 0;
  const hand = async () => {
    while (next < items.length) {
      const index = next++;
      answers[index] = await work(items[index]);
    }
  };
  await Promise.all(Array.from({ length: Math.min(atOnce, items.length) }, hand));
  return answers;
}
