import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { unzipSync } from "fflate";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Material } from "../../src/fit/material.js";
import type { Outlook } from "../../src/predict/outlook.js";
import { outlookOf } from "../../src/predict/outlook-of.js";
import { defaultPredictionSettings } from "../../src/predict/prediction-settings.js";
import type { Use } from "../../src/predict/use.js";
import { answerOfStudy, bestFirst } from "../../src/report/html/answer/answer.js";
import { composedOutlook, startingUse } from "../../src/report/html/answer/composed-use.js";
import { hostileNames } from "../report/hostile-names.js";
import { asking, inventedRequirements, inventedUses, makeAssessment } from "../report/make-assessment.js";
import { type Browser, startChromium, withoutChromium } from "./chromium.js";
import {
  changeView,
  drawAll,
  drawMap,
  leaveReport,
  openReport,
  type ReportFile,
  removeReports,
  writeReport,
} from "./open-report.js";

let browser: Browser;
let six: ReportFile;
const assessment = asking(makeAssessment({ draws: 60 }), inventedRequirements);

beforeAll(async () => {
  browser = await startChromium();
  six = writeReport("six", assessment);
});

afterAll(async () => {
  await browser?.close();
  removeReports();
});

/** Twelve compounds, for the map. */
const twelve = makeAssessment({ compounds: 12, draws: 10 });

/** The numbers behind a plot, as its CSV button hands them out: in full. */
async function csvOf(page: Page, figure: string): Promise<string[][]> {
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.locator(figure).getByRole("button", { name: /CSV/ }).click(),
  ]);
  const text = readFileSync(await download.path(), "utf8").replace(/^\ufeff/, "");
  return text
    .split("\r\n")
    .filter((line) => line !== "" && !line.startsWith('"#'))
    .map((line) =>
      [...line.matchAll(/"((?:[^"]|"")*)"|([^,]+)|(?<=,)(?=,|$)/g)].map((m) => m[1] ?? m[2] ?? ""),
    );
}

function expectClose(shown: string, exact: number | undefined, what: string): void {
  expect(exact, what).toBeDefined();
  expect(Math.abs(Number(shown) / exact! - 1), `${what}: ${shown} against ${exact}`).toBeLessThan(1e-9);
}

function expectSameOutlooks(rows: string[][], outlooks: (Outlook | undefined)[]): void {
  const [head, ...body] = rows;
  const column = (name: string) => head.indexOf(name);
  expect(body).toHaveLength(outlooks.length);
  let compared = 0;
  for (const [index, outlook] of outlooks.entries()) {
    const row = body[index];
    if (outlook?.cold) {
      expect(row[column("Verdict")]).toBe(outlook.cold.verdict);
      expectClose(row[column("Above glassy in K")], outlook.cold.marginToGlassy_K ?? undefined, "margin");
      expectClose(row[column("Contact frequency in Hz")], outlook.cold.contactFrequency_Hz, "frequency");
    }
    if (outlook?.grip) {
      expectClose(row[column("Grip µ")], outlook.grip.frictionCoefficient, "grip");
      expectClose(row[column("Grip low")], outlook.grip.low, "grip low");
      expectClose(row[column("Grip high")], outlook.grip.high, "grip high");
      if (outlook.grip.relativeToReference)
        expectClose(row[column("Grip to reference")], outlook.grip.relativeToReference.ratio, "ratio");
    }
    if (outlook?.rebound) {
      expectClose(row[column("Rebound in %")], 100 * outlook.rebound.fraction, "rebound");
      expectClose(row[column("Rebound low in %")], 100 * outlook.rebound.low, "rebound low");
      compared++;
    }
  }
  expect(compared).toBeGreaterThan(2);
}

