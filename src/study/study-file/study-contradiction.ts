import type { Document, LineCounter } from "yaml";
import { textures } from "../../predict/contact/textures.js";
import { defaultUses, isSameUse, useNameAt } from "../../predict/default-uses.js";
import type { StudyFile } from "../../report/results/study-file-schema.js";
import type { Problem } from "../../words/notice.js";
import { shown } from "../../words/quoted.js";
import { spelledOut } from "../../words/spelled-out.js";
import { didYouMean, nearestOf } from "./nearest.js";
import { placeOf } from "./study-file-problem.js";

/** What keys that are each right say against one another: two references, a name twice, a name that stands nowhere. */
export function contradiction(study: StudyFile, document: Document, lines: LineCounter): Problem | null {
  const names = study.compounds.map(({ name }) => name);
  const references = study.compounds.flatMap((each, i) => (each.reference ? [i] : []));
  if (references.length > 1) {
    return {
      code: "study.two-references",
      message: `${references.map((i) => names[i]).join(" and ")} are both marked as reference; expected one. Remove "reference" from all but one.`,
      ...placeOf(document, lines, ["compounds", references[1], "reference"], false),
    };
  }
  for (const list of ["compounds", "uses", "textures"] as const) {
    const seen = new Map<string, string>();
    for (const [i, { name }] of (study[list] ?? []).entries()) {
      if (name === undefined) continue;
      const before = seen.get(shown(name));
      if (before !== undefined) {
        const message =
          before === name
            ? `the name "${name}" stands twice under ${list}.`
            : `the names "${spelledOut(before)}" and "${spelledOut(name)}" under ${list} look alike.`;
        return {
          code: "study.duplicate-name",
          message: `${message} Give each its own name.`,
          ...placeOf(document, lines, [list, i, "name"], false),
        };
      }
      seen.set(shown(name), name);
    }
  }
  for (const [c, { name, batchOf }] of study.compounds.entries()) {
    if (batchOf === undefined || (batchOf !== name && names.includes(batchOf))) continue;
    const others = names.filter((each) => each !== name);
    return {
      code: "study.unknown-compound",
      message: `batchOf is "${batchOf}", which is no other compound of the study${didYouMean(batchOf, others)}`,
      ...placeOf(document, lines, ["compounds", c, "batchOf"], false),
    };
  }
  const knownTextures = [...study.textures, ...textures].map(({ name }) => name);
  for (const [u, { sliding }] of (study.uses ?? []).entries()) {
    if (!sliding || knownTextures.includes(sliding.texture)) continue;
    const nearest = nearestOf(sliding.texture, knownTextures);
    return {
      code: "study.unknown-texture",
      message: `uses[${u + 1}].sliding.texture is "${sliding.texture}"; ${nearest ? `did you mean "${nearest}"?` : `known: ${knownTextures.join(", ")}.`}`,
      ...placeOf(document, lines, ["uses", u, "sliding", "texture"], false),
    };
  }
  // A use without a name is known by its temperature.
  const knownUses = (study.uses ?? defaultUses()).map((use) => use.name ?? useNameAt(use.temperature_C));
  for (const [r, { use }] of study.requirements.entries()) {
    if (use === undefined || knownUses.some((known) => isSameUse(known, use))) continue;
    return {
      code: "study.unknown-use",
      message: `the requirement asks for the use "${use}", which is not under uses${didYouMean(use, knownUses)}`,
      ...placeOf(document, lines, ["requirements", r, "use"], false),
    };
  }
  for (const [s, series] of study.fillerSeries.entries()) {
    for (const [c, name] of series.compounds.entries()) {
      if (names.includes(name)) continue;
      return {
        code: "study.unknown-compound",
        message: `the filler series "${series.name}" names "${name}", which is not under compounds${didYouMean(name, names)}`,
        ...placeOf(document, lines, ["fillerSeries", s, "compounds", c], false),
      };
    }
  }
  return null;
}
