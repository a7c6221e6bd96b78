import { stat } from "node:fs/promises";
import type { Assessment } from "../../report/assessment.js";
import { countText } from "../../words/quantity-text.js";
import { type FoundInputs, findInputs } from "../inputs/find-inputs.js";
import { exportsAmong } from "../inputs/gathered-inputs.js";
import { byCodeUnit } from "../inputs/input-names.js";
import { type InputAsRead, readOptionsFor } from "../inputs/input-reading.js";
import { readInput } from "../inputs/read-inputs.js";
import { outputFiles } from "../outputs/output-files.js";
import { writeOutputs } from "../outputs/write-outputs.js";
import { assessGathered } from "../run/assess-from.js";
import type { FolderCache } from "../run/cache.js";
import { fitInThreads } from "../run/fit-in-threads.js";
import { occurredOf, undeterminedWarning } from "../run/gate/fail-on.js";
import type { FailOn } from "../run/gate/fail-on-words.js";
import { loadStudy } from "../study-file/load-study.js";
import type { Study } from "../study-file/study.js";
import { type FileState, SettledFiles } from "./settled-files.js";

export interface WatchedFolderOptions {
  out: string;
  study?: string;
  workers?: number;
  poll?: boolean;
  /** How long a file must stand still before it is read. */
  settle: number;
  /** What ends the watch once it occurs in a report that is written. */
  failOn?: FailOn[];
  /** Whether only what is wrong is told. */
  quiet?: boolean;
  version: string;
}

/** Tells of one event. "trouble" is what somebody may have to see to, and that it is over. */
export type Say = (text: string, kind?: "trouble") => void;

/** How often the folder is looked at: while files grow, when nothing announces changes, and in any case. */
const growing_ms = 500;
const polling_ms = 1000;
const retry_ms = 2500;
const anyway_ms = 30_000;

/**
 * A folder and what is known of it: the readings of its settled files, and whether an output is owed. Every
 * look compares the folder with that; nothing depends on which events announced a change.
 */
export class WatchedFolder {
  private readonly settled: SettledFiles;
  private readonly readings = new Map<string, InputAsRead>();
  /** Settled, but not told of yet. */
  private readonly arrived = new Set<string>();
  private studyText: string | null = null;
  private isOwed = true;
  private isPruned = false;
  private isAway = false;
  private lastTrouble = "";
  /** What the watch is to end on and is in the report written last. */
  occurred: FailOn[] = [];

  constructor(
    private readonly folder: string,
    private readonly options: WatchedFolderOptions,
    private readonly cache: FolderCache,
    private readonly say: Say,
  ) {
    this.settled = new SettledFiles(options.settle);
  }

  /**
   * Looks at the folder once and brings the output up to date. Never throws.
   * @param now_ms of a clock that only goes forward
   * @returns how long to wait for a change before the next look
   */
  async look(now_ms: number): Promise<number> {
    try {
      return await this.lookOnce(now_ms);
    } catch (error) {
      // One compound that cannot be computed must not end a watch that is to run all day.
      this.trouble(
        `[study.failed] ${(error as Error).message}; the output is left as it is. Please report this, with the file if you may.`,
      );
      return anyway_ms;
    }
  }

  private async lookOnce(now_ms: number): Promise<number> {
    const { found, problems } = await findInputs([this.folder], this.options.out);
    if (found === null) {
      const why = problems[0]?.message ?? "the folder cannot be read";
      this.trouble(`[${problems[0]?.code}] ${why} Waiting for it to come back.`);
      this.isAway = true;
      return retry_ms;
    }
    if (this.isAway) this.say("the folder is back", "trouble");
    if (this.isAway) this.lastTrouble = "";
    this.isAway = false;
    const { changed, gone, growing } = this.settled.observe(await statesOf(found), now_ms);
    for (const path of changed) this.arrived.add(path);
    for (const path of gone) this.leave(path);
    const study = await this.studyOf(found);
    let isUnreadable = false;
    if (study !== null) {
      isUnreadable = await this.readAll(found, study);
      const isWaiting = this.readings.size === 0 && growing > 0;
      if (this.isOwed && !isWaiting) await this.write(found, study);
    }
    if (growing > 0) return Math.min(growing_ms, this.options.settle);
    if (this.options.poll) return polling_ms;
    return isUnreadable || this.isOwed ? retry_ms : anyway_ms;
  }

  private leave(path: string): void {
    this.arrived.delete(path);
    if (!this.readings.delete(path)) return;
    this.isOwed = true;
    this.say(`− ${path}  left`);
  }

