import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import {
  assess,
  defaultMaterialSettings,
  defaultPredictionSettings,
  defaultSuperpositionSettings,
  defaultUses,
  demoFolder,
  materialOf,
  outlookOf,
  type ResultsCompound,
  readBytes,
} from "../../src/index.js";
import { resultsText } from "../../src/study/outputs/output-texts.js";

/** One sweep at one frequency, one compound with sweeps and isotherms: the two ways through fit. */
const files = [/^Juniper/, /^Birch 60 Freq/];
const seed = 1;
let folder: string;
let compounds: ResultsCompound[];
const inputs = demoFolder().filter(({ path }) => files.some((name) => name.test(path)));

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "frostline-door-"));
  for (const { path, bytes } of inputs) writeFileSync(join(folder, path), bytes);
  const outcome = await assess([folder], {
    outputFolder: join(folder, "out"),
    studyFile: null,
    workers: 1,
    version: "0",
  });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  writeFileSync(join(folder, "results.json"), resultsText(outcome.assessment).content);
  compounds = JSON.parse(readFileSync(join(folder, "results.json"), "utf8")).compounds;
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const asJson = (value: unknown) => JSON.parse(JSON.stringify(value));

describe("materialOf and outlookOf on the same files give what results.json says", () => {
  it.each(inputs.map(({ path }, i) => [path, i] as const))("%s", async (path, i) => {
    const reading = await readBytes(inputs[i].bytes, path);
    if (!reading.ok) throw new Error(reading.problem.message);
    const { measurements } = reading.value;
    const name = measurements[0].sample!;
    const expected = compounds.find((compound) => compound.name === name)!;
    const material = materialOf(measurements, {
      ...defaultMaterialSettings,
      compound: name,
      superposition: { ...defaultSuperpositionSettings, seed },
      seed,
    });
    expect(asJson(material.glassTransitions)).toEqual(expected.glassTransitions);
    const { masterCurve: _, ...superposition } = material.superposition!;
    expect(asJson(superposition)).toEqual(expected.superposition);
    expect(asJson(material.network)).toEqual(expected.network);
    const outlooks = defaultUses().map((use) => outlookOf(material, use, defaultPredictionSettings));
    expect(asJson(outlooks.map(({ outlook }) => outlook))).toEqual(expected.outlooks);
    expect(expected.outlooks.filter(({ cold }) => cold !== null).length).toBeGreaterThan(3);
  });
});
