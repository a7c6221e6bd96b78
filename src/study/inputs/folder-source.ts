import type { Problem } from "../../words/notice.js";
import { noCache } from "../run/cache.js";
import { loadStudy } from "../study-file/load-study.js";
import { type FoundInput, findInputs } from "./find-inputs.js";
import type { FileSource } from "./gathered-inputs.js";
import { readInput } from "./read-inputs.js";

/**
 * The files under paths on the disk. They are read one after the other, so that a large one has the memory to
 * itself.
 *
 * @param options.outputFolder what lies in it is no input
 * @param options.studyFile null: the study file in the folder, if there is one
 */
export async function folderSource(
  paths: string[],
  options: { outputFolder: string; studyFile: string | null },
): Promise<{ ok: true; value: FileSource<FoundInput> } | { ok: false; problems: Problem[] }> {
  const { found, problems } = await findInputs(paths, options.outputFolder);
  if (found === null) return { ok: false, problems };
  const { inputs, notices } = found;
  return {
    ok: true,
    value: {
      inputs,
      notices,
      atOnce: 1,
      study: () => loadStudy(options.studyFile ?? found.study),
      read: (input, stated, onShare) => {
        onShare(0);
        // To read a file costs less than to keep its reading.
        return readInput(input, stated, noCache, onShare);
      },
    },
  };
}
