import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, inject, test } from "vitest";
import { parse, stringify } from "yaml";
import { type Results, resultsSchema } from "../../src/report/results/results.js";
import { secondLook } from "../../src/study/demo/study-file-text.js";
import { keepFits, takeKeptFits } from "../make/kept-fits.js";
import { runCli } from "../make/run-cli.js";
import { type Browser, startChromium, withoutChromium } from "./chromium.js";
import { drawMap, leaveReport, openReport, type ReportFile } from "./open-report.js";

const { folder: demo } = inject("demo")!;
const folder = mkdtempSync(join(tmpdir(), "frostline-first-screen-"));

const reportIn = (out: string): ReportFile => ({
  url: pathToFileURL(join(out, "report.html")).href,
  bytes: 0,
});

/** Two of the demo's compounds, today's tread and the one with more carbon black, with a study file. */
function assessed(name: string, study: string): string {
  const inputs = join(folder, name);
  mkdirSync(inputs);
  for (const file of [
    "Birch 60 Temperaturdurchläufe.csv",
    "Filler series Birch 66.csv",
    "Routine properties winter trial.csv",
    "Perda por abrasão.txt",
    secondLook,
  ]) {
    cpSync(join(demo, "exports", file), join(inputs, file));
  }
  writeFileSync(join(inputs, "study.yaml"), study);
  const out = join(folder, `${name} report`);
  takeKeptFits(out);
  expect(runCli(["assess", inputs, "--out", out, "--quiet"]).status).toBe(0);
  keepFits(out);
  return out;
}

const textOf = async (page: Page, id: string) =>
  ((await page.locator(`#${id}`).textContent()) ?? "").replace(/\s+/g, " ").trim();

