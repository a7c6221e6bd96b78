import { readFile } from "node:fs/promises";
import { dirname, isAbsolute, join, relative, resolve } from "node:path";
import type { Outcome } from "../io/problem.js";
import type { Texture } from "../predict/use.js";
import { readProfile } from "./read-profile.js";
import { resolveStudy, type Study } from "./study.js";
import { parseStudyFile } from "./study-file.js";

/** Reads a study file and the profiles it names; null gives a study of defaults. */
export async function loadStudy(file: string | null): Promise<Outcome<Study>> {
  const text = file === null ? "" : await readFile(file, "utf8").catch(() => null);
  if (text === null) {
    return {
      ok: false,
      problem: {
        code: "study.unreadable",
        message: `${file}: the study file cannot be read. Check the path.`,
      },
    };
  }
  const parsed = parseStudyFile(text);
  if (!parsed.ok) return { ok: false, problem: inFile(file, parsed.problem) };
  const profiles = new Map<string, Texture>();
  for (const texture of parsed.value.textures) {
    if (texture.profile === undefined || file === null) continue;
    const folder = dirname(resolve(file));
    const path = resolve(folder, texture.profile);
    const fromFolder = relative(folder, path);
    if (fromFolder.startsWith("..") || isAbsolute(fromFolder)) {
      return {
        ok: false,
        problem: {
          code: "study.unreadable",
          message: `texture "${texture.name}": the profile ${texture.profile} lies outside the study's folder. Put it beside the study file.`,
        },
      };
    }
    const profile = await readProfile(
      join(folder, fromFolder),
      texture.name,
      texture.profile,
      texture.source ?? null,
    );
    if (!profile.ok) return profile;
    profiles.set(texture.name, profile.value);
  }
  const study = resolveStudy(parsed.value, profiles);
  if (study.ok && file !== null) {
    const named = parsed.value.textures.flatMap(({ profile }) => profile ?? []);
    study.value.profileFiles = named.map((profile) => resolve(dirname(file), profile));
  }
  return study.ok ? study : { ok: false, problem: inFile(file, study.problem) };
}

function inFile<P extends { message: string; line?: number; column?: number }>(
  file: string | null,
  problem: P,
): P {
  const place = problem.line ? `:${problem.line}${problem.column ? `:${problem.column}` : ""}` : "";
  return { ...problem, message: `${file ?? "study"}${place}: ${problem.message}` };
}