describe.skipIf(withoutChromium)("the report in a browser", () => {
  test("draws every plot with its traces, without a message or a request", async () => {
    const three = writeReport("three", makeAssessment({ compounds: 3, draws: 20 }));
    const { page, trouble } = await openReport(browser.context, three);
    await drawAll(page);
    const plots = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>("figure.plot")].map((figure) => {
        const area = figure.querySelector(".plot-area") as unknown as { data?: { x: unknown[] }[] };
        return {
          id: figure.id,
          traces: area.data?.length ?? 0,
          points: area.data?.reduce((sum, trace) => sum + trace.x.length, 0) ?? 0,
          paths: figure.querySelectorAll(".scatterlayer .trace").length,
        };
      }),
    );
    // Eight plots of each compound; the map; four side by side.
    expect(plots.length).toBe(3 * 8 + 1 + 4);
    for (const plot of plots) {
      expect(plot.traces, plot.id).toBeGreaterThan(0);
      expect(plot.paths, plot.id).toBeGreaterThan(0);
      expect(plot.points, plot.id).toBeGreaterThan(3);
    }
    expect(trouble).toEqual([]);
    await leaveReport(page);
  });

  test("answers on the first screen before any script runs", async () => {
    const session = await browser.context.newPage();
    const cdp = await browser.context.newCDPSession(session);
    await cdp.send("Emulation.setScriptExecutionDisabled", { value: true });
    await session.setViewportSize({ width: 1280, height: 800 });
    await session.goto(six.url);
    const seen = await session.locator("body").textContent();
    expect(seen).toContain("glassy");
    expect(seen).toContain("A screening prediction, no friction or safety certificate");
    const card = await session.locator("#answer-card").boundingBox();
    expect(card!.y + card!.height).toBeLessThan(800);
    const rows = await session.locator("#answer-card tbody tr th").allTextContents();
    const order = bestFirst(answerOfStudy(assessment.results, assessment.uses));
    expect(rows.map((row) => row.replace(/ reference$/, "").trim())).toEqual(
      order.map((index) => assessment.results.compounds[index].name),
    );
    expect(await session.locator("#answer-sentence").textContent()).toContain("No compound meets");
    await session.close();
  });

  test("shows the numbers of results.json at the study's own settings, to 1e-9", async () => {
    const { page } = await openReport(browser.context, six);
    const start = startingUse(assessment.results, assessment.uses);
    await page.waitForSelector("#card[data-intervals=yes]");
    expectSameOutlooks(
      await csvOf(page, "#plot-trade-off"),
      assessment.results.compounds.map((compound) => composedOutlook(compound, start!)),
    );
    // And in another use, chosen by its name.
    const use = inventedUses.find(({ temperature_C }) => temperature_C === -10)!;
    await page.locator("#controls select[name=use]").selectOption({ label: use.name });
    await page.waitForSelector("#card[data-intervals=yes]");
    expectSameOutlooks(
      await csvOf(page, "#plot-trade-off"),
      assessment.results.compounds.map((compound) => compound.outlooks.find((o) => o.use === use.name)),
    );
    // And back in the first.
    const label = await page
      .locator("#controls select[name=use] option")
      .nth(inventedUses.length)
      .textContent();
    await page.locator("#controls select[name=use]").selectOption({ label: label! });
    await page.waitForSelector("#card[data-intervals=yes]");
    expectSameOutlooks(
      await csvOf(page, "#plot-trade-off"),
      assessment.results.compounds.map((compound) => compound.outlooks.find((o) => o.use === label)),
    );
    expect(start!.use.temperature_C).toBe(-10);
    await leaveReport(page);
  });

  test("predicts anew as the library does when temperature, speed and pressure change, and comes back", async () => {
    const { page, trouble } = await openReport(browser.context, six);
    const before = await page.locator("#verdict-matrix").textContent();
    await page.locator("#controls input[name=temperature]").fill("-5.5");
    await page.locator("#controls input[name=speed]").fill("8");
    await page.locator("#controls input[name=pressure]").fill("0.6");
    await page.waitForSelector("#card[data-intervals=yes]");
    expect(await page.locator("#changed").textContent()).toContain("The contact was changed");
    const [use] = inventedUses;
    const changed = {
      ...use,
      temperature_C: -5.5,
      sliding: { ...use.sliding!, speed_m_s: 8, pressure_Pa: 0.6e6 },
    };
    const expected = assessment.compounds.map(({ material }) => {
      const { outlook } = outlookOf(material, changed, defaultPredictionSettings, null);
      return outlook;
    });
    expectSameOutlooks(await csvOf(page, "#plot-trade-off"), expected);
    // The verdicts of all uses follow.
    await page.waitForFunction(
      (text) => (document.getElementById("verdict-matrix") as HTMLElement).textContent !== text,
      before,
    );
    const yaml = page.getByRole("button", { name: "Copy as study.yaml" });
    expect(await yaml.count()).toBe(1);
    await page.getByRole("button", { name: "Back to the study" }).click();
    await page.waitForFunction(
      (text) => (document.getElementById("verdict-matrix") as HTMLElement).textContent === text,
      before,
    );
    expect(await page.locator("#changed").isVisible()).toBe(false);
    // A number that makes no sense is refused beside its field, with the range, and nothing else moves.
    const shown = () => page.locator("#answer, #verdicts, #trade-off .map-table").allTextContents();
    await page.locator("#controls input[name=slide]").focus();
    const kept = await shown();
    for (const [name, entry, words] of [
      ["speed", "-1", "out of range: from 0.000001 to 200 m/s"],
      ["temperature", "200", "out of range: from −120 to 150 °C"],
      ["temperature", "", "a number is needed: from −120 to 150 °C"],
      ["pressure", "soft", "a number is needed: from 0.00001 to 100 MPa"],
    ]) {
      const field = page.locator(`#controls input[name=${name}]`);
      await field.fill(entry);
      expect(await field.getAttribute("aria-invalid")).toBe("true");
      expect(await page.locator(`#error-${name}`).textContent()).toBe(words);
      expect(page.url()).not.toContain("#");
      await page.locator(`#error-${name}`).evaluate((element) => {
        element.textContent = "";
      });
      expect(await shown()).toEqual(kept);
    }
    expect(trouble).toEqual([]);
    await leaveReport(page);
  });

  /** The library's answers to the last of the quick changes: in the use that is shown, and in words in each use. */
  const afterTheLast = () => {
    const [use] = inventedUses;
    const contact = { ...use, temperature_C: -19, sliding: { ...use.sliding!, speed_m_s: 12 } };
    const outlookIn = (material: Material, one: Use) =>
      outlookOf(material, one, defaultPredictionSettings, null).outlook;
    const uses = inventedUses
      .map((one) => ({ ...one, sliding: contact.sliding }))
      .sort((a, b) => a.temperature_C - b.temperature_C);
    return {
      last: assessment.compounds.map(({ material }) => outlookIn(material, contact)),
      coldestFirst: assessment.compounds.map(({ material }) =>
        uses.map((one) => outlookIn(material, one).cold?.verdict ?? "not determined"),
      ),
    };
  };
  let expectedLast: ReturnType<typeof afterTheLast> | null = null;

  /** What a browser may lack or forbid, and what the page then does. */
  test.each([
    ["in two workers", () => Object.defineProperty(navigator, "hardwareConcurrency", { value: 2 })],
    ["in many workers", () => Object.defineProperty(navigator, "hardwareConcurrency", { value: 8 })],
    ["without workers", () => Reflect.deleteProperty(window, "Worker")],
    [
      "where workers are forbidden",
      () => {
        window.Worker = class {
          constructor() {
            throw new DOMException("forbidden", "SecurityError");
          }
        } as unknown as typeof Worker;
      },
    ],
    [
      "where a worker's script is refused",
      () => {
        const { Worker: OwnWorker } = window;
        window.Worker = class extends OwnWorker {
          constructor() {
            super("data:text/javascript,refused");
          }
        };
      },
    ],
  ])("predicts the last of many quick changes %s", async (where, before) => {
    const page = await browser.context.newPage();
    await page.addInitScript(before);
    await page.goto(six.url);
    await page.waitForSelector("html[data-ready]");
    await page.evaluate(() => {
      const field = (name: string) =>
        document.querySelector<HTMLInputElement>(`#controls input[name=${name}]`)!;
      const set = (name: string, value: number) => {
        field(name).value = String(value);
        field(name).dispatchEvent(new Event("input", { bubbles: true }));
      };
      for (let k = 0; k < 12; k++) {
        set("temperature", -30 + k);
        set("speed", 1 + k);
      }
    });
    await page.waitForSelector("#card[data-intervals=yes]");
    const workers = where === "in two workers" ? 2 : where === "in many workers" ? 6 : 0;
    expect(page.workers()).toHaveLength(workers);
    expectedLast ??= afterTheLast();
    const { last, coldestFirst } = expectedLast;
    expectSameOutlooks(await csvOf(page, "#plot-trade-off"), last);
    await page.waitForSelector("#matrix[data-judged=yes]");
    const shown = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>("#verdict-matrix tbody tr")].map((row) => [
        Number(row.dataset.compound),
        [...row.querySelectorAll(".cell .word")].map((word) => word.textContent),
      ]),
    );
    expect(shown).toHaveLength(assessment.compounds.length);
    for (const [compound, words] of shown as [number, string[]][])
      expect(words).toEqual(coldestFirst[compound]);
    await page.close();
  });

  test.each([1280, 488, 390])("names no compound over another on the map, %i pixels wide", async (width) => {
    const { page } = await openReport(browser.context, writeReport("twelve", twelve), { width });
    for (const use of inventedUses) {
      await page.locator("#controls select[name=use]").selectOption({ label: use.name });
      await page.waitForSelector("#card[data-intervals=yes]");
      await drawMap(page);
      const { names, area, legend, svg } = await page.evaluate(() => {
        const box = (element: Element) => {
          const { left, right, top, bottom } = element.getBoundingClientRect();
          return { left, right, top, bottom };
        };
        const plot = document.querySelector("#plot-trade-off .plot-area")!;
        return {
          names: [...plot.querySelectorAll(".textpoint text, .annotation-text")]
            .filter((text) => text.textContent?.trim() !== "")
            .map(box),
          area: box(plot.querySelector(".nsewdrag")!),
          legend: box(plot.querySelector(".legend .bg")!),
          svg: box(plot.querySelector(".main-svg")!),
        };
      });
      expect(legend.top).toBeGreaterThanOrEqual(svg.top);
      expect(legend.bottom).toBeLessThanOrEqual(area.top);
      const drawn = twelve.results.compounds.filter(({ outlooks }) => {
        const outlook = outlooks.find((candidate) => candidate.use === use.name);
        return outlook?.grip && outlook.rebound;
      });
      expect(names, use.name).toHaveLength(drawn.length);
      for (const [i, a] of names.entries()) {
        for (const b of names.slice(0, i)) {
          // Letters end a little inside their line's box.
          const apart =
            a.left >= b.right || b.left >= a.right || a.top >= b.bottom - 1 || b.top >= a.bottom - 1;
          expect(apart, `${use.name}: ${JSON.stringify([a, b])}`).toBe(true);
        }
        expect(a.left).toBeGreaterThanOrEqual(area.left - 0.5);
        expect(a.right).toBeLessThanOrEqual(area.right + 0.5);
      }
    }
    await leaveReport(page);
  });

  test("hands out each plot as SVG, PNG, CSV and workbook, and its data as a table", async () => {
    const { page, trouble } = await openReport(browser.context, six);
    const figure = page.locator("#plot-sweep-birch-60");
    await figure.scrollIntoViewIfNeeded();
    await page.waitForSelector("#plot-sweep-birch-60[data-drawn]");
    const take = async (name: RegExp) => {
      const [download] = await Promise.all([
        page.waitForEvent("download"),
        figure.getByRole("button", { name }).click(),
      ]);
      return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
    };
    const svg = await take(/SVG/);
    expect(svg.name).toBe("Temperature-sweep-Birch-60.svg");
    expect(svg.bytes.toString("utf8")).toMatch(/^<svg[^>]+xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
    expect(svg.bytes.toString("utf8")).toContain("Modulus in MPa");
    const png = await take(/PNG/);
    expect(png.bytes.subarray(1, 4).toString("latin1")).toBe("PNG");
    const csv = (await take(/CSV/)).bytes.toString("utf8");
    const sweep = assessment.compounds[0].measurements[0];
    if (sweep.kind === "rebound") throw new Error("the first measurement is a sweep");
    const hash = assessment.results.inputs[0].sha256;
    expect(csv).toContain(hash);
    expect(csv.split("\r\n").filter((line) => /^-?\d/.test(line))).toHaveLength(sweep.temperature_C.length);
    const workbook = await take(/XLSX/);
    expect(workbook.name).toBe("Temperature-sweep-Birch-60.xlsx");
    const sheet = unzipSync(workbook.bytes)["xl/worksheets/sheet1.xml"];
    expect(new TextDecoder().decode(sheet).match(/<row /g)).toHaveLength(csv.trim().split("\r\n").length);
    await figure.locator("details.data summary").click();
    await figure.locator("table.data").waitFor();
    expect(await figure.locator("table.data tbody tr").count()).toBe(sweep.temperature_C.length);
    // The range can be set without dragging.
    await figure.getByLabel(/Horizontal axis from/).fill("-50");
    await figure.getByLabel(/Horizontal axis to/).fill("-20");
    await figure.getByRole("button", { name: "Set" }).click();
    await page.waitForFunction(() => {
      const area = document.querySelector("#plot-sweep-birch-60 .plot-area") as unknown as {
        layout: { xaxis: { range: number[] } };
      };
      return area.layout.xaxis.range.join() === "-50,-20";
    });
    expect(trouble).toEqual([]);
    await leaveReport(page);
  });

  test("shows hostile names as text, in the tables and in the plots", async () => {
    const file = writeReport(
      "hostile",
      makeAssessment({ compounds: hostileNames.length, names: hostileNames, draws: 10 }),
    );
    const { page, trouble } = await openReport(browser.context, file);
    page.on("dialog", () => trouble.push("a dialog opened"));
    await drawAll(page, "#trade-off, #side-by-side, details.compound:last-of-type");
    const names = await page.locator("#verdict-matrix tbody th bdi").allTextContents();
    const expected = hostileNames.map((name) => name.replace(/\p{Cc}/gu, "\ufffd"));
    expect(names.sort()).toEqual(expected.sort());
    const map = await page.locator("#plot-trade-off .plot-area").textContent();
    expect(map).toContain("<script>alert(1)");
    expect(await page.locator("main img, main script, main b[onmouseover]").count()).toBe(0);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(wide).toBeLessThanOrEqual(1280);
    expect(trouble).toEqual([]);
    await leaveReport(page);
  });

  test("can be worked with the keyboard alone", async () => {
    const { page } = await openReport(browser.context, six);
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe("Skip to the answer");
    const reached = new Set<string>();
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press("Tab");
      reached.add(
        await page.evaluate(() => {
          const element = document.activeElement as HTMLElement;
          return (
            element.getAttribute("name") ?? element.getAttribute("aria-label") ?? element.textContent ?? ""
          );
        }),
      );
    }
    for (const name of [
      "temperature",
      "speed",
      "pressure",
      "texture",
      "Print",
      "Compound",
      "on0",
      "atLeast0",
    ])
      expect([...reached]).toContain(name);
    await page.locator("#verdict-matrix button", { hasText: "Compound" }).focus();
    await page.keyboard.press("Enter");
    expect(await page.locator("#verdict-matrix tbody tr").first().textContent()).toMatch(/^Alder 45/);
    await leaveReport(page);
  });

  test("makes one compound stand out in tables and plots alike", async () => {
    const { page, trouble } = await openReport(browser.context, six);
    await drawAll(page, "#side-by-side");
    const button = page.locator("#chooser button", { hasText: "Larch winter" });
    await button.click();
    expect(await button.getAttribute("aria-pressed")).toBe("true");
    const rows = page.locator("tr.stands-out");
    // Card, requirements, matrix and map.
    expect(await rows.count()).toBe(4);
    for (const row of await rows.all()) expect(await row.textContent()).toContain("Larch winter");
    await page.waitForFunction(() => {
      const area = document.querySelector("#plot-all-grip .plot-area") as unknown as {
        data: { name: string; line: { width: number } }[];
      };
      const wide = area.data.filter((trace) => trace.line.width > 3);
      return wide.length === 1 && wide[0].name === "Larch winter";
    });
    await button.click();
    expect(await rows.count()).toBe(0);
    expect(trouble).toEqual([]);
    await leaveReport(page);
  });

  test("draws a compound in the legend's colour and dash, also where only some are pinned", async () => {
    const { page, trouble } = await openReport(browser.context, six);
    for (const name of ["Larch winter", "Alder 45"])
      await page
        .locator("#card")
        .getByRole("button", { name: `Pin ${name} side by side` })
        .click();
    await page.locator("#differences table").waitFor();
    await drawAll(page, "#side-by-side");
    const unlike = await page.evaluate(() => {
      const dashes: Record<string, string> = { "": "solid", "6 3": "dash" };
      const legend = new Map(
        [...document.querySelectorAll("#chooser button")].map((button) => {
          const stroke = button.querySelector("path")!;
          const dash = dashes[stroke.getAttribute("stroke-dasharray")!];
          return [button.textContent, `${stroke.getAttribute("stroke")} ${dash}`];
        }),
      );
      return ["all-tan-delta", "all-grip", "all-rebound", "all-peak-force"].map((plot) => {
        const area = document.querySelector(`#plot-${plot} .plot-area`) as unknown as {
          data: { name?: string; line: { color: string; dash: string } }[];
        };
        const named = area.data.filter(({ name }) => name !== undefined);
        return [
          named.length,
          ...named.filter(({ name, line }) => legend.get(name!) !== `${line.color} ${line.dash}`),
        ];
      });
    });
    expect(unlike).toEqual([[2], [2], [2], [2]]);
    expect(trouble).toEqual([]);
    await leaveReport(page);
  });

  test("says in words when the browser is too old to unpack the plots, and keeps all numbers", async () => {
    const page = await browser.context.newPage();
    await page.addInitScript(() => {
      Reflect.deleteProperty(window, "DecompressionStream");
    });
    await page.goto(six.url);
    await page.locator("#too-old").waitFor({ state: "visible" });
    expect(await page.locator("#too-old").textContent()).toContain("This browser is too old");
    expect(await page.locator("#verdict-matrix tbody tr").count()).toBe(6);
    await page.close();
  });
});

