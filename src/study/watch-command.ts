import { stat } from "node:fs/promises";
import { join, relative, resolve } from "node:path";
import { printable } from "../report/terminal-summary.js";
import { assessInputs } from "./assess.js";
import { folderCache } from "./cache.js";
import { type FoundInputs, findInputs } from "./find-inputs.js";
import { loadStudy } from "./load-study.js";
import { outputFiles } from "./output-files.js";
import { type InputReading, readInput } from "./read-inputs.js";
import { type FileState, SettledFiles } from "./settled-files.js";
import type { Study } from "./study.js";
import { writeOutputs } from "./write-outputs.js";

export interface WatchCommandOptions {
  out: string;
  study?: string;
  workers?: number;
  poll?: boolean;
  settle: number;
  version: string;
}

/** How often a folder is looked at when nothing announces a change. */
const look_ms = 500;

/**
 * `frostline watch`: assesses what is there, then each file that arrives, changes or leaves, once it has
 * stopped growing. Only what changed is computed again. Ends on SIGINT or SIGTERM, after the write under way.
 * @returns the exit code
 */
export async function watchCommand(folder: string, options: WatchCommandOptions): Promise<number> {
  const isFolder = await stat(folder).then(
    (info) => info.isDirectory(),
    () => false,
  );
  if (!isFolder) {
    process.stderr.write(
      `frostline: [study.no-such-path] ${printable(folder)}: no such folder. Give the folder to watch.\n`,
    );
    return 2;
  }
  const cache = folderCache(join(resolve(options.out), ".cache"), options.version);
  const settled = new SettledFiles(options.settle);
  const inputs = new Map<string, InputReading>();
  const attention = await changeSignal(folder, options);
  let studyText = "";
  let isFirst = true;
  say(
    `watching ${printable(folder)}; the report is ${printable(shown(options.out, "report.html"))}. Ctrl-C ends it.`,
  );

  while (!attention.isEnded()) {
    const { found, problems } = await findInputs([folder], options.out);
    if (found === null) {
      say(
        `[${problems[0]?.code}] ${problems[0]?.message ?? "the folder cannot be read"}; waiting for it to come back`,
      );
      await attention.wait(5 * look_ms);
      continue;
    }
    const { changed, gone, growing } = settled.observe(await statesOf(found), performance.now());
    const study = await loadStudy(options.study ?? found.study);
    const studyNow = study.ok ? JSON.stringify(study.value) : study.problem.message;
    const isStudyChanged = studyNow !== studyText;
    if (changed.length > 0 || gone.length > 0 || isStudyChanged || (isFirst && growing === 0)) {
      if (isStudyChanged && !isFirst) say("study changed");
      studyText = studyNow;
      if (!study.ok) say(`[${study.problem.code}] ${study.problem.message}`);
      else {
        for (const name of gone) {
          inputs.delete(name);
          say(`− ${printable(name)}  left`);
        }
        const again = isStudyChanged
          ? found.inputs.filter(({ path }) => settled.has(path))
          : found.inputs.filter(({ path }) => changed.includes(path));
        for (const input of again) {
          const reading = await readInput(input, study.value.columns, cache);
          inputs.set(input.path, reading);
          if (changed.includes(input.path)) say(statusOf(reading));
        }
        isFirst = false;
        await update(found, [...inputs.values()], study.value, { ...options, cache });
      }
    }
    await attention.wait(
      growing > 0 ? Math.min(look_ms, options.settle) : options.poll ? look_ms * 2 : 30_000,
    );
  }
  await attention.close();
  say("ended");
  return 0;

  async function update(
    found: FoundInputs,
    readings: InputReading[],
    study: Study,
    assessOptions: { version: string; workers?: number; cache: ReturnType<typeof folderCache> },
  ): Promise<void> {
    const ordered = readings.sort((a, b) => (a.path < b.path ? -1 : 1));
    const outcome = await assessInputs(
      { found, inputs: ordered, study },
      {
        version: assessOptions.version,
        workers: assessOptions.workers ?? null,
        cache: assessOptions.cache,
      },
    );
    if (!outcome.ok) {
      say("nothing usable yet; the output is left as it is");
      return;
    }
    const problem = await writeOutputs(options.out, outputFiles(outcome.assessment));
    if (problem !== null) say(`[${problem.code}] ${problem.message}`);
    else {
      const { compounds, inputs: all } = outcome.assessment.results;
      const rejected = all.filter(({ status }) => status === "rejected").length;
      say(
        `report written: ${compounds.length} compounds from ${all.length} files${rejected > 0 ? `, ${rejected} rejected` : ""}`,
      );
    }
  }
}

function statusOf({ path, reading, problem }: InputReading): string {
  const name = printable(path);
  if (reading === null) {
    const place = problem?.line ? `:${problem.line}${problem.column ? `:${problem.column}` : ""}` : "";
    return `✗ ${name}${place}  rejected [${problem?.code}] ${printable(problem?.message ?? "")}`;
  }
  const kinds = reading.measurements.map(({ kind }) => kind);
  const counted = [...new Set(kinds)].map((kind) => {
    const count = kinds.filter((each) => each === kind).length;
    return count === 1 ? kind : `${count} × ${kind}`;
  });
  return `+ ${name}  ${counted.join(", ")}`;
}

async function statesOf({ inputs }: FoundInputs): Promise<Map<string, FileState>> {
  const states = new Map<string, FileState>();
  for (const { path, file } of inputs) {
    // A file may vanish between listing and looking; it has then left.
    const info = await stat(file).catch(() => null);
    if (info !== null) states.set(path, { size: info.size, modified_ms: info.mtimeMs, inode: info.ino });
  }
  return states;
}

interface ChangeSignal {
  /** Resolves at the next change, at the end, or after a while. */
  wait(longest_ms: number): Promise<void>;
  isEnded(): boolean;
  close(): Promise<void>;
}

async function changeSignal(folder: string, options: WatchCommandOptions): Promise<ChangeSignal> {
  let isEnded = false;
  let isRaised = false;
  let wake: () => void = () => {};
  const raise = () => {
    isRaised = true;
    wake();
  };
  const end = () => {
    isEnded = true;
    wake();
  };
  process.once("SIGINT", end);
  process.once("SIGTERM", end);
  const output = resolve(options.out);
  const { watch } = await import("chokidar");
  const watcher = options.poll
    ? null
    : watch(folder, {
        ignoreInitial: true,
        followSymlinks: false,
        ignored: (path) => resolve(path) === output || resolve(path).startsWith(`${output}/`),
      });
  watcher?.on("all", raise);
  watcher?.on("error", (error) =>
    say(`changes are not announced here (${(error as Error).message}); use --poll`),
  );
  return {
    isEnded: () => isEnded,
    async wait(longest_ms) {
      if (isEnded) return;
      if (!isRaised) {
        await new Promise<void>((done) => {
          const timer = setTimeout(done, longest_ms);
          wake = () => {
            clearTimeout(timer);
            done();
          };
        });
      }
      isRaised = false;
    },
    async close() {
      await watcher?.close();
    },
  };
}

function shown(out: string, name: string): string {
  return relative(process.cwd(), join(resolve(out), name)) || name;
}

/** A line per event is what this command is run for, so it goes to stdout. */
function say(text: string): void {
  process.stdout.write(`${text}\n`);
}
