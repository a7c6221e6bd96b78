import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Assessment } from "../../src/report/assessment.js";
import { reportHtml } from "../../src/report/report-html.js";
import { csvText } from "../../src/report/tables/csv.js";
import { resultTables } from "../../src/report/tables/result-tables.js";
import { terminalSummary } from "../../src/report/terminal/terminal-summary.js";
import { demoFolder } from "../../src/study/demo/demo-folder.js";
import { assess } from "../../src/study/run/assess.js";

const assets = {
  css: "",
  pageScript: "",
  pageScriptSha256: "",
  plotScriptGzipBase64: "",
  plotScriptSha256: "",
  licences: "a library 1.0.0 (MIT)",
};
const plain = (markup: string) => markup.replace(/<[^>]+>/g, "").replace(/\s+/g, " ");
let folder: string;
let assessment: Assessment;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "frostline-borders-"));
  const sweep = demoFolder().find(({ path }) => path.toLowerCase().includes("juniper"))!;
  writeFileSync(join(folder, "juniper.csv"), sweep.bytes);
  writeFileSync(join(folder, "study.yaml"), "verdict: { glassyBorder_K: 5, leatheryBorder_K: 25 }\n");
  const outcome = await assess([folder], {
    outputFolder: join(folder, "out"),
    studyFile: null,
    workers: 1,
    version: "0",
  });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  assessment = outcome.assessment;
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("with borders of 5 and 25 K every sentence about a border", () => {
  const rule =
    "glassy: below 5 K above the M″ peak; leathery: from there to 25 K above the tan δ peak; rubbery: above";
  const isOfDefault = /10 K above the tan δ|below the (M″|loss-modulus) peak/;

  it("in the report says so: legend, methods, settings", () => {
    const text = plain(reportHtml(assessment, assets));
    expect(text).toContain("below 5 K above the M″ peak");
    expect(text).toContain("in the transition zone, up to 25 K above the tan δ peak");
    expect(text).toContain(rule);
    expect(text).toContain("glassyBorder_K: 5");
    expect(text).toContain("leatheryBorder_K: 25");
    expect(text).not.toMatch(isOfDefault);
  });

  it("in the terminal says so", () => {
    const text = terminalSummary(assessment).replace(/\s+/g, " ");
    expect(text).toContain(rule);
    expect(text).not.toMatch(isOfDefault);
  });

  it("in results.json, its notices and the tables says so", () => {
    expect(assessment.results.verdictBorders).toEqual({ glassyBorder_K: 5, leatheryBorder_K: 25 });
    for (const { message } of assessment.results.compounds[0].notices)
      expect(message).not.toMatch(isOfDefault);
    const outlooks = resultTables(assessment).find(({ name }) => name === "outlooks.csv")!;
    const column = (name: string) => outlooks.rows.map((row) => row[outlooks.header.indexOf(name)]);
    expect(new Set(column("glassyBorder_K"))).toEqual(new Set([5]));
    expect(new Set(column("leatheryBorder_K"))).toEqual(new Set([25]));
    expect(csvText(outlooks)).toContain("leatheryBorder_K");
  });

  it("measures its margins from them", () => {
    const judged = assessment.results.compounds[0].outlooks.flatMap(({ cold, temperature_C }) =>
      cold === null ? [] : [{ cold, temperature_C }],
    );
    expect(judged.length).toBeGreaterThan(0);
    for (const { cold, temperature_C } of judged) {
      const { tanDeltaPeak, lossModulusPeak } = cold.glassTemperatureAtUse;
      if (cold.marginToGlassy_K !== null) {
        expect(cold.marginToGlassy_K).toBeCloseTo(temperature_C - lossModulusPeak.temperature_C! - 5, 9);
      }
      if (cold.marginToLeathery_K !== null) {
        expect(cold.marginToLeathery_K).toBeCloseTo(temperature_C - tanDeltaPeak.temperature_C! - 25, 9);
      }
    }
  });
});
