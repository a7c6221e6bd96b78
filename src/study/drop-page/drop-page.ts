import "./no-generated-code.js";
import { html } from "../../report/html/html.js";
import { canUnpack, unpackText } from "../../report/page/unpack.js";
import type { PageAssets } from "../../report/page-assets.js";
import type { EarlierResults } from "../../report/results/changes-schema.js";
import type { Outcome, Problem } from "../../words/notice.js";
import { assessFrom, type Progress } from "../run/assess-from.js";
import { earlierResults } from "../run/conclude/earlier-results.js";
import { timeLeft } from "../run/progress/time-left.js";
import { dropZone } from "./drop-zone.js";
import type { DroppedFile } from "./dropped-files-of.js";
import { droppedSource, fitInPool } from "./dropped-source.js";
import { filesView } from "./files-view.js";
import { type JobPool, jobPool, serveJobs } from "./job-pool.js";
import { reportView } from "./report-view.js";
import { savedFiles } from "./saved-files.js";
import { type SortedFiles, sortDropped } from "./sort-dropped.js";

declare const FROSTLINE_VERSION: string;

const mostWorkers = 8;

function element<Kind extends HTMLElement>(id: string): Kind {
  return document.getElementById(id) as Kind;
}

/** The earlier results that were dropped; null where none were. */
async function earlierOf({ since }: SortedFiles): Promise<Outcome<EarlierResults> | null> {
  return since === null ? null : earlierResults(await since.content.text(), since.path);
}

function start(script: string): void {
  if (!canUnpack()) return;
  element("too-old").hidden = true;
  const dropped = new Map<string, DroppedFile>();
  const named = new Set<string>();
  let pool: JobPool | null = null;
  let run = 0;
  let takeReportAway = () => {};

  const clear = () => {
    run++;
    pool?.close();
    pool = null;
    takeReportAway();
    element("report-part").hidden = true;
    element("files-part").hidden = true;
    element("problems").replaceChildren();
  };

  const assess = async () => {
    clear();
    const own = run;
    // A later drop starts anew with all files; what this one still finds out is then out of date.
    const isCurrent = () => run === own;
    element("start-again").hidden = false;
    element("drop").classList.add("small-zone");
    element("progress-part").hidden = false;
    showProgress(null);
    const leftOf = timeLeft(() => performance.now());
    say(dropped.size === 1 ? "Reading one file …" : `Reading ${dropped.size} files …`);
    let sorted: SortedFiles | null = null;
    try {
      sorted = await sortDropped([...dropped.values()], named);
      const opened = await jobPool(script, Math.min(navigator.hardwareConcurrency || 2, mostWorkers));
      if (!isCurrent()) return opened.close();
      pool = opened;
      const since = await earlierOf(sorted);
      if (since !== null && !since.ok) return showProblems([since.problem]);
      const outcome = await assessFrom(droppedSource(sorted, pool), fitInPool(pool), {
        version: FROSTLINE_VERSION,
        since: since?.value ?? null,
        onProgress: (progress) => isCurrent() && showProgress(progress, leftOf(progress)),
        onRead: (inputs) => {
          if (!isCurrent()) return;
          element("files").innerHTML = filesView(sorted!, inputs).markup;
          element("files-part").hidden = false;
          showProgress(null);
          say("Fitting the compounds …");
        },
      });
      if (!isCurrent()) return;
      if (!outcome.ok) return showProblems(outcome.problems);
      say("Writing the report …");
      const assets = JSON.parse(await unpackText("report-assets")) as PageAssets;
      const files = savedFiles(outcome.assessment, assets);
      if (!isCurrent()) return;
      takeReportAway = reportView(element("report-place"), outcome.assessment, files);
      element("report-part").hidden = false;
      say("Done. The report stands below.");
      element("report-part").scrollIntoView();
    } catch (error) {
      if (!isCurrent()) return;
      const what = error instanceof Error ? error.message : String(error);
      const message = `The program failed (${what.slice(0, 200)}). This is a defect: please report it, with the file if you may.`;
      showProblems([{ code: "study.failed", message }]);
    } finally {
      if (isCurrent()) {
        pool?.close();
        pool = null;
        element("progress").hidden = true;
        element("progress-name").textContent = "";
      }
    }
  };

  dropZone(({ files, closedFolders }) => {
    for (const file of files) dropped.set(file.path, file);
    const closed = element("closed-folders");
    closed.hidden = closedFolders.length === 0;
    closed.textContent = `${closedFolders.join(", ")}: this browser does not let the page look into a dropped folder. Use the button “Choose a folder”, or drop the files themselves.`;
    if (files.length > 0) void assess();
    else if (closedFolders.length === 0 && dropped.size === 0) {
      element("progress-part").hidden = false;
      element("progress").hidden = true;
      say("No file was found in what was dropped.");
    }
  });
  element("start-again").addEventListener("click", () => {
    clear();
    dropped.clear();
    named.clear();
    element("start-again").hidden = true;
    element("drop").classList.remove("small-zone");
    element("progress-part").hidden = true;
    element("drop").focus();
  });
  element("files").addEventListener("click", ({ target }) => {
    const path = (target as Element).closest<HTMLElement>("[data-read]")?.dataset.read;
    if (path === undefined) return;
    named.add(path);
    void assess();
  });
  document.documentElement.dataset.ready = "true";
}

function say(text: string): void {
  element("status").textContent = text;
}

/** The page is told of each file and compound when it is done. */
function showProgress(progress: Progress | null, left = ""): void {
  const bar = element<HTMLProgressElement>("progress");
  bar.hidden = false;
  bar.max = progress?.total ?? 1;
  bar.value = progress === null ? 0 : progress.done + 1;
  element("progress-name").textContent =
    progress === null
      ? ""
      : `${progress.stage === "reading" ? "Read" : "Fitted"} ${progress.done + 1} of ${progress.total}${left === "" ? "" : `, ${left}`}: ${progress.name}`;
}

function showProblems(problems: Problem[]): void {
  say("No report could be made.");
  element("problems").innerHTML = html`<ul class="plain">${problems.map(
    ({ code, message }) => html`<li class="problem">${message} <code>${code}</code></li>`,
  )}</ul>`.markup;
}

if (typeof document === "undefined") serveJobs();
else start(document.currentScript?.textContent ?? "");
