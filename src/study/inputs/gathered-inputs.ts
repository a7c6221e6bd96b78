import type { Notice, Problem } from "../../io/problem.js";
import type { Study } from "../study-file/study.js";
import { type GroupedCompound, groupCompounds } from "./group-compounds.js";
import type { InputAsRead } from "./input-reading.js";

/** All inputs of a job as read, and the study they belong to. */
export interface GatheredInputs {
  found: { notices: Notice[] };
  inputs: InputAsRead[];
  study: Study;
}

/** The inputs less the texture profiles that the study names. */
export function exportsAmong<Input extends { file: string }>(
  found: { inputs: Input[] },
  study: Pick<Study, "profileFiles">,
): Input[] {
  return found.inputs.filter(({ file }) => !study.profileFiles.includes(file));
}

export function groupsOf({ inputs, study }: Pick<GatheredInputs, "inputs" | "study">): GroupedCompound[] {
  return groupCompounds(
    inputs.map(({ path, reading }) => ({ path, measurements: reading?.measurements ?? [] })),
    study,
  );
}

export function nothingUsable(inputs: InputAsRead[]): Problem[] {
  if (inputs.length === 0) {
    return [
      {
        code: "study.nothing-found",
        message:
          "No file to read was found. Give the folder that holds the exports, or the files themselves.",
      },
    ];
  }
  return inputs.map(({ path, problem }) => ({
    ...(problem ?? { code: "study.nothing-read", message: "holds no measurement" }),
    message: `${path}: ${problem?.message ?? "holds no measurement."}`,
  }));
}
