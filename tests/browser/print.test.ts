import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { inflateSync } from "node:zlib";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, inject, test } from "vitest";
import { makeAssessment } from "../report/make-assessment.js";
import { type Browser, startChromium, withoutChromium } from "./chromium.js";
import { leaveReport, openReport, type ReportFile, removeReports, writeReport } from "./open-report.js";

let browser: Browser;
/** The demo's report as paper has it. */
let page: Page;
let pagesOfDemo: number;
let fullnessOfDemo: number[];
const demoTrouble: string[] = [];
const two = makeAssessment({ compounds: 2, draws: 20 });

beforeAll(async () => {
  browser = await startChromium();
  const { folder } = inject("demo")!;
  const file = { url: pathToFileURL(join(folder, "report", "report.html")).href, bytes: 0 };
  const report = await opened(file);
  page = report.page;
  const pdf = await pdfOf(page);
  pagesOfDemo = countPages(pdf);
  fullnessOfDemo = fullness(pdf);
  await asPrinted(page);
  demoTrouble.push(...report.trouble);
});

afterAll(async () => {
  await page?.close();
  await browser?.close();
  removeReports();
});

/** What stands between the margins of an A4 page, in pixels. */
const paper = { width: 672, height: 1005 };

async function opened(file: ReportFile, colorScheme: "light" | "dark" = "light") {
  const report = await openReport(browser.context, file, { colorScheme });
  await report.page.waitForFunction(() => "Plotly" in window);
  return report;
}

async function pdfOf(page: Page): Promise<Buffer> {
  const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true });
  expect(pdf.toString("latin1", 0, 4)).toBe("%PDF");
  return pdf;
}

const countPages = (pdf: Buffer) => pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
const pagesOf = async (page: Page) => countPages(await pdfOf(page));

/**
 * How far down each page its last line of text stands, as a share of the page. The browser writes the pages' text in
 * the coordinates of the whole flow, one page's height after the other; what stands in the margins has the sheet's own.
 */
function fullness(pdf: Buffer): number[] {
  const text = pdf.toString("latin1");
  const starts = new Map([...text.matchAll(/^(\d+) 0 obj\b/gm)].map(({ 1: id, index }) => [id, index]));
  const objectAt = (start: number) => text.slice(start, text.indexOf("endobj", start));
  return [...starts.values()]
    .map(objectAt)
    .flatMap((object) => {
      const contents = /\/Type\s*\/Page\b/.test(object)
        ? /\/Contents (\d+) 0 R/.exec(object)?.[1]
        : undefined;
      return contents === undefined ? [] : [contents];
    })
    .map((contents, k) => {
      const start = starts.get(contents)!;
      const object = objectAt(start);
      const from = start + object.indexOf("stream\n") + "stream\n".length;
      const length = Number(/\/Length (\d+)/.exec(object)![1]);
      const drawn = inflateSync(pdf.subarray(from, from + length)).toString("latin1");
      const lines_px = [...drawn.matchAll(/ ([\d.]+) Tm/g)].map(([, y]) => Number(y) - k * paper.height);
      return Math.max(...lines_px.filter((y) => y <= paper.height)) / paper.height;
    });
}

/** The page as paper has it, held there so that it can be looked at. */
async function asPrinted(page: Page): Promise<void> {
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  await page.emulateMedia({ media: "print" });
  await page.setViewportSize(paper);
  // Paper has no scroll bar.
  const bar = await page.evaluate(() => innerWidth - document.documentElement.clientWidth);
  if (bar > 0) await page.setViewportSize({ ...paper, width: paper.width + bar });
}

