import type { Texture } from "../../predict/use.js";
import type { Outcome } from "../../words/notice.js";
import { readProfile } from "./read-profile.js";
import { resolveStudy, type Study } from "./study.js";
import { parseStudyFile } from "./study-file.js";

/** A height profile that a study names. */
export interface NamedProfile {
  /** As the inputs found beside it name their files. */
  file: string;
  /** Null where it cannot be read. */
  text: string | null;
}

/**
 * The study of a study file's text, with the profiles it names.
 *
 * @param text empty for a study of defaults
 * @param name of the study file, for messages
 * @param profileAt gives the profile at a path as the study writes it; null where that lies outside the study's folder
 */
export async function studyFromText(
  text: string,
  name: string | null,
  profileAt: (path: string) => Promise<NamedProfile | null>,
): Promise<Outcome<Study>> {
  const parsed = parseStudyFile(text);
  if (!parsed.ok) return { ok: false, problem: inFile(name, parsed.problem) };
  const profiles = new Map<string, Texture>();
  const profileFiles: string[] = [];
  for (const texture of parsed.value.textures) {
    if (texture.profile === undefined) continue;
    const found = await profileAt(texture.profile);
    if (found === null) {
      return {
        ok: false,
        problem: {
          code: "study.unreadable",
          message: `texture "${texture.name}": the profile ${texture.profile} lies outside the study's folder. Put it beside the study file.`,
        },
      };
    }
    const profile = readProfile(found.text, texture.name, texture.profile, texture.source ?? null);
    if (!profile.ok) return profile;
    profiles.set(texture.name, profile.value);
    profileFiles.push(found.file);
  }
  const study = resolveStudy(parsed.value, profiles);
  return { ok: true, value: { ...study, profileFiles } };
}

function inFile<P extends { message: string; line?: number; column?: number }>(
  file: string | null,
  problem: P,
): P {
  const place = problem.line ? `:${problem.line}${problem.column ? `:${problem.column}` : ""}` : "";
  return { ...problem, message: `${file ?? "study"}${place}: ${problem.message}` };
}
