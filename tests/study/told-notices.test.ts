import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, inject, it } from "vitest";
import type { Results } from "../../src/report/results/results.js";
import { codes, meaningOf, noticeIn } from "../../src/words/codes/codes.js";
import { toldNotices } from "../../src/words/told-notices.js";

const demo: Results = JSON.parse(
  readFileSync(join(inject("demo")!.folder, "report", "results.json"), "utf8"),
);

/** All that is told of one compound, at whatever level it stands. */
function ofCompound(results: Results, index: number) {
  const { name, notices } = results.compounds[index];
  const shared = results.notices.filter(({ compounds }) => compounds?.some((one) => one.name === name));
  return [...notices, ...shared];
}

describe("the demo's notices", () => {
  it("are at most 12 cautions and 25 for information, the standing cautions once each beside them", () => {
    const all = [...demo.notices, ...demo.compounds.flatMap(({ notices }) => notices)];
    const count = (severity: string) => all.filter((notice) => notice.severity === severity).length;
    expect(count("error")).toBe(0);
    expect(count("caution")).toBeGreaterThan(0);
    expect(count("caution")).toBeLessThanOrEqual(12);
    expect(count("info")).toBeLessThanOrEqual(25);
    expect(demo.cautions.map(({ code }) => code).sort()).toEqual([
      "fit.network-counts-filler",
      "predict.cold-screening",
      "predict.cushioning-screening",
      "predict.grip-screening",
      "predict.rebound-screening",
    ]);
  });

  it("say of no compound the same or the opposite twice", () => {
    for (const index of demo.compounds.keys()) {
      const told = ofCompound(demo, index);
      const places = told.map(({ code, path }) => `${code} ${path ?? ""}`);
      expect(new Set(places).size, places.join("; ")).toBe(places.length);
      const here = new Set(told.map(({ code }) => code));
      for (const { code } of told) {
        expect([...(meaningOf(code)?.covers ?? [])].filter((other) => here.has(other))).toEqual([]);
        expect(here.has(meaningOf(code)?.contrary ?? ""), `${code} beside its contrary`).toBe(false);
      }
      const messages = told.map(({ message }) => message);
      expect(new Set(messages).size).toBe(messages.length);
    }
  });

  it("stand in the table of notices, and the steps in one of their own, as results.json has them", () => {
    const table = (name: string) =>
      readFileSync(join(inject("demo")!.folder, "report", "tables", name), "utf8");
    const { compounds, notices, cautions } = demo;
    for (const { code } of [...notices, ...cautions, ...compounds.flatMap((one) => one.notices)])
      expect(table("notices.csv")).toContain(code);
    const steps = compounds.flatMap((one) => one.steps);
    expect(steps.length).toBeGreaterThan(0);
    for (const { code } of steps) {
      expect(table("steps.csv")).toContain(code);
      expect(table("notices.csv")).not.toContain(code);
    }
  });
});

describe("telling each fact once", () => {
  const small = (state: string) =>
    noticeIn("predict.verdict-straddles", "The verdict is one of two words", [state]);

  it("makes one notice of a fact in several states", () => {
    const [{ notices }] = toldNotices([
      { name: "A", notices: [small("−10 °C"), small("−20 °C"), small("−10 °C")] },
    ]).compounds;
    expect(notices).toEqual([
      {
        severity: "info",
        code: "predict.verdict-straddles",
        message: "The verdict is one of two words: −10 °C; −20 °C.",
        states: ["−10 °C", "−20 °C"],
      },
    ]);
  });

  it("keeps files apart, and joins unlike sentences of one code", () => {
    const raised = [
      { severity: "caution", code: "fit.isotherm-apart", message: "One is apart." },
      { severity: "caution", code: "fit.isotherm-apart", message: "Another is apart." },
      { severity: "info", code: "io.rows-left-out", message: "3 lines.", path: "a.csv" },
      { severity: "info", code: "io.rows-left-out", message: "3 lines.", path: "b.csv" },
    ] as const;
    const [{ notices }] = toldNotices([{ name: "A", notices: [...raised] }]).compounds;
    expect(notices.map(({ message, path }) => [message, path])).toEqual([
      ["One is apart. Another is apart.", undefined],
      ["3 lines.", "a.csv"],
      ["3 lines.", "b.csv"],
    ]);
  });

  it("tells once for the study what holds for several compounds, with the states of each", () => {
    const deep = (state: string) =>
      noticeIn("predict.indentation-deep", "It goes deep", [state], "Calibrate.");
    const { study, compounds } = toldNotices([
      { name: "A", notices: [deep("3 mm"), deep("4 mm")] },
      { name: "B", notices: [deep("5 mm")] },
      { name: "C", notices: [] },
    ]);
    expect(study.map(({ message }) => message)).toEqual([
      "It goes deep: A (3 mm; 4 mm), B (5 mm). Calibrate.",
    ]);
    expect(compounds.map(({ notices }) => notices)).toEqual([[], [], []]);
  });

  it("drops what another notice of the compound covers, and names it", () => {
    const raised = [
      { severity: "caution", code: "predict.not-thermorheologically-simple", message: "Not on one curve." },
      { severity: "caution", code: "fit.not-simple", message: "Two peaks." },
    ] as const;
    const told = toldNotices([
      { name: "A", notices: [...raised] },
      { name: "B", notices: [raised[0]] },
    ]);
    expect(told.compounds[0].notices.map(({ code, covers }) => [code, covers])).toEqual([
      ["fit.not-simple", ["predict.not-thermorheologically-simple"]],
    ]);
    // Where nothing covers it, it is told.
    expect(told.compounds[1].notices.map(({ code }) => code)).toEqual([
      "predict.not-thermorheologically-simple",
    ]);
  });

  it("has a table in which each code that another covers or contradicts is one", () => {
    for (const code of Object.keys(codes)) {
      const { covers = [], contrary } = meaningOf(code)!;
      for (const other of contrary === undefined ? covers : [...covers, contrary])
        expect(meaningOf(other), `${code} names ${other}`).toBeDefined();
    }
  });
});
