import fc from "fast-check";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { decisionOf } from "../../src/predict/decision/decision-of.js";
import type { Requirement } from "../../src/predict/decision/requirement.js";
import { outlookOf } from "../../src/predict/outlook-of.js";
import { defaultPredictionSettings } from "../../src/predict/prediction-settings.js";
import { besideReference } from "../../src/predict/relative-to-reference.js";
import type { Use } from "../../src/predict/use.js";
import type { Answer } from "../../src/report/html/answer/answer.js";
import { answerCard } from "../../src/report/html/answer/answer-card.js";
import { answerSentence } from "../../src/report/html/answer/answer-sentence.js";
import { decisionTable } from "../../src/report/html/answer/decision-section.js";
import { worstFirst } from "../../src/report/html/answer/ranking.js";
import { mapAxes, mapTable } from "../../src/report/html/answer/trade-off-section.js";
import { settingWords, verdictMatrix } from "../../src/report/html/answer/verdict-matrix.js";
import { reportContext } from "../../src/report/html/report-context.js";
import { type Setting, settingOf, useOf, withContact } from "../../src/report/page/what-if/predictions.js";
import { texturesOf } from "../../src/report/page/what-if/textures-of.js";
import { areLimitsMoved, type View, viewOfText } from "../../src/report/page/what-if/view.js";
import { pageData } from "../../src/report/page-data.js";
import { asking, inventedRequirements, inventedUses, makeAssessment } from "../report/make-assessment.js";
import { type Browser, startChromium, withoutChromium } from "./chromium.js";
import {
  drawMap,
  leaveReport,
  openReport,
  type ReportFile,
  removeReports,
  writeReport,
} from "./open-report.js";

const assessment = asking(makeAssessment({ draws: 12 }), inventedRequirements);
const data = pageData(reportContext(assessment));
const textures = texturesOf(data);

/** One thing that a reader does. */
type Step =
  | { what: "temperature" | "speed" | "pressure"; value: number }
  | { what: "texture" | "use"; place: number }
  | { what: "limit" | "add"; value: number }
  | { what: "switch" | "axes" | "back" | "impossible" };

/** A number as a person types it. */
const number = (min: number, max: number) =>
  fc
    .integer({ min: Math.round(1000 * min), max: Math.round(1000 * max) })
    .map((thousandths) => thousandths / 1000);
const step: fc.Arbitrary<Step> = fc.oneof(
  number(-60, 40).map((value) => ({ what: "temperature" as const, value })),
  number(0.01, 10).map((value) => ({ what: "speed" as const, value })),
  number(0.05, 2).map((value) => ({ what: "pressure" as const, value })),
  fc.nat(textures.length - 1).map((place) => ({ what: "texture" as const, place })),
  fc.integer({ min: 100, max: 900 }).map((value) => ({ what: "add" as const, value })),
  fc.nat(inventedUses.length - 1).map((place) => ({ what: "use" as const, place })),
  number(1, 90).map((value) => ({ what: "limit" as const, value })),
  fc.constantFrom("switch", "axes", "back", "impossible").map((what) => ({ what }) as Step),
);

/** What all that is shown must follow from, after the steps so far. */
interface Expected {
  setting: Setting;
  rebound: Requirement;
  isOn: boolean;
  added: Requirement[];
  axes: View["axes"];
}

/** A requirement whose draws the report does not hold. */
const addedUse = inventedUses[1].name;
const addedRequirement = (atMost: number): Requirement => ({
  ...{ name: `peak force at most ${atMost} (${addedUse})`, quantity: "peak force", use: addedUse },
  ...{ unit: "N", atMost },
});

