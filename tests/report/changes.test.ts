import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { changesSince } from "../../src/report/results/changes.js";
import type { EarlierResults } from "../../src/report/results/changes-schema.js";
import { earlierResults } from "../../src/study/run/conclude/earlier-results.js";
import { quickSweep } from "../faults/make/quick-export.js";
import { runCli } from "../make/run-cli.js";

const compound = (
  name: string,
  verdict: string | null,
  rebound: [value: number, low: number, high: number],
): EarlierResults["compounds"][number] => ({
  name,
  inputs: [`${name}.csv`],
  glassTransitions: [],
  outlooks: [
    {
      use: "winter",
      rebound: { fraction: rebound[0], low: rebound[1], high: rebound[2] },
      grip: null,
      cold: verdict === null ? null : { verdict },
    },
  ],
});
const results = (
  compounds: EarlierResults["compounds"],
  hashes: Record<string, string>,
  more: Partial<EarlierResults> = {},
): EarlierResults => ({
  schema: "frostline.results/1",
  program: { version: "0.1.0" },
  inputs: Object.entries(hashes).map(([path, sha256]) => ({ path, sha256 })),
  settings: { uses: [{ name: "winter", temperature_C: -10 }] },
  compounds,
  ...more,
});

describe("what changed since earlier results", () => {
  const before = results(
    [
      compound("Alder", "leathery", [0.5, 0.45, 0.55]),
      compound("Birch", "rubbery", [0.5, 0.45, 0.55]),
      compound("Cedar", "rubbery", [0.5, 0.45, 0.55]),
      compound("Oak", "rubbery", [0.5, 0.45, 0.55]),
    ],
    { "Alder.csv": "a", "Birch.csv": "b", "Cedar.csv": "c", "Oak.csv": "d" },
    { decision: { choice: { names: ["Birch"] } } },
  );
  const after = results(
    [
      // Out of each other's intervals: 0.40 is below 0.45, 0.50 above 0.44.
      compound("Alder", "glassy", [0.4, 0.36, 0.44]),
      // 0.56 lies outside the earlier interval, but 0.50 inside the new one.
      compound("Birch", "rubbery", [0.56, 0.49, 0.63]),
      compound("Cedar", "rubbery", [0.5, 0.45, 0.55]),
      compound("Elm", null, [0.5, 0.45, 0.55]),
    ],
    { "Alder.csv": "A", "Birch.csv": "b", "Cedar.csv": "c", "Elm.csv": "e" },
    { decision: { choice: { names: ["Cedar"] } } },
  );

  it("is a verdict, a number beyond both intervals, a choice, a compound, each with its file", () => {
    const changes = changesSince(before, after);
    expect(changes.files).toEqual({ added: ["Elm.csv"], removed: ["Oak.csv"], changed: ["Alder.csv"] });
    expect(changes.verdicts).toEqual([
      { compound: "Alder", use: "winter", before: "leathery", after: "glassy", because: "Alder.csv changed" },
    ]);
    expect(changes.numbers.map(({ compound: name, quantity, because }) => [name, quantity, because])).toEqual(
      [["Alder", "rebound", "Alder.csv changed"]],
    );
    expect(changes.compounds).toEqual({ added: ["Elm"], removed: ["Oak"] });
    expect(changes.sentences).toEqual([
      "The choice is Cedar, was Birch.",
      "Alder, winter: glassy, was leathery (Alder.csv changed).",
      "Alder, winter: rebound 0.400 (0.360 to 0.440), was 0.500 (0.450 to 0.550) (Alder.csv changed).",
      "New: Elm.",
      "No longer there: Oak.",
    ]);
  });

  it("is nothing beside the same results, and that is said", () => {
    const same = changesSince(before, before);
    expect(same.sentences).toEqual(["No file and no setting changed, and nothing moved."]);
  });

  it("names the setting that moved a verdict, or that nothing of the compound's own did", () => {
    const colder = results(
      [compound("Cedar", "leathery", [0.5, 0.45, 0.55])],
      { "Cedar.csv": "c" },
      {
        settings: { uses: [{ name: "winter", temperature_C: -20 }] },
      },
    );
    const was = results([compound("Cedar", "rubbery", [0.5, 0.45, 0.55])], { "Cedar.csv": "c" });
    expect(changesSince(was, colder).verdicts[0].because).toBe("uses.0.temperature_C is -20, was -10");
    const unexplained = { ...colder, settings: was.settings };
    expect(changesSince(was, unexplained).verdicts[0].because).toMatch(
      /no setting changed: what it is compared with/,
    );
    const { settings: _, ...silent } = was;
    expect(changesSince(silent as EarlierResults, colder).verdicts[0].because).toMatch(
      /do not hold their settings/,
    );
  });

  it("refuses what is no earlier results by name, without quoting it", () => {
    for (const text of ["{", '{"schema":"secret"}', "[]"]) {
      const outcome = earlierResults(text, "old.json");
      expect(outcome.ok).toBe(false);
      if (!outcome.ok) expect(outcome.problem.message).toMatch(/^old\.json: .*expected the results\.json/);
      if (!outcome.ok) expect(outcome.problem.message).not.toContain("secret");
    }
  });
});

describe("assess --since", () => {
  let folder: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "frostline-since-"));
    mkdirSync(join(folder, "in"));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it("says on the terminal, in results.json and in the report what a warmer glass transition moved", () => {
    const assess = (glass_C: number, out: string, ...more: string[]) => {
      writeFileSync(join(folder, "in", "birch.csv"), quickSweep("Birch 60", glass_C));
      const run = runCli(["assess", join(folder, "in"), "--out", join(folder, out), "--quiet", ...more]);
      expect(run.status, run.stderr).toBe(0);
      return run.stdout.replaceAll(/\n +/g, " ");
    };
    assess(-50, "old");
    const said = assess(-20, "new", "--since", join(folder, "old", "results.json"));
    const { changes } = JSON.parse(readFileSync(join(folder, "new", "results.json"), "utf8"));
    expect(changes.files.changed).toEqual(["birch.csv"]);
    expect(changes.verdicts.length).toBeGreaterThan(0);
    expect(said).toContain("What changed:");
    const report = readFileSync(join(folder, "new", "report.html"), "utf8");
    for (const sentence of changes.sentences.slice(0, 3)) {
      expect(said).toContain(sentence.replaceAll(/\s+/g, " "));
      expect(report).toContain(sentence);
    }
    const peak = changes.numbers.find((one: { quantity: string }) => /tan δ peak/.test(one.quantity));
    expect(peak.after.value - peak.before.value).toBeCloseTo(30, 0);
  });
});
