import { createHash } from "node:crypto";
import { readFile, stat } from "node:fs/promises";
import { join, resolve } from "node:path";
import { printable } from "../../report/terminal/terminal-summary.js";
import { cleanOutputs } from "../outputs/write-outputs.js";
import { folderCache } from "../run/cache.js";
import { reportProblems } from "../run/report-problems.js";
import { shownPath } from "../study-file/shown-path.js";
import { changeSignal } from "./change-signal.js";
import { type Say, WatchedFolder, type WatchedFolderOptions } from "./watched-folder.js";

/**
 * `frostline watch`: assesses what is there, then each file that arrives, changes or leaves, once it has
 * stopped growing. Only what changed is computed again. Ends on SIGINT or SIGTERM, after the work under way, and
 * where what it is to fail on is in a report that it wrote.
 * @returns the exit code
 */
export async function watchCommand(folder: string, options: WatchedFolderOptions): Promise<number> {
  const isFolder = await stat(folder).then(
    (info) => info.isDirectory(),
    () => false,
  );
  if (!isFolder) {
    const message = `${folder}: no such folder. Give the folder to watch.`;
    return reportProblems([{ code: "study.no-such-path", message }], false);
  }
  const say: Say = (text, kind) => {
    if (!options.quiet || kind === "trouble") writeLine(text);
  };
  const signal = await changeSignal(folder, {
    out: options.out,
    poll: options.poll ?? false,
    onTrouble: (message) => say(message, "trouble"),
  });
  await cleanOutputs(options.out);
  const cache = folderCache(join(resolve(options.out), ".cache"), await programOf(options.version));
  const watched = new WatchedFolder(folder, options, cache, say);
  say(`watching ${folder}; the report is ${shownPath(join(options.out, "report.html"))}. Ctrl-C ends it.`);
  while (!signal.isEnded()) {
    const rest_ms = await watched.look(performance.now());
    if (watched.occurred.length > 0) break;
    await signal.wait(rest_ms);
  }
  await signal.close();
  await cache.prune();
  say("ended");
  return watched.occurred.length > 0 ? 1 : 0;
}

/** Version and build: what another build computed is not taken from the cache. */
async function programOf(version: string): Promise<string> {
  // The bundle's entry names its parts by their content, so its own content stands for all of them.
  const entry = await readFile(new URL("./cli.js", import.meta.url)).catch(() => null);
  return entry === null ? version : `${version} ${createHash("sha256").update(entry).digest("hex")}`;
}

/** A line per event is what this command is run for, so it goes to stdout. */
function writeLine(text: string): void {
  process.stdout.write(`${printable(text)}\n`);
}