function after(now: Expected, one: Step): Expected {
  const set = (change: Partial<Setting>) => ({ ...now, setting: { ...now.setting, ...change } });
  switch (one.what) {
    case "temperature":
      return set({ temperature_C: one.value });
    case "speed":
      return set({ speed_m_s: one.value });
    case "pressure": {
      const own = now.setting.base.sliding!.pressure_Pa;
      return set({ pressure_Pa: Math.abs((one.value * 1e6) / own - 1) < 1e-12 ? own : one.value * 1e6 });
    }
    case "texture":
      return set({ texture: textures[one.place] });
    case "use":
      return { ...now, setting: settingOf(inventedUses[one.place]) };
    case "limit":
      return { ...now, rebound: { ...now.rebound, atLeast: one.value / 100 } };
    case "add": {
      const isThere = now.added.some(({ atMost }) => atMost === one.value);
      return isThere ? now : { ...now, added: [...now.added, addedRequirement(one.value)] };
    }
    case "switch":
      return { ...now, isOn: !now.isOn };
    case "axes":
      return { ...now, axes: { x: "margin", y: "peak force" } };
    case "back":
      return { ...now, setting: settingOf(now.setting.base) };
    case "impossible":
      return now;
  }
}

async function act(page: Page, one: Step): Promise<void> {
  const field = (name: string) => page.locator(`#controls [name=${name}]`);
  switch (one.what) {
    case "temperature":
    case "speed":
    case "pressure":
      return field(one.what).fill(String(one.value));
    case "texture":
      return void (await field("texture").selectOption({ label: textures[one.place].name }));
    case "use":
      return void (await field("use").selectOption({ label: inventedUses[one.place].name }));
    case "limit":
      return page.locator("#limits [name=atLeast0]").fill(String(one.value));
    case "add": {
      const part = (name: string) => page.locator(`#limits [name=${name}]`);
      await part("newQuantity").selectOption("peak force");
      await part("newUse").selectOption(addedUse);
      await part("newBound").selectOption("atMost");
      await part("newLimit").fill(String(one.value));
      return part("add").click();
    }
    case "switch":
      return page.locator("#limits [name=on1]").click();
    case "axes":
      await page.locator("#axes [name=x]").selectOption("margin");
      return void (await page.locator("#axes [name=y]").selectOption("peak force"));
    case "back":
      if (await field("back").isEnabled()) await field("back").click();
      return;
    case "impossible":
      return field("temperature").fill("200");
  }
}

/** Every compound in a use, by the library. */
function predicted(use: Use, of = assessment) {
  const alone = of.compounds.map(({ material }) => outlookOf(material, use, defaultPredictionSettings, null));
  const reference = alone[of.compounds.findIndex(({ isReference }) => isReference)];
  return alone.map((one) => besideReference(one, reference));
}

function answerTo({ setting, rebound, isOn, added }: Expected, of = assessment): Answer {
  const uses = inventedUses.map((use) => predicted(withContact(use, setting), of));
  const ofCompound = (index: number) =>
    uses.map((ofUse, u) => ({
      ...ofUse[index],
      outlook: { ...ofUse[index].outlook, use: inventedUses[u].name },
    }));
  const requirements = [rebound, ...inventedRequirements.slice(1).filter((_, k) => k > 0 || isOn), ...added];
  const { compounds } = of.results;
  const view = {
    asked: [rebound, ...inventedRequirements.slice(1), ...added].map((requirement, k) => ({
      requirement,
      isOn: k !== 1 || isOn,
    })),
  };
  return {
    use: useOf(setting),
    compounds: compounds.map((compound, index) => ({
      ...compound,
      outlooks: ofCompound(index).map(({ outlook }) => outlook),
    })),
    outlooks: predicted(useOf(setting), of).map(({ outlook }) => outlook),
    decision: decisionOf(
      requirements,
      compounds.map(({ name, isReference, properties, softening }, index) => ({
        name,
        isReference,
        properties,
        softening,
        isAssumed: false,
        outlooks: ofCompound(index),
      })),
    ),
    areLimitsMoved: areLimitsMoved(data, view),
  };
}

