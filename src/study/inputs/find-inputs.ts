import { lstat, readdir, realpath, stat } from "node:fs/promises";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { coded } from "../../words/codes/codes.js";
import type { Notice, Problem } from "../../words/notice.js";
import { commonFolder } from "../study-file/inside.js";
import {
  byCodeUnit,
  earlierOutputNotice,
  isHidden,
  isOwnResults,
  isPassedOver,
  outputNames,
  passedOverNotice,
  studyNames,
} from "./input-names.js";
import { openRegular } from "./regular-file.js";

export interface FoundInput {
  /** Relative to the folder that holds all inputs, with forward slashes: the name the results use. */
  path: string;
  file: string;
}

export interface FoundInputs {
  inputs: FoundInput[];
  /** The folder that holds all inputs; null where they lie on different drives. */
  base: string | null;
  /** A study.yaml in the folder that holds all inputs, or null. */
  study: string | null;
  notices: Notice[];
}

/**
 * All files to be read under the given files and folders, sorted by path, whatever the order of the arguments.
 * Hidden files, the output folder and links that lead out of the given folder are left out, the last with a
 * notice.
 */
export async function findInputs(
  paths: string[],
  outputFolder: string,
): Promise<{ found: FoundInputs | null; problems: Problem[] }> {
  const problems: Problem[] = [];
  const folders: string[] = [];
  const files: string[] = [];
  for (const path of paths) {
    const absolute = resolve(path);
    try {
      const info = await stat(absolute);
      if (info.isDirectory()) folders.push(absolute);
      else if (info.isFile()) files.push(absolute);
      else {
        problems.push({
          code: "study.not-a-file",
          message: `${path}: neither a file nor a folder but a device or a pipe. Save its content to a file first.`,
        });
      }
    } catch (error) {
      const isMissing = (error as NodeJS.ErrnoException).code === "ENOENT";
      const toDo = /[*?]/.test(path)
        ? "The shell found no file for this pattern, or expands none; give the folder that holds the files."
        : "Check the spelling.";
      problems.push({
        code: "study.no-such-path",
        message: `${path}: ${isMissing ? "no such file or folder" : (error as Error).message}. ${toDo}`,
      });
    }
  }
  if (problems.length > 0 || folders.length + files.length === 0) return { found: null, problems };
  // From other drives each file has its full path.
  const base = commonFolder([...folders, ...files.map((file) => dirname(file))]);
  const notices: Notice[] = [];
  const found = new Map<string, string>();
  const named = (file: string) => (base === null ? file : relative(base, file)).split(sep).join("/");
  for (const file of files) {
    if (!studyNames.includes(basename(file))) found.set(named(file), file);
  }
  const skipped: string[] = [];
  for (const folder of folders) {
    const root = await realpath(folder);
    await walk(
      folder,
      root,
      { root, ...(await outputPlaces(outputFolder, root)) },
      {
        take: (file) => found.set(named(file), file),
        pass: (file) => skipped.push(named(file)),
        passOutput: (file) => notices.push(earlierOutputNotice(named(file))),
        refuse: (file, why) =>
          notices.push({
            ...coded("study.not-followed"),
            message: `${named(file)}: ${why}`,
            path: named(file),
          }),
      },
    );
  }
  const passedOver = passedOverNotice(skipped);
  if (passedOver !== null) notices.push(passedOver);
  let study: string | null = null;
  for (const name of studyNames) {
    if (base !== null && study === null && (await exists(join(base, name)))) study = join(base, name);
  }
  const inputs = [...found]
    .map(([path, file]) => ({ path, file }))
    .sort((a, b) => byCodeUnit(a.path, b.path));
  return { found: { base, inputs, study, notices }, problems };
}

interface Visitor {
  take(file: string): void;
  pass(file: string): void;
  passOutput(folder: string): void;
  refuse(file: string, why: string): void;
}

interface Bounds {
  /** Real path of the folder that was given; nothing outside it is read. */
  root: string;
  /** Real paths of what the output is made of. */
  output: ReadonlySet<string>;
}

async function outputPlaces(outputFolder: string, root: string): Promise<Omit<Bounds, "root">> {
  const output = await realPathOf(resolve(outputFolder));
  const isAround = root === output || root.startsWith(output.endsWith(sep) ? output : output + sep);
  // Where the inputs lie in the output folder, or are the same, only what is written there is left out.
  return { output: new Set(isAround ? outputNames.map((name) => join(output, name)) : [output]) };
}

/** The real path of a place that may not be there yet. */
async function realPathOf(path: string): Promise<string> {
  const parent = dirname(path);
  return realpath(path).catch(async () =>
    parent === path ? path : join(await realPathOf(parent), basename(path)),
  );
}

async function walk(folder: string, real: string, bounds: Bounds, visitor: Visitor): Promise<void> {
  let entries: import("node:fs").Dirent[];
  try {
    entries = await readdir(folder, { withFileTypes: true });
  } catch (error) {
    visitor.refuse(
      folder,
      `the folder cannot be listed (${(error as NodeJS.ErrnoException).code}); check its permissions.`,
    );
    return;
  }
  const isOutput = await holdsOutput(folder, entries);
  if (isOutput && !bounds.output.has(join(real, "results.json"))) visitor.passOutput(folder);
  for (const entry of entries) {
    const file = join(folder, entry.name);
    const realFile = join(real, entry.name);
    if (isHidden(entry.name)) continue;
    if (bounds.output.has(realFile) || (isOutput && outputNames.includes(entry.name))) continue;
    if (entry.isSymbolicLink()) {
      const target = await realpath(file).catch(() => null);
      if (target === null || !(target === bounds.root || target.startsWith(bounds.root + sep))) {
        visitor.refuse(
          file,
          "a link that leads out of the folder, or nowhere, is not followed. Copy the file into the folder.",
        );
        continue;
      }
      // A link to a place inside the folder is found there under its own name.
      continue;
    }
    if (entry.isDirectory()) {
      if (entry.name === "node_modules") continue;
      await walk(file, realFile, bounds, visitor);
    } else if (isPassedOver(entry.name)) {
      if (!studyNames.includes(entry.name)) visitor.pass(file);
    }
    // A pipe or a device too: it is refused by its name when it is to be read.
    else visitor.take(file);
  }
}

/** Whether an earlier run wrote its output here: its tables are numbers, but no measurements. */
async function holdsOutput(folder: string, entries: import("node:fs").Dirent[]): Promise<boolean> {
  const names = new Set(entries.map(({ name }) => name));
  if (!outputNames.every((name) => names.has(name))) return false;
  try {
    const { source, close } = openRegular(join(folder, "results.json"));
    try {
      const head = Buffer.alloc(200);
      const { bytesRead } = await source.read(head, 0, head.length, 0);
      return isOwnResults(head.toString("utf8", 0, bytesRead));
    } finally {
      close();
    }
  } catch {
    return false;
  }
}

async function exists(file: string): Promise<boolean> {
  return lstat(file).then(
    () => true,
    () => false,
  );
}
