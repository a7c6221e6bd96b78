// How long the report takes to answer a change of setting, in Chromium, for 12 compounds (or as many as are named):
// node bench/page-response.mjs [compounds]. Reported, not asserted.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";
import { makePageAssets } from "../scripts/build-page.mjs";
import { importText } from "../scripts/bundler.mjs";
import { findChromium } from "../scripts/find-tools.mjs";
import { table } from "./table.mjs";

const compounds = Number(process.argv[2] ?? 12);
const changes = 30;
/** As many as the program makes of each compound. */
const draws = 60;
const executablePath = findChromium();
if (executablePath === null) {
  console.error("No Chromium was found. Install it, or name it in the environment variable CHROMIUM.");
  process.exit(2);
}
const folder = mkdtempSync(join(tmpdir(), "frostline-response-"));
try {
  await measure();
} finally {
  rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
}

async function measure() {
  writeFileSync(join(folder, "report.html"), await reportOf(compounds));
  const browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  await page.goto(pathToFileURL(join(folder, "report.html")).href);
  await page.waitForSelector("html[data-ready]");
  await page.locator("#plot-trade-off").scrollIntoViewIfNeeded();
  await page.waitForSelector("#plot-trade-off[data-drawn]");
  const rows = [];
  for (const [name, first, step] of [
    ["temperature", -20, 0.5],
    ["speed", 1, 0.1],
  ]) {
    const values = Array.from({ length: changes }, (_, i) =>
      String(Math.round((first + i * step) * 10) / 10),
    );
    const times = await page.evaluate(timesOf, { name, values });
    rows.push(
      [`${name}: the values are on the screen`, ...spread(times.map(({ values_ms }) => values_ms))],
      [`${name}: with their intervals`, ...spread(times.map(({ intervals_ms }) => intervals_ms))],
    );
  }
  console.log(
    `A change of setting in the report of ${compounds} compounds, ${changes} changes each, ${browser.version()}.`,
  );
  console.log(table(["from the change until", "median", "slowest"], rows));
  await browser.close();
}

/** Runs in the page: sets a field again and again, and takes the time until the next frame shows the answer. */
async function timesOf({ name, values }) {
  const field = document.querySelector(`#controls input[name=${name}]`);
  const card = document.getElementById("card");
  const frame = () => new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve)));
  const times = [];
  for (const value of values) {
    const start = performance.now();
    const arrived = (what, isThere) =>
      new Promise((resolve) => {
        const observer = new MutationObserver(() => {
          if (!isThere()) return;
          observer.disconnect();
          resolve(frame().then(() => performance.now() - start));
        });
        observer.observe(card, what);
      });
    // The card is written anew with the values; what says that intervals are to come stands before.
    const written = arrived({ childList: true }, () => true);
    const complete = arrived(
      { attributes: true, attributeFilter: ["data-intervals"] },
      () => card.dataset.intervals === "yes",
    );
    field.value = value;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    times.push({ values_ms: await written, intervals_ms: await complete });
    await new Promise((resolve) => setTimeout(resolve, 300));
  }
  return times;
}

function spread(times) {
  const sorted = [...times].sort((a, b) => a - b);
  return [sorted[sorted.length >> 1], sorted[sorted.length - 1]].map((time) => `${time.toFixed(0)} ms`);
}

/** A report of invented compounds, from the sources as they are now. */
async function reportOf(count) {
  const { makeAssessment, reportHtml } = await importText(`
    export { makeAssessment } from "./tests/report/make-assessment.js";
    export { reportHtml } from "./src/report/report-html.js";
  `);
  return reportHtml(makeAssessment({ compounds: count, draws }), await makePageAssets());
}