describe.skipIf(withoutChromium)("WCAG 2.2 AA", () => {
  const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

  const part = "#trade-off, #side-by-side, #birch-60";
  let page: Page;

  beforeAll(async () => {
    const file = writeReport(
      "two",
      asking(makeAssessment({ compounds: 2, draws: 10 }), inventedRequirements),
    );
    ({ page } = await openReport(browser.context, file));
    // With what opens only when it is used: refused entries, moved limits, two compounds side by side.
    for (const name of ["Birch 60", "Alder 45"])
      await page
        .locator("#card")
        .getByRole("button", { name: `Pin ${name} side by side` })
        .click();
    await page.locator("#differences table").waitFor();
    await page.locator("#limits [name=atLeast0]").fill("31");
    await page.locator("#controls [name=temperature]").fill("200");
    await drawAll(page, part);
    await page.locator("details.data summary").first().click();
    await page.locator("details.how summary").first().click();
    await page.evaluate(axe);
  });
  afterAll(() => page?.close());

  test.each([
    ["light", 1280],
    ["dark", 1280],
    ["dark", 390],
    ["light", 390],
  ] as const)("no violation in %s at %i pixels", async (colorScheme, width) => {
    await changeView(page, part, { colorScheme, width, height: 800 });
    const violations = await page.evaluate(async () => {
      const { axe: run } = window as unknown as {
        axe: {
          run(
            context: Document,
            options: unknown,
          ): Promise<{ violations: { id: string; nodes: { html: string; failureSummary: string }[] }[] }>;
        };
      };
      const result = await run.run(document, {
        runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
        resultTypes: ["violations"],
      });
      return result.violations.map(
        ({ id, nodes }) => `${id}: ${nodes[0].html.slice(0, 300)} ${nodes[0].failureSummary}`,
      );
    });
    expect(violations).toEqual([]);
  });
});