describe.skipIf(withoutChromium)("the short print", () => {
  test("of the demo has at most 20 pages, of which each compound takes one", async () => {
    expect(pagesOfDemo).toBeGreaterThan(12);
    expect(pagesOfDemo).toBeLessThanOrEqual(20);
    const sections = await page
      .locator("details.compound")
      .evaluateAll((all) => all.map((one) => ({ id: one.id, height: one.getBoundingClientRect().height })));
    expect(sections).toHaveLength(12);
    for (const { id, height } of sections) {
      expect(height, id).toBeLessThanOrEqual(paper.height);
      expect(height, id).toBeGreaterThan(paper.height / 2);
    }
    expect(demoTrouble).toEqual([]);
  });

  test("leaves no page less than a third full but the last", () => {
    expect(fullnessOfDemo).toHaveLength(pagesOfDemo);
    for (const [k, share] of fullnessOfDemo.slice(0, -1).entries())
      expect(share, `page ${k + 1}`).toBeGreaterThan(1 / 3);
  });

  test("takes one page more for one compound more", async () => {
    const pages = [];
    for (const compounds of [2, 4]) {
      const report = await opened(writeReport(`of-${compounds}`, makeAssessment({ compounds, draws: 10 })));
      pages.push(await pagesOf(report.page));
      await leaveReport(report.page);
    }
    expect(pages[1] - pages[0]).toBe(2);
  });

  test("draws the plots it shows and no others, with labels that are neither cut, turned nor laid over each other", async () => {
    const plots = await page.locator("details.compound figure.plot").evaluateAll((figures) =>
      figures.map((figure) => {
        const area = figure.querySelector(".plot-area")!.getBoundingClientRect();
        const boxes = (selector: string) =>
          [...figure.querySelectorAll(selector)].map((label) => label.getBoundingClientRect());
        const labels = boxes(
          ".xtick text, .ytick text, .y2tick text, .xtitle, .ytitle, .y2title, .legendtext",
        );
        const ticks = boxes(".xtick text");
        return {
          id: figure.id,
          isShown: figure.checkVisibility(),
          isDrawn: figure.querySelector("svg.main-svg") !== null,
          turned: [...figure.querySelectorAll(".xtick text")].filter((label) =>
            /rotate\((?!0[,)])/.test(label.getAttribute("transform") ?? ""),
          ).length,
          cut: labels.filter(
            (box) =>
              box.left < area.left - 2 ||
              box.right > area.right + 2 ||
              box.top < area.top - 2 ||
              box.bottom > area.bottom + 2,
          ).length,
          overlapping: ticks.filter((box, i) =>
            ticks.some((other, k) => k > i && other.left < box.right && box.left < other.right),
          ).length,
        };
      }),
    );
    expect(plots.filter(({ isShown }) => isShown).length).toBe(12 * 4);
    for (const { id, isShown, isDrawn, ...faults } of plots) {
      expect(isDrawn, id).toBe(isShown);
      if (isShown) expect({ id, ...faults }).toEqual({ id, turned: 0, cut: 0, overlapping: 0 });
    }
  });

  test("has no link that leads to nothing on paper, and nothing wider than the page", async () => {
    const dead = await page.locator('a[href^="#"]').evaluateAll((links) =>
      links
        .filter((link) => link.checkVisibility())
        .map((link) => decodeURIComponent(link.getAttribute("href")!.slice(1)))
        .filter((id) => document.getElementById(id)?.checkVisibility() !== true),
    );
    expect(dead).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(paper.width);
    // What a link says on the screen stands in words here.
    // biome-ignore lint/performance/useDomNodeTextContent: what is hidden on paper must not count.
    const section = await page.locator("#birch-60").innerText();
    expect(section).toContain("Birch 60 Temperaturdurchläufe.csv");
    expect(section).not.toMatch(/\bfile \d/);
  });

  test("is in print colours, without anything to press, and leaves the page as it was", async () => {
    const { page: dark, trouble } = await opened(writeReport("print", two), "dark");
    expect(await pagesOf(dark)).toBeGreaterThan(3);
    await dark.emulateMedia({ media: "print" });
    for (const control of ["button", "input", "select", "details.data", "nav", "details.evidence"]) {
      const all = dark.locator(`:is(main, header) ${control}:not(.sort-button, .line-button)`);
      expect(await all.count(), control).toBeGreaterThan(0);
      expect(await all.filter({ visible: true }).count(), control).toBe(0);
    }
    expect(await dark.evaluate(() => document.documentElement.dataset.printing)).toBeUndefined();
    const widths = await dark.evaluate(() => [
      document.body.style.width,
      ...[...document.styleSheets].flatMap((sheet) =>
        [...sheet.cssRules].flatMap((rule) =>
          rule instanceof CSSMediaRule && rule.cssText.includes("@page") ? rule.media.mediaText : [],
        ),
      ),
    ]);
    expect(widths[0]).toBe("");
    expect(new Set(widths.slice(1))).toEqual(new Set(["print"]));
    expect(trouble).toEqual([]);
    await leaveReport(dark);
  });
});

describe.skipIf(withoutChromium)("the full print", () => {
  test("is asked for by a switch that the address keeps, and has all plots and the evidence", async () => {
    const { page: full, trouble } = await opened(writeReport("full", two));
    const short = await pagesOf(full);
    await full.getByRole("checkbox", { name: "with all evidence" }).check();
    expect(new URL(full.url()).hash).toBe("#print=full");
    expect(await pagesOf(full)).toBeGreaterThan(short + 2);
    expect(await full.locator("figure.plot:not([data-drawn])").count()).toBe(0);
    expect(await full.locator("details.evidence[open]").count()).toBe(0);
    await full.getByRole("checkbox", { name: "with all evidence" }).uncheck();
    expect(new URL(full.url()).hash).toBe("");
    await leaveReport(full);

    const linked = await browser.context.newPage();
    await linked.goto(`${writeReport("linked", two).url}#birch-60&print=full`);
    await linked.waitForSelector("html[data-ready]");
    expect(await linked.getByRole("checkbox", { name: "with all evidence" }).isChecked()).toBe(true);
    await linked.emulateMedia({ media: "print" });
    await linked.evaluate(() => dispatchEvent(new Event("beforeprint")));
    expect(await linked.locator("#birch-60 details.evidence h4").first().isVisible()).toBe(true);
    await linked.close();
    expect(trouble).toEqual([]);
  });
});
