import { appendFileSync, existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { type Random, seededRandom } from "../../../src/numeric/statistics/random.js";
import { differences, filesOf, halfFile, isOneSet, leftovers } from "./output-set.js";
import { quickExport } from "./quick-export.js";
import { assessCleanly, startWatcher } from "./watcher.js";

export interface KillFigures {
  kills: number;
  /** Where the kill fell: before the first report of a fresh start, or after it. */
  whileStarting: number;
  whileWatching: number;
  /** Kills that left something half-done behind: a half-written output, or one that was being moved. */
  halfWritten: number;
  halfMoved: number;
  /** Restarts after which the output was complete and equal to a clean assessment. */
  equal: number;
  filesWritten: number;
  filesChanged: number;
  filesRemoved: number;
}

/** Exports that the folder holds at most: enough to differ, few enough for a cycle well below a second. */
const mostFiles = 9;

/**
 * Kills `frostline watch` at random moments while files arrive, grow, change and leave, and starts it again.
 * Throws at the first file that a reader would see in half, and at the first output that differs from a clean
 * assessment. The moments come from the seed; where they fall in the program's work is left to the machine.
 */
export async function killRounds(
  cli: string,
  folder: string,
  rounds: number,
  seed: number,
  onRound: (figures: KillFigures) => void = () => {},
): Promise<KillFigures> {
  const inputs = join(folder, "in");
  const out = join(folder, "out");
  const clean = join(folder, "clean");
  mkdirSync(inputs);
  const random = seededRandom(seed);
  const figures: KillFigures = {
    kills: 0,
    whileStarting: 0,
    whileWatching: 0,
    halfWritten: 0,
    halfMoved: 0,
    equal: 0,
    filesWritten: 0,
    filesChanged: 0,
    filesRemoved: 0,
  };
  const change = () => changeSomething(inputs, random, figures);
  // One sound file stays, so that there is always something to assess.
  writeFileSync(join(inputs, "sound.csv"), quickExport(1));
  let watcher = startWatcher(cli, inputs, out);
  try {
    for (let round = 0; round < rounds; round++) {
      const isStarting = random.uniform() < 0.5;
      if (isStarting) {
        await watcher.end("SIGKILL");
        watcher = startWatcher(cli, inputs, out);
      } else await watcher.line(/^report written/);
      const finish = change();
      const alsoFinish = random.uniform() < 0.4 ? change() : () => {};
      // A start takes some 200 ms up to its report, a change some 150 ms after it has settled.
      await pause(random.uniform() * (isStarting ? 600 : 450));
      await watcher.end("SIGKILL");
      figures.kills++;
      if (isStarting) figures.whileStarting++;
      else figures.whileWatching++;
      inspectRemains(out, figures);
      finish();
      alsoFinish();

      const count = readdirSync(inputs).length;
      watcher = startWatcher(cli, inputs, out);
      rmSync(clean, { recursive: true, force: true });
      const [{ status, stderr }] = await Promise.all([
        assessCleanly(cli, inputs, clean),
        watcher.line(new RegExp(`^report written: \\d+ compounds from ${count} files`)),
      ]);
      if (status !== 0) throw new Error(`the clean assessment failed: ${stderr}`);
      const differing = differences(out, clean);
      if (differing.length > 0 || !isOneSet(filesOf(out)) || leftovers(out).includes(".frostline-ready")) {
        throw new Error(
          `round ${round} of seed ${seed}: not the clean assessment: ${differing.join(", ")} ${leftovers(out).join(", ")}\n${watcher.lines.join("\n")}`,
        );
      }
      if (watcher.errors.length > 0) throw new Error(watcher.errors.join("\n"));
      figures.equal++;
      onRound(figures);
    }
    return figures;
  } finally {
    await watcher.end("SIGKILL");
  }
}

/** What a reader finds right after a kill: whole files, of one output or of two neighbouring ones. */
function inspectRemains(out: string, figures: KillFigures): void {
  if (!existsSync(out)) return;
  const files = filesOf(out);
  for (const [path, bytes] of files) {
    const half = halfFile(path, bytes);
    if (half !== null) throw new Error(half);
  }
  const remains = leftovers(out);
  if (remains.some((name) => name !== ".frostline-ready")) figures.halfWritten++;
  const isMoving = remains.includes(".frostline-ready");
  if (isMoving) figures.halfMoved++;
  if (!isMoving && files.size > 0 && !isOneSet(files))
    throw new Error("files of two outputs, and nothing left to move");
}

/** Adds, changes or removes a file; what it returns completes a file that was left half-written. */
function changeSomething(inputs: string, random: Random, figures: KillFigures): () => void {
  const names = readdirSync(inputs)
    .filter((name) => name !== "sound.csv")
    .sort();
  const number = Math.floor(random.uniform() * 1000);
  const choice = random.uniform();
  const one = names[Math.floor(random.uniform() * names.length)];
  if (names.length > mostFiles || (choice < 0.2 && names.length > 1)) {
    rmSync(join(inputs, one));
    figures.filesRemoved++;
    return () => {};
  }
  if (choice < 0.4 && names.length > 0) {
    writeFileSync(join(inputs, one), quickExport(number));
    figures.filesChanged++;
    return () => {};
  }
  const name = `export ${number}.csv`;
  const content = choice < 0.5 ? "no measurement at all\n" : quickExport(number);
  const half = Math.floor(random.uniform() * content.length);
  writeFileSync(join(inputs, name), content.slice(0, half));
  figures.filesWritten++;
  const finish = () => {
    if (existsSync(join(inputs, name))) writeFileSync(join(inputs, name), content);
  };
  if (random.uniform() < 0.6) finish();
  else appendFileSync(join(inputs, name), content.slice(half, half + 10));
  return finish;
}

function pause(ms: number): Promise<void> {
  return new Promise((done) => setTimeout(done, ms));
}
