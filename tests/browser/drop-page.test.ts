import {
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { unzipSync } from "fflate";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, inject, test } from "vitest";
import type { Results } from "../../src/report/results/results.js";
import type { DropPageAssets } from "../../src/study/drop-page/drop-page-assets.js";
import { dropPageHtml } from "../../src/study/drop-page/drop-page-html.js";
import { runCliBeside } from "../make/run-cli.js";
import { type Browser, startChromium, withoutChromium } from "./chromium.js";

/** Files of the demo folder that tests speak of: a sweep, a rebound table, and one that is cut off. */
const names = ["Juniper 55 barrido.txt", "Rückprall ISO 4662.csv", "Maple Duo export abgebrochen.csv"];

let browser: Browser;
let folder: string;
let url: string;
const demo = inject("demo")!.folder;
const exports = join(demo, "exports");
let opened: { page: Page; trouble: string[] };

/** What the command line wrote. */
const written = (path: string) => readFileSync(join(demo, "report", path), "utf8");
const expected: Results = JSON.parse(written("results.json"));

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "frostline-drop-"));
  const page = join(folder, "frostline.html");
  await runCliBeside("page", "--out", page);
  url = pathToFileURL(page).href;
  browser = await startChromium();
  opened = await open();
  // The whole folder, as a person would give it.
  await opened.page.setInputFiles("#folder-input", exports);
  await opened.page.locator("#report-part").waitFor({ state: "visible", timeout: 300_000 });
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

async function saved(what: string, page = opened.page): Promise<{ name: string; bytes: Uint8Array }> {
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.locator(`[data-save=${what}]`).click(),
  ]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

/** What the browser does when files and folders of the disk are dragged onto the page and let go. */
async function dropOnPage(page: Page, paths: string[]): Promise<void> {
  const session = await page.context().newCDPSession(page);
  const data = { items: [], files: paths, dragOperationsMask: 1 };
  for (const type of ["dragEnter", "dragOver", "drop"] as const)
    await session.send("Input.dispatchDragEvent", { type, x: 300, y: 300, data });
}