/** The text of each part as it stands on the page, and of the same parts as markup. */
function textsOf(page: Page, markup: Record<string, string> | null): Promise<Record<string, string>> {
  return page.evaluate((parts) => {
    const text = (element: Element) => {
      const copy = element.cloneNode(true) as Element;
      for (const button of copy.querySelectorAll("button[data-pin]")) button.remove();
      return copy.textContent!.replace(/\s+/g, " ").trim();
    };
    const ids = ["answer-sentence", "card", "decision-table", "matrix", "map-numbers"];
    if (parts === null)
      return Object.fromEntries([
        ...ids.map((id) => [id, text(document.getElementById(id)!)]),
        ...[...document.querySelectorAll(".setting-words")].map((place, k) => [`setting ${k}`, text(place)]),
      ]);
    return Object.fromEntries(
      Object.entries(parts).map(([id, html]) => {
        const place = document.createElement("div");
        place.innerHTML = html;
        return [id, text(place)];
      }),
    );
  }, markup);
}

async function settled(page: Page): Promise<void> {
  await page.waitForFunction(() => {
    const is = (id: string, what: string) => document.getElementById(id)!.dataset[what] === "yes";
    return (
      is("card", "intervals") &&
      is("card", "judged") &&
      is("matrix", "judged") &&
      is("decision-table", "judged") &&
      !document.getElementById("answer-sentence")!.textContent!.startsWith("Computing")
    );
  });
}

/** The points of the map, by compound. */
const mapPoints = (page: Page) =>
  page.evaluate(() => {
    const area = document.querySelector("#plot-trade-off .plot-area") as unknown as {
      data: { customdata?: number[]; x: number[]; y: number[] }[];
    };
    return area.data
      .flatMap(({ customdata = [], x, y }) => customdata.map((index, k) => ({ index, x: x[k], y: y[k] })))
      .sort((a, b) => a.index - b.index);
  });

