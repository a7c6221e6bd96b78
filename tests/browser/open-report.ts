import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { BrowserContext, Page } from "playwright-core";
import type { Assessment } from "../../src/report/assessment.js";
import { loadPageAssets } from "../../src/report/load-page-assets.js";
import { reportHtml } from "../../src/report/report-html.js";

let folder: string | null = null;

export interface ReportFile {
  url: string;
  bytes: number;
}

/** Writes the report of an assessment to a file of its own, with the page as it is built now. */
export function writeReport(name: string, assessment: Assessment): ReportFile {
  const text = reportHtml(assessment, loadPageAssets());
  folder ??= mkdtempSync(join(tmpdir(), "frostline-report-"));
  const path = join(folder, `${name}.html`);
  writeFileSync(path, text);
  return { url: pathToFileURL(path).href, bytes: Buffer.byteLength(text) };
}

/** Removes the reports that a file of tests wrote; the next file has a folder of its own. */
export function removeReports(): void {
  if (folder !== null) rmSync(folder, { recursive: true, force: true });
  folder = null;
}

export interface OpenedReport {
  page: Page;
  /** Every message on the console, every error, every request beyond the file itself. */
  trouble: string[];
}

export interface View {
  width?: number;
  height?: number;
  colorScheme?: "light" | "dark";
}

/** Tabs that show nothing. A used one costs three quarters of a new one: its process runs and knows the page's scripts. */
const freeTabs = new WeakMap<BrowserContext, Page[]>();

export async function openReport(
  context: BrowserContext,
  { url }: ReportFile,
  { width = 1280, height = 800, colorScheme = "light" }: View = {},
): Promise<OpenedReport> {
  const page = freeTabs.get(context)?.pop() ?? (await context.newPage());
  const trouble: string[] = [];
  page.on("console", (message) => trouble.push(`${message.type()}: ${message.text()}`));
  page.on("pageerror", (error) => trouble.push(`error: ${error.message}`));
  page.on("request", (request) => {
    const own = request.url().split("#")[0];
    if (own !== url && !own.startsWith("data:") && !own.startsWith("blob:")) trouble.push(`request: ${own}`);
  });
  await page.emulateMedia({ colorScheme, media: null });
  await page.setViewportSize({ width, height });
  await page.goto(url);
  await page.waitForSelector("html[data-ready]");
  return { page, trouble };
}

/** Leaves an opened report; its tab serves for the next one. */
export async function leaveReport(page: Page): Promise<void> {
  for (const event of ["console", "pageerror", "request", "dialog"] as const) page.removeAllListeners(event);
  await page.goto("about:blank");
  const context = page.context();
  freeTabs.set(context, [...(freeTabs.get(context) ?? []), page]);
}

/** Scrolls each plot in a part of the page into sight until it is drawn. */
export async function drawAll(page: Page, part = "main"): Promise<void> {
  await untilEach(page, part, "data-drawn");
}

/** Scrolls the map into sight until it shows what is set. */
export async function drawMap(page: Page): Promise<void> {
  await page.locator("#plot-trade-off").scrollIntoViewIfNeeded();
  await page.waitForSelector("#plot-trade-off[data-drawn]:not([aria-busy=true])");
}

/** Gives an opened report another window and other colours, and waits until every plot in the part is drawn anew. */
export async function changeView(page: Page, part: string, view: Required<View>): Promise<void> {
  const { width, height, colorScheme } = view;
  const isAsNow = await page.evaluate(
    (asked) =>
      innerWidth === asked.width &&
      matchMedia("(prefers-color-scheme: dark)").matches === (asked.colorScheme === "dark"),
    view,
  );
  if (isAsNow) return;
  await page.evaluate((selector) => {
    for (const figure of document.querySelectorAll<HTMLElement>(`:is(${selector}) figure.plot`)) {
      delete figure.dataset.drawnAnew;
      const area = figure.querySelector(".plot-area") as unknown as {
        once(event: string, then: () => void): void;
      };
      area.once("plotly_afterplot", () => {
        figure.dataset.drawnAnew = "true";
      });
    }
  }, part);
  await page.emulateMedia({ colorScheme });
  await page.setViewportSize({ width, height });
  await untilEach(page, part, "data-drawn-anew");
}

async function untilEach(page: Page, part: string, attribute: string): Promise<void> {
  const ids = await page.evaluate(
    (selector) =>
      [...document.querySelectorAll(selector)].flatMap((element) => {
        for (const drawer of element.querySelectorAll<HTMLDetailsElement>("details.evidence"))
          drawer.open = true;
        return [...element.querySelectorAll("figure.plot")].map((figure) => figure.id);
      }),
    part,
  );
  for (const id of ids) {
    await page.locator(`[id="${id}"]`).scrollIntoViewIfNeeded();
    await page.waitForSelector(`[id="${id}"][${attribute}]`);
  }
}