describe.skipIf(withoutChromium)("a folder on the drop page, from disk, offline", () => {
  test("gives the command line's results.json byte for byte, for the whole demo folder", async () => {
    const { name, bytes } = await saved("results");
    expect(name).toBe("results.json");
    const text = Buffer.from(bytes).toString("utf8");
    expect(JSON.parse(text)).toEqual(expected);
    expect(text).toBe(written("results.json"));
    // That comparison would hold for two empty results as well.
    expect(expected.compounds.filter(({ spectrum }) => spectrum !== null).length).toBeGreaterThan(2);
    expect(expected.inputs.map(({ status }) => status)).toContain("rejected");
    expect(expected.notices.map(({ code }) => code)).toContain("study.passed-over");
  });

  test("gives the same report, tables and list of hashes byte for byte", async () => {
    const report = Buffer.from((await saved("report")).bytes).toString("utf8");
    expect(report === written("report.html")).toBe(true);
    const all = unzipSync((await saved("all")).bytes);
    const tables = readdirSync(join(demo, "report", "tables")).map((name) => `tables/${name}`);
    expect(Object.keys(all).sort()).toEqual(["report.html", "results.json", ...tables].sort());
    for (const path of Object.keys(all))
      expect(Buffer.from(all[path]).toString("utf8") === written(path), path).toBe(true);
    expect(Object.keys(unzipSync((await saved("tables")).bytes)).sort()).toEqual(tables.sort());
  });

  test("gives the same when a folder is dragged onto the page", async () => {
    const few = join(folder, "few");
    mkdirSync(few);
    for (const name of [names[0], "study.yaml"]) copyFileSync(join(exports, name), join(few, name));
    // An earlier output in the folder: its tables are no measurements.
    for (const [path, text] of [
      ["old/results.json", '{"schema":"frostline.results/1"}'],
      ["old/report.html", "<p>old</p>"],
      ["old/tables/spectrum.csv", "a,b\n1,2\n"],
    ]) {
      mkdirSync(dirname(join(few, path)), { recursive: true });
      writeFileSync(join(few, path), text);
    }
    await runCliBeside("assess", few, "--out", join(folder, "few-out"), "--quiet");
    const { page, trouble } = await open();
    await dropOnPage(page, [few]);
    await page.locator("#report-part").waitFor({ state: "visible", timeout: 300_000 });
    const text = Buffer.from((await saved("results", page)).bytes).toString("utf8");
    expect(text).toBe(readFileSync(join(folder, "few-out", "results.json"), "utf8"));
    const { compounds, notices } = JSON.parse(text) as Results;
    expect(compounds[0].glassTransitions.length).toBeGreaterThan(0);
    expect(notices.map(({ code }) => code)).toContain("study.earlier-output");
    expect(trouble).toEqual([]);
    await page.close();
  });

  test("says how each file was read, or why not and where", async () => {
    const { page } = opened;
    const items = page.locator("#files li.input");
    const refused = expected.inputs.filter(({ status }) => status === "rejected");
    expect(await items.filter({ hasText: "rejected" }).count()).toBe(refused.length);
    const { path, problem } = refused[0];
    const words = await items.filter({ hasText: path }).textContent();
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
    // A frame out of sight is not drawn.
    await page.locator("iframe.report-frame").scrollIntoViewIfNeeded();
    await frame.locator("html[data-ready]").waitFor({ state: "attached" });
    expect(await frame.locator("#verdict-matrix tbody tr").count()).toBe(expected.compounds.length);
    await frame.locator("#plot-trade-off").scrollIntoViewIfNeeded();
    await frame.locator("#plot-trade-off[data-drawn]").waitFor({ state: "attached" });
    const [tab] = await Promise.all([
      browser.context.waitForEvent("page"),
      page.getByRole("link", { name: "Open the report in a tab of its own" }).click(),
    ]);
    await tab.waitForSelector("html[data-ready]");
    expect(await tab.locator("#verdict-matrix tbody tr").count()).toBe(expected.compounds.length);
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

describe.skipIf(withoutChromium)("the drop page", () => {
  test("is the file that the command writes, in a folder that it makes, and nothing beside it", async () => {
    const file = join(folder, "by command", "page.html");
    await runCliBeside("page", "--out", file);
    const page = readFileSync(file, "utf8");
    const assets: DropPageAssets = JSON.parse(readFileSync("dist/page/drop-page-assets.json", "utf8"));
    const { version } = JSON.parse(readFileSync("package.json", "utf8"));
    expect(page === dropPageHtml(assets, version)).toBe(true);
    expect(page === readFileSync(join(folder, "frostline.html"), "utf8")).toBe(true);
    expect(readdirSync(dirname(file))).toEqual(["page.html"]);
  });

  test("is reached by keyboard, and opens the file chooser from its zone", async () => {
    const { page, trouble } = await open();
    await page.keyboard.press("Tab");
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.id)).toBe("drop");
    // Has the browser hand the chooser over instead of opening it, before the key is pressed.
    page.on("filechooser", () => undefined);
    await page.evaluate(() => undefined);
    const [chooser] = await Promise.all([page.waitForEvent("filechooser"), page.keyboard.press("Enter")]);
    expect(chooser.isMultiple()).toBe(true);
    expect(await page.locator(".caution").textContent()).toContain("no friction or safety certificate");
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

  test("says what to do where the browser does not open a dropped folder", async () => {
    const page = await browser.context.newPage();
    await page.addInitScript(() => {
      Reflect.deleteProperty(DataTransferItem.prototype, "getAsFileSystemHandle");
    });
    await page.goto(url);
    await dropOnPage(page, [exports]);
    await page.locator("#closed-folders", { hasText: "exports" }).waitFor();
    expect(await page.locator("#closed-folders").textContent()).toContain("Choose a folder");
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
    const rebound = names[1];
    await page.setInputFiles("#file-input", [
      { name: "rebound.log", mimeType: "text/plain", buffer: readFileSync(join(exports, rebound)) },
    ]);
    await page.locator("#problems li").waitFor();
    await page.getByRole("button", { name: /Read it all the same/ }).click();
    await page.locator("#report-part").waitFor({ state: "visible" });
    expect(await page.locator("#files li.input", { hasText: "rebound.log" }).textContent()).toContain("read");
    await page.close();
  });

  test("reads the files itself where a worker may not", async () => {
    const page = await browser.context.newPage();
    await page.addInitScript(() => {
      const own = URL.createObjectURL;
      // What WebKit does to a worker of a page opened from disk.
      const refusing =
        'Blob.prototype.arrayBuffer = () => Promise.reject(new DOMException("The I/O read operation failed.", "NotReadableError"));\n';
      URL.createObjectURL = (made: Blob) =>
        own.call(
          URL,
          made.type === "text/javascript" ? new Blob([refusing, made], { type: made.type }) : made,
        );
    });
    await page.goto(url);
    await page.setInputFiles(
      "#file-input",
      [names[0], names[2]].map((name) => join(exports, name)),
    );
    await page.locator("#report-part").waitFor({ state: "visible" });
    const read = page.locator("#files li.input", { hasText: names[0] });
    expect(await read.textContent()).toContain(expected.inputs.find(({ path }) => path === names[0])!.sha256);
    expect(await page.locator("#files li.rejected").textContent()).toContain(names[2]);
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