describe.skipIf(withoutChromium)("one state", () => {
  let browser: Browser;
  let file: ReportFile;
  beforeAll(async () => {
    browser = await startChromium();
    file = writeReport("one-state", assessment);
  });
  afterAll(async () => {
    await browser?.close();
    removeReports();
  });

  test("every word and number that is shown follows from what is set, as the library predicts it", async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 2, maxLength: 5 }), async (steps) => {
        const { page, trouble } = await openReport(browser.context, file);
        await drawMap(page);
        let now: Expected = {
          setting: settingOf(data.start!.use),
          rebound: inventedRequirements[0],
          isOn: true,
          added: [],
          axes: { x: null, y: null },
        };
        for (const one of steps) {
          await act(page, one);
          now = after(now, one);
        }
        await settled(page);
        const answer = answerTo(now);
        const axes = mapAxes(answer, now.axes)!;
        const reference = answer.compounds.map(({ isReference }) => isReference);
        const expected = await textsOf(page, {
          "answer-sentence": answerSentence(answer).markup,
          card: answerCard(answer).markup,
          "decision-table": decisionTable(answer).markup,
          matrix: verdictMatrix(answer.compounds, worstFirst(answer.compounds), reference).markup,
          "map-numbers": mapTable(answer, axes).markup,
          "setting 0": settingWords(answer).markup,
          "setting 1": settingWords(answer).markup,
        });
        expect(await textsOf(page, null)).toEqual(expected);

        // Apart from the words' own code: verdict, rebound and the map's points.
        const rows = await page.evaluate(() =>
          [...document.querySelectorAll<HTMLElement>("#answer-card tr[data-compound]")].map((row) => ({
            index: Number(row.dataset.compound),
            verdict: row.querySelector(".word")?.textContent,
            rebound: row.querySelector("[data-quantity=rebound] .value")?.textContent,
          })),
        );
        expect(rows).toHaveLength(answer.compounds.length);
        for (const { index, verdict, rebound } of rows) {
          const outlook = answer.outlooks[index]!;
          expect(verdict).toBe(outlook.cold?.verdict ?? "not determined");
          if (outlook.rebound !== null)
            expect(Math.abs(Number.parseFloat(rebound!) - 100 * outlook.rebound.fraction)).toBeLessThan(
              0.5001,
            );
        }
        const read = (index: number, which: "x" | "y") =>
          axes[which].read({ outlook: answer.outlooks[index], properties: [] })?.value;
        // A plot out of sight is drawn anew when it is looked at.
        await page.locator("#plot-trade-off").scrollIntoViewIfNeeded();
        const drawn = answer.outlooks.flatMap((_, index) => {
          const [x, y] = [read(index, "x"), read(index, "y")];
          return x === undefined || y === undefined ? [] : [[index, x.toPrecision(7), y.toPrecision(7)]];
        });
        expect(drawn.length).toBeGreaterThan(3);
        await expect
          .poll(async () =>
            (await mapPoints(page)).map(({ index, x, y }) => [index, x.toPrecision(7), y.toPrecision(7)]),
          )
          .toEqual(drawn);
        // The address carries the same to another reader.
        const { view, refused } = viewOfText(data, page.url().split("#")[1] ?? "");
        expect(refused).toEqual([]);
        expect(view.setting).toEqual(now.setting);
        expect(view.axes).toEqual(now.axes);
        expect(view.asked[0].requirement.atLeast).toBe(now.rebound.atLeast);
        expect(view.asked[1].isOn).toBe(now.isOn);
        expect(view.asked.slice(inventedRequirements.length).map(({ requirement }) => requirement)).toEqual(
          now.added,
        );
        const url = page.url();
        await leaveReport(page);
        const again = await openReport(browser.context, { ...file, url });
        await settled(again.page);
        expect(await textsOf(again.page, null)).toEqual(expected);
        await leaveReport(again.page);
        expect(trouble).toEqual([]);
      }),
      {
        seed: 17,
        numRuns: 8,
        endOnFailure: true,
        examples: [
          [[{ what: "temperature", value: -15 }, { what: "impossible" }, { what: "add", value: 320 }]],
          [
            [
              { what: "speed", value: 3 },
              { what: "texture", place: 1 },
              { what: "limit", value: 60 },
              { what: "use", place: 1 },
            ],
          ],
          [[{ what: "add", value: 300 }, { what: "speed", value: 3 }, { what: "axes" }, { what: "switch" }]],
        ],
      },
    );
  });

  test("of many compounds those in sight are shown first, then all, as the library predicts them", async () => {
    const many = asking(makeAssessment({ compounds: 18, draws: 6 }), inventedRequirements);
    const { page } = await openReport(browser.context, writeReport("one-state-of-many", many));
    const rows = await page.evaluate(
      () =>
        new Promise<number>((resolve) => {
          const field = document.querySelector<HTMLInputElement>("#controls [name=temperature]")!;
          field.value = "-15";
          field.dispatchEvent(new Event("input", { bubbles: true }));
          resolve(document.querySelectorAll("#card tr[data-compound]").length);
        }),
    );
    expect(rows).toBeLessThan(12);
    await settled(page);
    const setting = { ...settingOf(pageData(reportContext(many)).start!.use), temperature_C: -15 };
    const now = {
      setting,
      rebound: inventedRequirements[0],
      isOn: true,
      added: [],
      axes: { x: null, y: null },
    };
    // In the study's own contact what is asked stays as the report has it.
    const { compounds, decision } = many.results;
    const answer = { ...answerTo(now, many), compounds, decision };
    const { card, "map-numbers": map } = await textsOf(page, null);
    expect({ card, map }).toEqual(
      await textsOf(page, {
        card: answerCard(answer).markup,
        map: mapTable(answer, mapAxes(answer, now.axes)!).markup,
      }),
    );
    // What is written anew keeps the place it was scrolled to, and then all rows are written at once.
    await page.locator("#card .tall").evaluate((frame) => frame.scrollTo({ top: 60 }));
    await page.waitForTimeout(100);
    await page.locator("#controls [name=temperature]").fill("-16");
    expect(await page.locator("#card tr[data-compound]").count()).toBe(18);
    await settled(page);
    expect(await page.locator("#card .tall").evaluate(({ scrollTop }) => scrollTop)).toBe(60);
    await leaveReport(page);
  });

  test("a link of the page to one of its parts keeps what is set, and curves say when they are computed anew", async () => {
    const { page } = await openReport(browser.context, file);
    await page.locator("#plot-all-grip").scrollIntoViewIfNeeded();
    await page.waitForSelector("#plot-all-grip[data-drawn]");
    await page.locator("#controls [name=speed]").fill("4");
    expect(await page.locator("#plot-all-grip[data-stale]").count()).toBe(1);
    await settled(page);
    await page.locator("nav a", { hasText: "Verdicts" }).click();
    await page.waitForURL(/#verdicts&speed=4$/);
    await page.locator("#plot-all-grip").scrollIntoViewIfNeeded();
    await page.waitForSelector("#plot-all-grip:not([data-stale])");
    // The curve passes through what the library predicts in the contact as set.
    const drawn = await page.evaluate(() => {
      const area = document.querySelector("#plot-all-grip .plot-area") as unknown as {
        data: { name: string; x: number[]; y: number[] }[];
      };
      const { name, x, y } = area.data[0];
      return { name, temperature_C: x[15], value: y[15] };
    });
    const compound = assessment.compounds.find(({ name }) => name === drawn.name)!;
    const set = { ...settingOf(data.start!.use), speed_m_s: 4 };
    const { outlook } = outlookOf(
      { ...compound.material, draws: [] },
      useOf(set, drawn.temperature_C),
      defaultPredictionSettings,
      null,
    );
    expect(Math.abs(drawn.value / outlook.grip!.frictionCoefficient - 1)).toBeLessThan(1e-9);
    const url = page.url();
    await leaveReport(page);
    const { page: another } = await openReport(browser.context, { ...file, url });
    await settled(another);
    expect(await another.locator("#controls [name=speed]").inputValue()).toBe("4");
    expect((await another.locator("#verdicts").boundingBox())!.y).toBeLessThan(400);
    await leaveReport(another);
  });

  test("a use of the study comes back with its stored intervals at once", async () => {
    const { page } = await openReport(browser.context, file);
    const before = await textsOf(page, null);
    await drawMap(page);
    const drawnBefore = await mapPoints(page);
    await page.locator("#controls [name=temperature]").fill("-15");
    await settled(page);
    await drawMap(page);
    expect(await mapPoints(page)).not.toEqual(drawnBefore);
    expect(await textsOf(page, null)).not.toEqual(before);
    // Within two frames, so without any prediction.
    const { isComplete, isMapBusy } = await page.evaluate(
      () =>
        new Promise<Record<string, string | null | undefined>>((resolve) => {
          const use = document.querySelector<HTMLSelectElement>("#controls [name=use]")!;
          const place = [...use.options].findIndex(({ text }) => text === "−10 °C");
          use.selectedIndex = place;
          use.dispatchEvent(new Event("input", { bubbles: true }));
          requestAnimationFrame(() =>
            requestAnimationFrame(() =>
              resolve({
                isComplete: document.getElementById("card")!.dataset.intervals,
                isMapBusy: document.getElementById("plot-trade-off")!.getAttribute("aria-busy"),
              }),
            ),
          );
        }),
    );
    expect(isComplete).toBe("yes");
    // The map, which takes longest, follows, and says so until then.
    expect(isMapBusy).toBe("true");
    await drawMap(page);
    expect(await mapPoints(page)).toEqual(drawnBefore);
    expect(await textsOf(page, null)).toEqual(before);
    await leaveReport(page);
  });
});
