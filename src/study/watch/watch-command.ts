import { stat } from "node:fs/promises";
import { join } from "node:path";
import { printable } from "../../report/terminal/terminal-summary.js";
import { cleanOutputs } from "../outputs/write-outputs.js";
import { cacheOfOutput } from "../run/cache.js";
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
  const cache = await cacheOfOutput(options.out, options.version);
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

/** A line per event is what this command is run for, so it goes to stdout. */
function writeLine(text: string): void {
  process.stdout.write(`${printable(text)}\n`);
}
