import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { complexModulus } from "../../src/fit/spectrum/relaxation-model.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";
import { type Results, resultsSchema } from "../../src/report/results/results.js";
import { runCli } from "../make/run-cli.js";
import { wedgeMaterials, wedgeModel } from "../make/wedge-material.js";
import { type Browser, startChromium, withoutChromium } from "./chromium.js";
import { openReport } from "./open-report.js";

const folder = mkdtempSync(join(tmpdir(), "frostline-one-temperature-"));

/** An invented compound, measured over frequency at 23 °C only. */
function export23(): string {
  const model = wedgeModel({ ...wedgeMaterials["styrene-butadiene-like"], rubberyModulus_Pa: 3e6 });
  const random = seededRandom(5);
  const noisy = (value_Pa: number) => ((value_Pa * (1 + 0.01 * random.normal())) / 1e6).toPrecision(6);
  const rows = Array.from({ length: 50 }, (_, i) => {
    const frequency_Hz = 10 ** (-3 + (i * 11) / 49);
    const { storageModulus_Pa, lossModulus_Pa } = complexModulus(model, 23, frequency_Hz);
    return `23,${frequency_Hz.toPrecision(6)},${noisy(storageModulus_Pa)},${noisy(lossModulus_Pa)}`;
  });
  return `Sample,Alder one\nDeformation mode,tension\n\nTemperature (°C),Frequency (Hz),Storage modulus (MPa),Loss modulus (MPa)\n${rows.join("\n")}\n`;
}

/** The study's one use at a temperature, assessed on the command line. */
function assessedAt(temperature_C: number): { url: string; results: Results } {
  const inputs = join(folder, `at ${temperature_C}`);
  mkdirSync(inputs);
  writeFileSync(join(inputs, "Alder.csv"), export23());
  writeFileSync(
    join(inputs, "study.yaml"),
    `uses:\n  - { name: yard, temperature_C: ${temperature_C}, sliding: { speed_m_s: 0.3, pressure_MPa: 0.3, texture: worn asphalt }, impact: { method: ISO 4662 pendulum } }\n`,
  );
  const out = join(folder, `report ${temperature_C}`);
  expect(runCli(["assess", inputs, "--out", out, "--quiet"]).status).toBe(0);
  return {
    url: pathToFileURL(join(out, "report.html")).href,
    results: resultsSchema.parse(JSON.parse(readFileSync(join(out, "results.json"), "utf8"))),
  };
}

describe.skipIf(withoutChromium)("a compound measured at one temperature, on the page", () => {
  let browser: Browser;

  beforeAll(async () => {
    browser = await startChromium();
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test("answers at that temperature as the command line does, and says elsewhere why not", async () => {
    const elsewhere = assessedAt(-10);
    const there = assessedAt(23).results.compounds[0].outlooks[0];
    const { page, trouble } = await openReport(browser.context, { url: elsewhere.url, bytes: 0 });
    const sentence = async () =>
      ((await page.locator("#answer-sentence").textContent()) ?? "").replace(/\s+/g, " ").trim();
    const setTo = async (temperature: string, settled: RegExp) => {
      await page.locator("#controls input[name=temperature]").fill(temperature);
      await page.locator("#controls input[name=temperature]").press("Enter");
      await page.waitForFunction(
        (pattern) => new RegExp(pattern).test(document.getElementById("answer-sentence")!.textContent ?? ""),
        settled.source,
      );
    };
    const whyNot = "It was measured over frequency at 23 °C, and predicts in a use at that temperature.";
    expect(await sentence()).toContain(whyNot);

    await setTo("23", /^At 23/);
    expect(await sentence()).toMatch(new RegExp(`^At 23 °C Alder one is ${there.cold!.verdict}`));
    const card = (await page.locator("#answer-card tbody").textContent())!;
    expect(card).toContain(there.grip!.frictionCoefficient.toFixed(3));
    expect(card).toContain(`${(100 * there.rebound!.fraction).toFixed(0)}\u202f%`);
    expect(card).toContain(
      `${(100 * there.rebound!.low).toFixed(0)} to ${(100 * there.rebound!.high).toFixed(0)}`,
    );

    await setTo("30", /^At 30/);
    expect(await sentence()).toContain(whyNot);
    expect(trouble).toEqual([]);
    await page.close();
  }, 120_000);
});
