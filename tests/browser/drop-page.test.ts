import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { unzipSync } from "fflate";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { makeDropPageAssets } from "../../scripts/build-drop-page.mjs";
import { makePageAssets } from "../../scripts/build-page.mjs";
import type { Assessment } from "../../src/report/assessment.js";
import { assess } from "../../src/study/assess.js";
import { demoFolder } from "../../src/study/demo/demo-folder.js";
import { dropPageHtml } from "../../src/study/drop-page/drop-page-html.js";
import { savedFiles } from "../../src/study/drop-page/saved-files.js";
import { fileList } from "../../src/study/file-list.js";
import { type Browser, startChromium } from "./chromium.js";

const { version } = JSON.parse(readFileSync("package.json", "utf8"));
/** Part of the demo folder: a sweep, isotherms, a decimal comma, a rebound table, a broken file, and the study. */
const names = [
  "alder_n_tension.csv",
  "Spruce H isotherms.csv",
  "Juniper 55 barrido.txt",
  "Rückprall ISO 4662.csv",
  "Maple Duo export abgebrochen.csv",
  "study.yaml",
];

let browser: Browser;
let folder: string;
let exports: string;
let url: string;
let expected: Assessment;
let opened: { page: Page; trouble: string[] };

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "frostline-drop-"));
  exports = join(folder, "exports");
  const files = demoFolder().filter(({ path }) => names.includes(path));
  expect(files).toHaveLength(names.length);
  for (const { path, bytes } of [
    ...files,
    { path: "README.txt", bytes: new TextEncoder().encode("no export") },
    // An earlier output in the folder: its tables are no measurements.
    { path: "old/results.json", bytes: new TextEncoder().encode('{"schema":"frostline.results/1"}') },
    { path: "old/report.html", bytes: new TextEncoder().encode("<p>old</p>") },
    { path: "old/tables/spectrum.csv", bytes: new TextEncoder().encode("a,b\n1,2\n") },
  ]) {
    mkdirSync(dirname(join(exports, path)), { recursive: true });
    writeFileSync(join(exports, path), bytes);
  }
  const pageAssets = await makePageAssets();
  const text = dropPageHtml(await makeDropPageAssets(pageAssets), version);
  writeFileSync(join(folder, "frostline.html"), text);
  url = pathToFileURL(join(folder, "frostline.html")).href;
  const outcome = await assess([exports], {
    outputFolder: join(folder, "out"),
    studyFile: null,
    workers: 1,
    version,
  });
  if (!outcome.ok) throw new Error(outcome.problems[0].message);
  expected = outcome.assessment;
  browser = await startChromium();
  opened = await open();
  // The whole folder, as a person would give it.
  await opened.page.setInputFiles("#folder-input", exports);
  await opened.page.locator("#report-part").waitFor({ state: "visible", timeout: 100_000 });
});

afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

async function open(): Promise<typeof opened> {
  const page = await browser.context.newPage();
  const trouble: string[] = [];
  page.on("console", (message) => trouble.push(`${message.type()}: ${message.text()}`));
  page.on("pageerror", (error) => trouble.push(`error: ${error.message}`));
  page.on("request", (request) => {
    if (request.url() !== url && !/^(data|blob):/.test(request.url())) trouble.push(request.url());
  });
  await page.goto(url);
  await page.waitForSelector("html[data-ready]");
  return { page, trouble };
}