describe.skipIf(withoutChromium)("1, 12 and 200 compounds", () => {
  test.each([
    [1, 3e6],
    [12, 3e6],
    [200, 8e6],
  ])("%i stay readable and under %i bytes", async (compounds, limit) => {
    const file = writeReport(`of-${compounds}`, makeAssessment({ compounds, draws: 60 }));
    expect(file.bytes).toBeLessThan(limit);
    const { page, trouble } = await openReport(browser.context, file);
    expect(await page.locator("#verdict-matrix tbody tr").count()).toBe(compounds);
    const paint = await page.evaluate(
      () => performance.getEntriesByName("first-contentful-paint")[0]?.startTime,
    );
    console.log(
      `${compounds} compounds: ${(file.bytes / 1e6).toFixed(2)} MB, first paint after ${paint?.toFixed(0)} ms`,
    );
    if (compounds > 12) {
      expect(await page.locator("details.compound[open]").count()).toBe(0);
      await page.getByRole("searchbox", { name: "Find a compound" }).fill("larch winter 15");
      expect(await page.locator("#verdict-matrix tbody tr:visible").count()).toBe(3);
      await page.locator("#verdict-matrix tbody tr:visible a").first().click();
      expect(await page.locator("details.compound[open]").count()).toBe(1);
      // Plots are drawn when they come near the screen.
      await page.locator("details.compound[open] figure[data-plot]").first().scrollIntoViewIfNeeded();
      await page.waitForSelector("details.compound[open] figure[data-drawn]");
    } else {
      expect(await page.locator("details.compound[open]").count()).toBe(compounds);
    }
    expect(trouble).toEqual([]);
    await leaveReport(page);
  });
});
