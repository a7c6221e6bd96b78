import type { CodeMeaning } from "../notice.js";

/**
 * What each code of the study file, of the folders and of the outputs means and what to do about it; the
 * documentation is made from this table.
 */
export const studyCodes = {
  "study.not-yaml": {
    severity: "error",
    means: "The study file is not valid YAML.",
    whatToDo: "Mend it at the line named.",
  },
  "study.unknown-key": {
    severity: "error",
    means: "A key that no study has.",
    whatToDo: "Use the one named as nearest, or leave it out.",
  },
  "study.wrong-value": {
    severity: "error",
    means: "A value of the wrong kind or out of range.",
    whatToDo: "Write what the message asks for.",
  },
  "study.unknown-texture": {
    severity: "error",
    means: "A use names a texture that is neither built in nor under `textures`.",
    whatToDo: "Use a name that the message lists, or add the texture.",
  },
  "study.unknown-use": {
    severity: "error",
    means: "A requirement names a use that is not under `uses`.",
    whatToDo: "Use a name that the message proposes, or add the use.",
  },
  "study.unknown-compound": {
    severity: "error",
    means: "A filler series or `batchOf` names a compound that is not under `compounds`.",
    whatToDo: "Correct the name, or add the compound.",
  },
  "study.two-references": {
    severity: "error",
    means: "More than one compound is marked as the reference.",
    whatToDo: "Remove `reference` from all but one.",
  },
  "study.duplicate-name": {
    severity: "error",
    means: "Two compounds, uses or textures bear one name, or names that look alike.",
    whatToDo: "Rename one.",
  },
  "study.unreadable": {
    severity: "error",
    means: "The study file, or a profile that it names, cannot be read.",
    whatToDo: "Check the path; a profile stands beside the study file or below it.",
  },
  "study.no-such-path": {
    severity: "error",
    means: "A path on the command line does not exist.",
    whatToDo: "Check the spelling.",
  },
  "study.not-a-file": {
    severity: "error",
    means:
      "A path on the command line is neither a file nor a folder, or is a folder where one file is expected.",
    whatToDo: "Give a file; save to one what comes from a device or a pipe.",
  },
  "study.demo-changed": {
    severity: "error",
    means: "A file of the demo folder was changed since the demo wrote it, and is kept as it is.",
    whatToDo: "Nothing; or give --out another folder for a fresh demo.",
  },
  "study.earlier-output": {
    severity: "info",
    means: "An earlier output of the program lies among the exports and was passed over.",
    whatToDo: "Nothing; or give --out a folder outside the exports.",
  },
  "study.same-data-twice": {
    severity: "caution",
    means: "The same numbers stand in two files or tables of one compound; they count once.",
    whatToDo: "Nothing, if one is a copy; else export the other test again.",
  },
  "study.identical-compounds": {
    severity: "caution",
    means: "Two compounds of unlike names have identical data, number by number.",
    whatToDo: "Find out which of the names or exports is wrong.",
  },
  "study.names-joined": {
    severity: "caution",
    means:
      "Files write a compound's name in ways that look alike (a tab, a no-break or zero-width space, two blanks, an accent of its own); they were taken for one compound.",
    whatToDo: "Nothing, if they are one; else give them names that differ visibly.",
  },
  "study.thinned": {
    severity: "caution",
    means: "A very long file was read in part: rows spread evenly over it.",
    whatToDo: "Export fewer points a second to have each one used.",
  },
  "study.nothing-found": {
    severity: "error",
    means: "There is no file to read under the paths given.",
    whatToDo: "Give the folder that holds the exports, or the files themselves.",
  },
  "study.nothing-read": {
    severity: "error",
    means: "No file held a measurement.",
    whatToDo: "See the message of each file; `frostline inspect` shows how one is read.",
  },
  "study.unreadable-file": {
    severity: "error",
    means: "The disk did not give the file: no permission, gone, or a fault.",
    whatToDo: "Check its permissions, or copy it again.",
  },
  "study.not-followed": {
    severity: "caution",
    means: "A link or something that is neither file nor folder was left out.",
    whatToDo: "Give the file it points to by its own path.",
  },
  "study.passed-over": {
    severity: "info",
    means: "Files whose name says that they hold no measurement were passed over.",
    whatToDo: "Nothing; name such a file on the command line to have it read all the same.",
  },
  "study.compound-without-data": {
    severity: "caution",
    means: "No measurement was found for one or several compounds of the study.",
    whatToDo: "Check its `files` and `samples`.",
  },
  "study.not-a-partial": {
    severity: "error",
    means: "A file given to `merge` is not a share that `assess --part` wrote, or is cut short.",
    whatToDo: "Run that share again.",
  },
  "study.not-results": {
    severity: "error",
    means: "A file given to `--since` is no results.json of an earlier run, or is cut short.",
    whatToDo: "Give the results.json of the run to compare with.",
  },
  "study.shares-do-not-fit": {
    severity: "error",
    means: "The shares given to `merge` are of different jobs or versions, or one is missing or there twice.",
    whatToDo: "Give every share of one job once; run all of them on the same folder and version.",
  },
  "study.failed": {
    severity: "error",
    means: "The program failed at a place it should not: a defect in it.",
    whatToDo: "Please report it, with the file if you may.",
  },
  "study.cannot-write": {
    severity: "error",
    means: "The output folder cannot be written; nothing was replaced.",
    whatToDo: "Free some space, change its permissions, or choose another folder with --out.",
  },
} as const satisfies Record<string, CodeMeaning>;
