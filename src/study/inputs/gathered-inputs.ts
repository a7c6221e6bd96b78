import type { ReadOptions } from "../../io/read-options.js";
import type { Notice, Outcome, Problem } from "../../words/notice.js";
import type { Study } from "../study-file/study.js";
import { type GroupedCompound, groupCompounds } from "./group-compounds.js";
import type { InputAsRead } from "./input-reading.js";
import { withoutSameData } from "./same-data.js";

/** Where the files of a job come from: paths on the disk, or what was dropped on the page. */
export interface FileSource<Input extends { path: string; file: string }> {
  /** Sorted by path, whatever the order in which they were given. */
  inputs: Input[];
  notices: Notice[];
  /** How many may be read at once. */
  atOnce: number;
  study(): Promise<Outcome<Study>>;
  /**
   * Reads one file, and never throws: what cannot be read is refused, with a problem that says why.
   *
   * @param stated what the study says of it, or null
   * @param onShare told how much of the reading is done
   */
  read(input: Input, stated: ReadOptions | null, onShare: (share: number) => void): Promise<InputAsRead>;
}

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

/** The measurements by compound, in the study’s order, then by name; what stands there twice once. */
export function groupsOf(gathered: Pick<GatheredInputs, "inputs" | "study">): GroupedCompound[] {
  return withoutSameData(allGroupsOf(gathered)).groups;
}

/** What is said of data that stand there twice, and of names that look alike. */
export function groupingNotices(gathered: Pick<GatheredInputs, "inputs" | "study">): Notice[] {
  return withoutSameData(allGroupsOf(gathered)).notices;
}

function allGroupsOf({ inputs, study }: Pick<GatheredInputs, "inputs" | "study">): GroupedCompound[] {
  return groupCompounds(
    inputs.map(({ path, reading }) => ({
      path,
      measurements: reading?.measurements ?? [],
      properties: reading?.properties ?? [],
    })),
    study,
  );
}

/** What is said where no input held a measurement: each file’s own problem, and what was not even looked at. */
export function nothingUsable({ inputs, found }: Pick<GatheredInputs, "inputs" | "found">): Problem[] {
  const notFollowed = found.notices.filter(({ code }) => code === "study.not-followed");
  if (inputs.length === 0) {
    return [
      ...notFollowed,
      {
        code: "study.nothing-found",
        message:
          "No file to read was found. Give the folder that holds the exports, or the files themselves.",
      },
    ];
  }
  const own = inputs.map(({ path, problem }) => ({
    ...(problem ?? { code: "study.nothing-read", message: "holds no measurement" }),
    message: `${path}: ${problem?.message ?? "holds no measurement."}`,
  }));
  return [...notFollowed, ...own];
}