async function saved(what: string): Promise<{ name: string; bytes: Uint8Array }> {
  const [download] = await Promise.all([
    opened.page.waitForEvent("download"),
    opened.page.locator(`[data-save=${what}]`).click(),
  ]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

describe("a folder on the drop page, from disk, offline", () => {
  test("gives the bytes of the command line's results.json", async () => {
    const { name, bytes } = await saved("results");
    expect(name).toBe("results.json");
    const text = Buffer.from(bytes).toString("utf8");
    expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(expected.results)));
    expect(text).toBe(`${JSON.stringify(expected.results, null, 2)}\n`);
    // That comparison would hold for two empty results as well.
    expect(expected.results.compounds.length).toBeGreaterThan(2);
    expect(expected.results.inputs.map(({ status }) => status)).toContain("rejected");
    expect(expected.results.notices.map(({ code }) => code)).toContain("study.passed-over");
    expect(expected.results.notices.map(({ code }) => code)).toContain("study.earlier-output");
  });

  test("gives the same report and tables, with a list of their hashes", async () => {
    const own = savedFiles(expected, await makePageAssets());
    const report = await saved("report");
    expect(Buffer.from(report.bytes).toString("utf8")).toBe(own.report.content);
    const all = unzipSync((await saved("all")).bytes);
    const files = [own.results, ...own.tables.slice(0, -1), own.report];
    for (const { path, content } of files)
      expect(Buffer.from(all[path]).toString("utf8"), path).toBe(content);
    expect(Buffer.from(all["tables/files.csv"]).toString("utf8")).toBe(fileList(files).content);
    const tables = unzipSync((await saved("tables")).bytes);
    expect(Object.keys(tables).sort()).toEqual(own.tables.map(({ path }) => path).sort());
  });

  test("says how each file was read, or why not and where", async () => {
    const { page } = opened;
    const items = page.locator("#files li.input");
    const rejected = items.filter({ hasText: "rejected" });
    expect(await rejected.count()).toBe(1);
    const { path, problem } = expected.results.inputs.find(({ status }) => status === "rejected")!;
    const words = await rejected.textContent();
    for (const part of [path, problem!.code, problem!.message]) expect(words).toContain(part);
    if (problem!.line !== undefined) expect(words).toContain(`line ${problem!.line}`);
    const read = items.filter({ hasText: "alder_n_tension.csv" });
    await read.locator("summary").click();
    expect(await read.locator("pre").textContent()).toContain("storage modulus");
    expect(await items.filter({ hasText: "README.txt" }).textContent()).toContain("passed over");
  });

  test("shows the report in the page, with its plots, and opens it in a tab of its own", async () => {
    const { page } = opened;
    const frame = page.frameLocator("iframe.report-frame");
    await frame.locator("html[data-ready]").waitFor({ state: "attached" });
    expect(await frame.locator("#verdict-matrix tbody tr").count()).toBe(expected.results.compounds.length);
    await frame.locator("#plot-trade-off").scrollIntoViewIfNeeded();
    await frame.locator("#plot-trade-off[data-drawn]").waitFor({ state: "attached" });
    const [tab] = await Promise.all([
      browser.context.waitForEvent("page"),
      page.getByRole("link", { name: "Open the report in a tab of its own" }).click(),
    ]);
    await tab.waitForSelector("html[data-ready]");
    expect(await tab.locator("#verdict-matrix tbody tr").count()).toBe(expected.results.compounds.length);
    await tab.close();
  });

  test("causes no request and no message on the console", () => {
    expect(opened.trouble).toEqual([]);
  });

  test("has no violation of WCAG 2.2 AA, light and dark", async () => {
    const { page } = opened;
    const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
    await page.evaluate(axe);
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      const violations = await page.evaluate(async () => {
        const { axe: run } = window as unknown as {
          axe: {
            run(
              context: unknown,
              options: unknown,
            ): Promise<{ violations: { id: string; nodes: { html: string; failureSummary: string }[] }[] }>;
          };
        };
        // The report in the frame has its own such test.
        const { violations } = await run.run(
          { exclude: [["iframe"]] },
          {
            runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
            resultTypes: ["violations"],
          },
        );
        return violations.map(({ id, nodes }) => `${id}: ${nodes[0].html} ${nodes[0].failureSummary}`);
      });
      expect(violations).toEqual([]);
    }
  });
});

describe("the drop page", () => {
  test("is reached by keyboard, and opens the file chooser from its zone", async () => {
    const { page, trouble } = await open();
    await page.keyboard.press("Tab");
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("drop");
    const [chooser] = await Promise.all([page.waitForEvent("filechooser"), page.keyboard.press("Enter")]);
    expect(chooser.isMultiple()).toBe(true);
    expect(await page.locator(".caution").textContent()).toContain("not a friction or safety certificate");
    expect(await page.locator("#too-old").isVisible()).toBe(false);
    expect(trouble).toEqual([]);
    await page.close();
  });

  test("takes a drop, and says what is wrong where nothing can be used", async () => {
    const { page, trouble } = await open();
    await page.evaluate(() => {
      const data = new DataTransfer();
      data.items.add(new File(["compounds: [{nam: Birch}]\n"], "study.yaml"));
      data.items.add(new File(["nothing here\n"], "birch.csv"));
      document.body.dispatchEvent(
        new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }),
      );
    });
    await page.locator("#problems li").waitFor();
    expect(await page.locator("#problems").textContent()).toMatch(
      /study\.yaml:1:\d+: unknown key "nam".*"name"/,
    );
    // Mended and dropped again, it takes the place of the first; the export is still none.
    await page.setInputFiles("#file-input", [
      { name: "study.yaml", mimeType: "text/yaml", buffer: Buffer.from("title: Birch") },
    ]);
    await page.locator("#problems li", { hasText: "birch.csv" }).waitFor();
    expect(await page.locator("#files li.rejected").count()).toBe(1);
    await page.getByRole("button", { name: "Start again" }).click();
    expect(await page.locator("#files-part").isVisible()).toBe(false);
    expect(trouble).toEqual([]);
    await page.close();
  });

  test("reads a file that was passed over when asked to, and does its work in the page where no worker starts", async () => {
    const page = await browser.context.newPage();
    await page.addInitScript(() => {
      Object.defineProperty(window, "Worker", {
        value: class {
          constructor() {
            throw new DOMException("forbidden", "SecurityError");
          }
        },
      });
    });
    await page.goto(url);
    const rebound = names[3];
    await page.setInputFiles("#file-input", [
      { name: "rebound.log", mimeType: "text/plain", buffer: readFileSync(join(exports, rebound)) },
    ]);
    await page.locator("#problems li").waitFor();
    await page.getByRole("button", { name: /Read it all the same/ }).click();
    await page.locator("#report-part").waitFor({ state: "visible" });
    expect(await page.locator("#files li.input", { hasText: "rebound.log" }).textContent()).toContain("read");
    await page.close();
  });

  test("says in words when the browser is too old or runs no script", async () => {
    const page = await browser.context.newPage();
    await page.addInitScript(() => {
      Reflect.deleteProperty(window, "DecompressionStream");
    });
    await page.goto(url);
    await page.locator("#too-old").waitFor({ state: "visible" });
    expect(await page.locator("#too-old").textContent()).toContain("Open it in a newer browser");
    await page.close();
  });
});
