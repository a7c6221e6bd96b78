import { readFileSync } from "node:fs";
import { stat } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { printable } from "../../report/terminal/terminal-summary.js";
import { writeOutputs } from "../outputs/write-outputs.js";
import { reportProblems } from "../run/report-problems.js";
import type { DropPageAssets } from "./drop-page-assets.js";
import { dropPageHtml } from "./drop-page-html.js";

/** `frostline page`: writes the program as one HTML file. @returns the exit code */
export async function pageCommand(options: { out: string; version: string }): Promise<number> {
  const file = resolve(options.out);
  const isFolder = await stat(file).then(
    (info) => info.isDirectory(),
    () => /[/\\]$/.test(options.out),
  );
  if (isFolder) {
    const message = `${options.out}: a folder; expected the name of a file to write, such as ${join(options.out, "frostline.html")}.`;
    return reportProblems([{ code: "study.not-a-file", message }]);
  }
  const content = dropPageHtml(loadDropPageAssets(), options.version);
  const problem = await writeOutputs(dirname(file), [{ path: basename(file), content }]);
  if (problem !== null) return reportProblems([problem]);
  process.stdout.write(`page     ${printable(options.out)}\n`);
  return 0;
}

/**
 * Reads what scripts/build-drop-page.mjs made: beside the bundle, or two folders up from the sources.
 *
 * @throws where the page was not built
 */
function loadDropPageAssets(): DropPageAssets {
  for (const place of ["./page/drop-page-assets.json", "../../dist/page/drop-page-assets.json"]) {
    try {
      const text = readFileSync(fileURLToPath(new URL(place, import.meta.url)), "utf8");
      return JSON.parse(text) as DropPageAssets;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== "ENOENT") throw error;
    }
  }
  throw new Error(
    "The page's parts are missing: run `npm run build` once, it makes dist/page/drop-page-assets.json.",
  );
}
