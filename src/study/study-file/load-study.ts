import { realpath } from "node:fs/promises";
import { dirname, relative, resolve } from "node:path";
import type { Outcome } from "../../words/notice.js";
import { bytesOfFile } from "../inputs/regular-file.js";
import { leadsOut } from "./inside.js";
import { shownPath } from "./shown-path.js";
import type { Study } from "./study.js";
import { type NamedProfile, studyFromText } from "./study-from-text.js";

/** Two hundred compounds with all that can be said of them take some 100 kB; a parser takes long over more. */
const mostStudy_bytes = 1_000_000;
const mostProfile_bytes = 50_000_000;

/** Reads a study file and the profiles it names; null gives a study of defaults. */
export async function loadStudy(file: string | null): Promise<Outcome<Study>> {
  if (file === null) return studyFromText("", null, async () => null);
  const bytes = bytesOfFile(file, mostStudy_bytes);
  if (typeof bytes === "string") {
    return {
      ok: false,
      problem: {
        code: "study.unreadable",
        message: `${shownPath(file)}: the study file is not read: ${bytes}. Check the path.`,
      },
    };
  }
  return studyFromText(bytes.toString("utf8"), shownPath(file), (path) =>
    profileBeside(dirname(resolve(file)), path),
  );
}

/** A profile below the study's folder; a link that leads out of it is outside too. */
async function profileBeside(folder: string, path: string): Promise<NamedProfile | null> {
  const file = resolve(folder, path);
  if (leadsOut(relative(folder, file))) return null;
  const [realFolder, realFile] = await Promise.all(
    [folder, file].map((one) => realpath(one).catch(() => one)),
  );
  if (leadsOut(relative(realFolder, realFile))) return null;
  const bytes = bytesOfFile(file, mostProfile_bytes);
  return { file, text: typeof bytes === "string" ? null : bytes.toString("utf8") };
}