  /** The study as it stands now, or null where it cannot be used; what was read under another is forgotten. */
  private async studyOf(found: FoundInputs): Promise<Study | null> {
    const study = await loadStudy(this.options.study ?? found.study);
    const text = study.ok ? JSON.stringify(study.value) : study.problem.message;
    if (text === this.studyText) return study.ok ? study.value : null;
    if (this.studyText !== null) this.say("study changed");
    this.studyText = text;
    this.isOwed = true;
    if (!study.ok) {
      this.say(`[${study.problem.code}] ${study.problem.message} The output is left as it is.`, "trouble");
      return null;
    }
    this.readings.clear();
    return study.value;
  }

  /** Reads what is new, changed, or could not be opened. @returns whether a file cannot be opened */
  private async readAll(found: FoundInputs, study: Study): Promise<boolean> {
    const exports = exportsAmong(found, study);
    const paths = new Set(exports.map(({ path }) => path));
    for (const path of this.readings.keys()) if (!paths.has(path)) this.readings.delete(path);
    let isUnreadable = false;
    for (const input of exports) {
      const { path } = input;
      if (!this.settled.isSettled(path)) continue;
      const before = this.readings.get(path);
      const isRetried = before?.problem?.code === "study.unreadable-file";
      const isNews = this.arrived.has(path);
      if (before !== undefined && !isNews && !isRetried) continue;
      const reading = await readInput(input, readOptionsFor(path, study), this.cache);
      this.readings.set(path, reading);
      this.arrived.delete(path);
      isUnreadable ||= reading.problem?.code === "study.unreadable-file";
      if (isRetried && reading.problem?.message === before.problem?.message) continue;
      this.isOwed = true;
      if (isNews || isRetried)
        this.say(statusOf(reading, before !== undefined), reading.reading === null ? "trouble" : undefined);
    }
    return isUnreadable;
  }

  private async write(found: FoundInputs, study: Study): Promise<void> {
    const inputs = [...this.readings.values()].sort((a, b) => byCodeUnit(a.path, b.path));
    // What cannot be computed is not tried again before something changes.
    this.isOwed = false;
    const fit = fitInThreads(this.options.workers ?? null, this.cache);
    const outcome = await assessGathered({ found, inputs, study }, fit, this.options);
    if (!outcome.ok) {
      this.trouble("nothing usable yet; the output is left as it is");
      return;
    }
    const problem = await writeOutputs(this.options.out, await outputFiles(outcome.assessment, []));
    if (problem !== null) {
      this.isOwed = true;
      this.trouble(`[${problem.code}] ${problem.message} It is tried again.`);
      return;
    }
    this.lastTrouble = "";
    const { compounds, inputs: all } = outcome.assessment.results;
    const rejected = all.filter(({ status }) => status === "rejected").length;
    this.say(
      `report written: ${countText(compounds.length, "compound")} from ${countText(all.length, "file")}${rejected > 0 ? `, ${rejected} rejected` : ""}`,
    );
    this.judge(outcome.assessment);
    if (!this.isPruned) await this.cache.prune();
    this.isPruned = true;
  }

  private judge(assessment: Assessment): void {
    const { failOn = [] } = this.options;
    this.occurred = occurredOf(assessment, failOn);
    if (this.occurred.length === 0) return;
    const warning = undeterminedWarning(assessment, failOn);
    if (warning !== null) this.say(warning, "trouble");
    const which = this.occurred.map((what) => `--fail-on ${what}`).join(" and ");
    this.say(`${which}: this is so in the report just written, and the watch ends.`, "trouble");
  }

  /** Says what is wrong once, not at every look. */
  private trouble(text: string): void {
    if (text !== this.lastTrouble) this.say(text, "trouble");
    this.lastTrouble = text;
  }
}

function statusOf({ path, reading, problem }: InputAsRead, isKnown: boolean): string {
  if (reading === null) {
    const place = problem?.line ? `:${problem.line}${problem.column ? `:${problem.column}` : ""}` : "";
    return `✗ ${path}${place}  rejected [${problem?.code}] ${problem?.message ?? ""}`;
  }
  const kinds = reading.measurements.map(({ kind }) => kind);
  const counted = [...new Set(kinds)].map((kind) => {
    const count = kinds.filter((each) => each === kind).length;
    return count === 1 ? kind : `${count} × ${kind}`;
  });
  return `${isKnown ? "~" : "+"} ${path}  ${counted.join(", ")}`;
}

/** A file that cannot be looked at is there all the same; reading it says what is wrong with it. */
async function statesOf({ inputs }: FoundInputs): Promise<Map<string, FileState>> {
  const states = new Map<string, FileState>();
  for (const { path, file } of inputs) {
    const info = await stat(file).catch(() => null);
    states.set(path, { size: info?.size ?? -1, modified_ms: info?.mtimeMs ?? 0, inode: info?.ino ?? 0 });
  }
  return states;
}
