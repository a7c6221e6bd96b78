// @ts-check
// The temporary folder of one run of the tests: all that the tests, their programs and their browsers keep for a while
// is under it and goes with it, also where a run is broken off.
import { chmodSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const name = /^frostline-tests-(\d+)-/;

/** Makes the folder, and removes those of runs that were ended before they could remove theirs. */
export function makeTestsFolder() {
  for (const each of readdirSync(tmpdir())) {
    const id = name.exec(each)?.[1];
    if (id !== undefined && !isRunning(Number(id)))
      rmSync(join(tmpdir(), each), { recursive: true, force: true });
  }
  const folder = mkdtempSync(join(tmpdir(), `frostline-tests-${process.pid}-`));
  // Some tests act as a user without rights, who has to get to the files below.
  chmodSync(folder, 0o755);
  return folder;
}

/**
 * What tests should have removed themselves.
 * @param {string} folder
 */
export function leftBehind(folder) {
  return readdirSync(folder).filter((each) => each.startsWith("frostline-"));
}

/** @param {number} id of a process, which may be another user's */
function isRunning(id) {
  try {
    process.kill(id, 0);
    return true;
  } catch (error) {
    return /** @type {NodeJS.ErrnoException} */ (error).code === "EPERM";
  }
}