describe.skipIf(withoutChromium)("the first screen of the demo", () => {
  let browser: Browser;
  const study = readFileSync(join(demo, "exports", "study.yaml"), "utf8");
  let out = "";
  let results: Results;

  beforeAll(async () => {
    browser = await startChromium();
    out = assessed("two", study);
    results = resultsSchema.parse(JSON.parse(readFileSync(join(out, "results.json"), "utf8")));
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test("says which compound to take, why and with which doubt, at the coldest use that is asked about", async () => {
    const { page, trouble } = await openReport(browser.context, reportIn(join(demo, "report")), {
      height: 900,
    });
    const sentence = await textOf(page, "answer-sentence");
    expect(sentence).toMatch(
      /^Birch 66 would meet all five requirements with a probability of more than 0\.99, if the rebound holds/,
    );
    expect(sentence).toContain("from small strain it is an upper bound in tendency");
    const first = page.locator("#answer-card tbody tr").first();
    expect(await first.textContent()).toContain("Birch 66");
    const box = (await first.boundingBox())!;
    expect(box.y + box.height).toBeLessThan(500);
    expect(await page.locator(".setting-words").first().textContent()).toContain("−20\u202f°C");
    expect(trouble).toEqual([]);
    await leaveReport(page);
  });

  test.each([1280, 768, 390])("breaks no word and cuts nothing off, %i pixels wide", async (width) => {
    const { page } = await openReport(browser.context, reportIn(join(demo, "report")), { width });
    const found = await page.evaluate(() => {
      const faults: string[] = [];
      if (document.documentElement.scrollWidth > innerWidth) faults.push("the page is wider than the screen");
      const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
      const range = document.createRange();
      let words = 0;
      for (let node = walker.nextNode() as Text | null; node; node = walker.nextNode() as Text | null) {
        const element = node.parentElement!;
        if (!element.checkVisibility() || element.closest("script, style, svg, pre, .hash, .visually-hidden"))
          continue;
        for (const match of node.data.matchAll(/[\p{L}\p{N}]+/gu)) {
          // A hash is no word.
          if (match[0].length > 32) continue;
          words++;
          range.setStart(node, match.index);
          range.setEnd(node, match.index + match[0].length);
          const boxes = [...range.getClientRects()];
          if (new Set(boxes.map(({ top }) => Math.round(top))).size > 1) faults.push(`broken: ${match[0]}`);
          const isScrolled = element.closest(".table-frame, .matrix-frame") !== null;
          if (!isScrolled && boxes.some(({ right }) => right > innerWidth + 1))
            faults.push(`off the screen: ${match[0]}`);
        }
      }
      for (const element of document.querySelectorAll<HTMLElement>("main *, header *")) {
        if (!element.checkVisibility() || element.closest("svg, .plot-area, .visually-hidden")) continue;
        const { overflowX, overflowY } = getComputedStyle(element);
        if (
          (overflowX === "hidden" && element.scrollWidth > element.clientWidth + 1) ||
          (overflowY === "hidden" && element.scrollHeight > element.clientHeight + 1)
        )
          faults.push(`cut off: ${element.tagName} ${element.textContent?.slice(0, 40)}`);
      }
      // A table that scrolls keeps its first column.
      for (const frame of document.querySelectorAll<HTMLElement>(".table-frame, .matrix-frame")) {
        if (!frame.checkVisibility() || frame.scrollWidth <= frame.clientWidth) continue;
        const head = frame.querySelector("tbody th");
        if (head !== null && getComputedStyle(head).position !== "sticky")
          faults.push(`first column goes: ${frame.getAttribute("aria-label")}`);
      }
      return { faults: [...new Set(faults)], words };
    });
    expect(found.words).toBeGreaterThan(2000);
    expect(found.faults).toEqual([]);
    await leaveReport(page);
  });

  test("limits moved and a requirement added on the page, copied out and run again give the same answer", async () => {
    const page = await browser.context.newPage();
    await page.addInitScript(() => {
      Object.defineProperty(navigator, "clipboard", {
        value: {
          writeText: async (text: string) => {
            document.documentElement.dataset.copied = text;
          },
        },
      });
    });
    await page.goto(reportIn(out).url);
    await page.waitForSelector("html[data-ready]");
    const before = await textOf(page, "decision-table");
    const limit = (name: string) => page.locator(`#limits [name=${name}]`);
    // Rebound at least 64.5 %, in the middle of what is open; wear at most 145 mm³; hardness no more asked.
    await limit("atLeast2").fill("64,5");
    await limit("atMost3").fill("145");
    await limit("on4").uncheck();
    // A force, of which the report holds no draws, so that it is predicted before it is judged.
    await limit("newQuantity").selectOption("peak force");
    await limit("newUse").selectOption("winter morning");
    await limit("newBound").selectOption("atMost");
    await limit("newLimit").fill("400");
    await limit("add").click();
    await page.waitForFunction(
      () =>
        document.getElementById("decision-table")!.dataset.judged === "yes" &&
        document.getElementById("decision-table")!.textContent!.includes("peak force at most 400"),
    );
    expect(await page.locator("#levers-limits").isVisible()).toBe(true);
    const sentence = await textOf(page, "answer-sentence");
    expect(sentence).toMatch(/^With the limits set on this page: /);
    const shown = await textOf(page, "decision-table");
    expect(shown).not.toBe(before);
    await page.getByRole("button", { name: "Copy as requirements of a study.yaml" }).click();
    const block = (await page.evaluate(() => document.documentElement.dataset.copied))!;
    await page.getByRole("button", { name: "Copy as study.yaml" }).click();
    const whole = (await page.evaluate(() => document.documentElement.dataset.copied))!;
    await page.close();
    expect(parse(whole).requirements).toEqual(parse(block).requirements);
    const again = assessed("moved", stringify({ ...parse(study), ...parse(block) }));
    const { page: second } = await openReport(browser.context, reportIn(again));
    expect(await textOf(second, "decision-table")).toBe(shown);
    expect(`With the limits set on this page: ${await textOf(second, "answer-sentence")}`).toBe(sentence);
    await leaveReport(second);
  }, 120_000);

  test("an impossible limit is refused beside its field, and nothing moves", async () => {
    const { page } = await openReport(browser.context, reportIn(out));
    const before = await textOf(page, "decision-table");
    const field = (name: string) => page.locator(`#limits [name=${name}]`);
    await field("atMost3").fill("little");
    expect(await page.locator("#error-limit3").textContent()).toBe("a number is needed, in mm³");
    await field("atLeast2").fill("140");
    expect(await page.locator("#error-limit2").textContent()).toBe("out of range: from 0 to 100 %");
    await field("newQuantity").selectOption("indentation");
    for (const [entry, refused] of [
      ["deep", "a number is needed, in mm"],
      ["", "a number is needed, in mm"],
    ]) {
      await field("newLimit").fill(entry);
      await field("add").click();
      expect(await page.locator("#error-add").textContent()).toBe(refused);
    }
    // What is asked already is not asked twice.
    await field("newQuantity").selectOption("verdict");
    await field("newUse").selectOption("cobbles");
    await field("add").click();
    await page.waitForFunction(() => document.getElementById("decision-table")!.dataset.judged === "yes");
    expect(await textOf(page, "decision-table")).not.toBe(before);
    await field("add").click();
    expect(await page.locator("#error-add").textContent()).toBe("this is asked already");
    await page.getByRole("button", { name: "Remove rubbery (cobbles)" }).click();
    expect(await page.locator("#levers-limits").isVisible()).toBe(false);
    expect(await textOf(page, "decision-table")).toBe(before);
    expect(page.url()).not.toContain("#");
    await leaveReport(page);
  });

  test("two compounds side by side: differences from paired draws, curves with bands, all in a link", async () => {
    const { page, trouble } = await openReport(browser.context, reportIn(out));
    const pin = (name: string) => page.getByRole("button", { name: `Pin ${name} side by side` }).first();
    await pin("Birch 60").click();
    expect(await textOf(page, "differences")).toContain("Pin two to four compounds");
    await pin("Birch 66").click();
    const table = page.locator("#differences table");
    await table.waitFor();
    // The reference is pinned first, so the ratio is the one of results.json, which a cut-off moves for both alike.
    const outlook = (name: string) =>
      results.compounds
        .find((one) => one.name === name)!
        .outlooks.find(({ temperature_C }) => temperature_C === -20)!;
    const [base, other] = [outlook("Birch 60"), outlook("Birch 66")];
    const row = async (label: string) =>
      (
        (await table
          .locator("tr", { has: page.getByRole("rowheader", { name: label, exact: true }) })
          .textContent()) ?? ""
      )
        .replaceAll("\u202f", " ")
        .replace(/\s+/g, " ");
    const { ratio, low, high } = other.grip!.relativeToReference!;
    expect(await row("Grip µ")).toContain(
      `${ratio.toFixed(2)} times ${low.toFixed(2)} to ${high.toFixed(2)}`,
    );
    expect(await row("Grip µ")).toMatch(
      high < 1 || low > 1 ? /(?<!not )distinguishable$/ : /not distinguishable$/,
    );
    const points = 100 * (other.rebound!.fraction - base.rebound!.fraction);
    expect(await row("Rebound")).toContain(
      `${points < 0 ? "−" : "+"}${Math.abs(points).toFixed(1)} percentage points`,
    );
    const force = other.cushioning!.relativeToReference!;
    expect(await row("Peak force")).toContain(`${force.ratio.toFixed(2)} times`);
    // 142 and 112 mm³ of seven repeats each are told apart; a hardness without repeats is not.
    expect(await row("Abrasion loss, measured")).toMatch(/−30 mm³ .*(?<!not )distinguishable$/);
    expect(await row("Hardness, measured")).toContain("not known: no repeats");
    await page.locator("#plot-all-grip").scrollIntoViewIfNeeded();
    await page.waitForSelector("#plot-all-grip[data-drawn]");
    const names = await page.evaluate(() => {
      const area = document.querySelector("#plot-all-grip .plot-area") as unknown as {
        data: { name?: string; fill?: string }[];
      };
      return area.data.map(({ name, fill }) => (fill === "tonexty" ? "band" : name)).filter(Boolean);
    });
    expect(names.filter((name) => name === "band")).toHaveLength(2);
    expect(names.filter((name) => name !== "band")).toEqual(["Birch 60", "Birch 66"]);
    expect(page.url()).toContain("pin=birch-60%2Cbirch-66");
    const shown = await textOf(page, "differences");
    const url = page.url();
    await leaveReport(page);
    const { page: another } = await openReport(browser.context, { url, bytes: 0 });
    await another.locator("#differences table").waitFor();
    expect(await textOf(another, "differences")).toBe(shown);
    await leaveReport(another);
    expect(trouble).toEqual([]);
  });

  test("the map's axes are any two of what is predicted and measured, and its table follows", async () => {
    const { page } = await openReport(browser.context, reportIn(out));
    const offered = await page.locator("#axes select[name=x] option").allTextContents();
    for (const axis of [
      "Grip µ (hysteresis)",
      "Rebound in %",
      "Peak force in N",
      "Abrasion loss in mm³, measured",
    ])
      expect(offered).toContain(axis);
    await page.locator("#axes select[name=x]").selectOption("abrasion loss");
    await page.locator("#axes select[name=y]").selectOption("hardness");
    expect(await textOf(page, "map-title")).toBe("Hardness against abrasion loss");
    expect(await page.locator("#map-table thead th").allTextContents()).toEqual([
      "Compound",
      "Verdict",
      "Hardness in Shore A",
      "Abrasion loss in mm³",
    ]);
    await drawMap(page);
    const points = await page.evaluate(() => {
      const area = document.querySelector("#plot-trade-off .plot-area") as unknown as {
        data: { customdata?: number[]; x: number[]; y: number[] }[];
      };
      return area.data.flatMap(({ customdata = [], x, y }) => customdata.map((_, k) => [x[k], y[k]]));
    });
    const measured = (quantity: string) =>
      results.compounds.map(({ properties }) => properties.find((one) => one.quantity === quantity)!.value);
    const [wear, hardness] = [measured("abrasion loss"), measured("hardness")];
    expect(points.sort((a, b) => a[0] - b[0])).toEqual(
      wear.map((value, k) => [value, hardness[k]]).sort((a, b) => a[0] - b[0]),
    );
    expect(page.url()).toContain("x=abrasion+loss&y=hardness");
    await leaveReport(page);
  });
});
