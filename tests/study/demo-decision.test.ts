import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, inject, it } from "vitest";
import { resultsSchema } from "../../src/report/results/results.js";
import { compoundModel } from "../../src/study/demo/compound-model.js";
import { hazelT } from "../../src/study/demo/compounds.js";
import { secondLook } from "../../src/study/demo/study-file-text.js";
import { keepFits, takeKeptFits } from "../make/kept-fits.js";
import { runCli } from "../make/run-cli.js";

const { folder: demo } = inject("demo")!;
const folder = mkdtempSync(join(tmpdir(), "frostline-decision-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const resultsIn = (out: string) =>
  resultsSchema.parse(JSON.parse(readFileSync(join(out, "results.json"), "utf8")));
const decisionIn = (out: string) => resultsIn(out).decision!;

const files = [
  ...["Birch 60 Temperaturdurchläufe.csv", "Filler series Birch 66.csv"],
  ...["Routine properties winter trial.csv", "Perda por abrasão.txt", "study.yaml"],
];

/** Today's tread and the one with more carbon black, with or without the second look. */
function assessed(name: string, isSecondLook: boolean) {
  const inputs = join(folder, name);
  mkdirSync(inputs);
  for (const file of isSecondLook ? [...files, secondLook] : files) {
    cpSync(join(demo, "exports", file), join(inputs, file));
  }
  const out = join(folder, `${name} report`);
  takeKeptFits(out);
  expect(runCli(["assess", inputs, "--out", out, "--quiet"]).status).toBe(0);
  keepFits(out);
  return decisionIn(out);
}

describe("the thermoplastic of the demo", () => {
  it("softens where its exact model has lost half of its M′/T, and the others not by the end of their data", () => {
    const compounds = resultsIn(join(demo, "report")).compounds;
    const { temperature_C, low_C, high_C } = compounds.find(({ name }) => name === hazelT.name)!.softening!;
    const perKelvin = (T: number) =>
      compoundModel(hazelT).complexModulus(T, 1).storageModulus_Pa / (T + 273.15);
    // The plateau falls a little all along: by 7 % between 20 and 40 °C.
    for (const plateau_C of [20, 40]) {
      expect(perKelvin(low_C!) / perKelvin(plateau_C)).toBeGreaterThan(0.48);
      expect(perKelvin(high_C!) / perKelvin(plateau_C)).toBeLessThan(0.52);
    }
    expect(high_C! - low_C!).toBeLessThan(3);
    expect(temperature_C).not.toBeNull();
    const others = compounds.filter(({ name, softening }) => name !== hazelT.name && softening !== null);
    expect(others.length).toBeGreaterThan(8);
    for (const { softening } of others) expect(softening!.temperature_C).toBeNull();
  });
});

describe("the choice of the demo", () => {
  it("is the one compound that meets all five requirements; every other surely fails one", () => {
    const { requirements, choice, compounds } = decisionIn(join(demo, "report"));
    expect(requirements).toHaveLength(5);
    expect(choice.names).toEqual(["Birch 66"]);
    const failed = compounds.filter(({ meets }) => meets.some(({ answer }) => answer === "fails"));
    expect(failed.map(({ name }) => name)).toEqual(
      compounds.map(({ name }) => name).filter((name) => name !== "Birch 66"),
    );
  });

  it("is none at first glance: the repeats of the abrasion test make it", () => {
    const first = assessed("first glance", false);
    expect(first.choice.names).toEqual([]);
    const wear = first.compounds.map(({ name, meets }) => {
      const { answer, value, asStated } = meets.find(({ requirement }) => requirement === "wears little")!;
      return [name, answer, value, asStated];
    });
    expect(wear).toContainEqual(["Birch 66", "fails", 124, true]);
    const second = assessed("second look", true);
    expect(second.choice.names).toEqual(["Birch 66"]);
    const [judged] = second.compounds.filter(({ name }) => name === "Birch 66");
    expect(judged.meets.find(({ requirement }) => requirement === "wears little")).toMatchObject({
      answer: "meets",
      value: 112,
      asStated: false,
    });
  });
});
