import { readFile } from "node:fs/promises";
import { dirname, isAbsolute, relative, resolve } from "node:path";
import type { Outcome } from "../../words/notice.js";
import { shownPath } from "./shown-path.js";
import type { Study } from "./study.js";
import { type NamedProfile, studyFromText } from "./study-from-text.js";

/** Reads a study file and the profiles it names; null gives a study of defaults. */
export async function loadStudy(file: string | null): Promise<Outcome<Study>> {
  if (file === null) return studyFromText("", null, async () => null);
  const text = await readFile(file, "utf8").catch(() => null);
  if (text === null) {
    return {
      ok: false,
      problem: {
        code: "study.unreadable",
        message: `${shownPath(file)}: the study file cannot be read. Check the path.`,
      },
    };
  }
  return studyFromText(text, shownPath(file), (path) => profileBeside(dirname(resolve(file)), path));
}

async function profileBeside(folder: string, path: string): Promise<NamedProfile | null> {
  const file = resolve(folder, path);
  const fromFolder = relative(folder, file);
  if (fromFolder.startsWith("..") || isAbsolute(fromFolder)) return null;
  return { file, text: await readFile(file, "utf8").catch(() => null) };
}
