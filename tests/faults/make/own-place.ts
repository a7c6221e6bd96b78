import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach } from "vitest";

/** The program as it is built. */
export const cli = fileURLToPath(new URL("../../../dist/cli.js", import.meta.url));

/** A folder for one test, with a folder of exports that is there and one for the output that is not. */
export interface OwnPlace {
  readonly folder: string;
  readonly inputs: string;
  readonly out: string;
  /** Writes a file among the exports, in a folder that is there. */
  put(name: string, content: string): void;
}

/**
 * A place that each test of the file has anew, removed after it. Called at the top of a file, so that what the file
 * itself does after each test, such as ending a program that still writes, is done before.
 *
 * @param name in the folder's name, to be recognised by
 */
export function ownPlace(name: string): OwnPlace {
  let folder = "";
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), `frostline-${name}-`));
    mkdirSync(join(folder, "in"));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));
  return {
    get folder() {
      return folder;
    },
    get inputs() {
      return join(folder, "in");
    },
    get out() {
      return join(folder, "out");
    },
    put: (name, content) => writeFileSync(join(folder, "in", name), content),
  };
}
