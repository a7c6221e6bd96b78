import type { Notice } from "../../words/notice.js";

/** Files whose names say that they hold no measurement; named in a notice, and read when asked for by name. */
const passedOver = new Set(
  ".yaml .yml .md .html .htm .json .css .js .ts .mjs .ipynb .zip .gz .7z .doc .docx .ppt .pptx .svg .lnk .tmp .log .ini .db".split(
    " ",
  ),
);

export const studyNames = ["study.yaml", "study.yml"];
/** What an output folder holds. */
export const outputNames = ["results.json", "report.html", "tables"];

/** Hidden files, and the marks that office programs leave beside an open workbook. */
export function isHidden(name: string): boolean {
  return name.startsWith(".") || name.startsWith("~$");
}

/** Whether the name of a file in a folder says that it holds no measurement. */
export function isPassedOver(name: string): boolean {
  const dot = name.lastIndexOf(".");
  const extension = dot > 0 ? name.slice(dot).toLowerCase() : "";
  return passedOver.has(extension) || /^readme\b/i.test(name);
}

/** Whether the start of a results.json shows that an earlier run wrote it. */
export function isOwnResults(start: string): boolean {
  return start.includes('"frostline.results/');
}

/** Says that a file is an output of an earlier run and was passed over. */
export function earlierOutputNotice(path: string): Notice {
  return {
    severity: "info",
    code: "study.earlier-output",
    message: `${path}: an earlier output of Frostline was passed over.`,
    path,
  };
}

/** @returns null where nothing was passed over */
export function passedOverNotice(paths: string[]): Notice | null {
  if (paths.length === 0) return null;
  const sorted = [...paths].sort(byCodeUnit);
  const shown = sorted.slice(0, 5).join(", ");
  return {
    severity: "info",
    code: "study.passed-over",
    message: `${sorted.length} ${sorted.length === 1 ? "file was" : "files were"} passed over, because the name says that it holds no measurement: ${shown}${sorted.length > 5 ? ", …" : ""}. Name it on the command line to have it read all the same.`,
  };
}

/** Order of two texts by their code units: the same on every machine, whatever its language. */
export function byCodeUnit(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
