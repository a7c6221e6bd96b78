import { readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { describe, expect, it } from "vitest";
import type { Measurement } from "../../src/io/measurement.js";
import { type ReadOptions, readBytes } from "../../src/io/read-bytes.js";
import { combination } from "../fixtures/make/combination.mjs";
import { bombWorkbook, farCellWorkbook, oneLongLine } from "../fixtures/make/hostile.mjs";
import { fixtures } from "../fixtures/make-fixtures.mjs";
import { type ExpectedProblem, type ExpectedReading, expectReading } from "./expected-reading.js";

/**
 * The corpus examines the reader from outside: its expected values come from the decimals that were printed
 * and from unit factors of its own (tests/fixtures/make/table.mjs).
 */
const folder = join(import.meta.dirname, "..", "fixtures");
const bytesOf = (path: string) => new Uint8Array(readFileSync(join(folder, path)));
const expected: { read: ExpectedReading[]; bad: ExpectedProblem[] } = JSON.parse(
  readFileSync(join(folder, "expected.json"), "utf8"),
);

async function readingOf(path: string, options?: ReadOptions) {
  const outcome = await readBytes(bytesOf(path), basename(path), options);
  if (!outcome.ok) throw new Error(`rejected: ${JSON.stringify(outcome.problem)}`);
  return outcome.value;
}

async function problemOf(bytes: Uint8Array, name: string) {
  const outcome = await readBytes(bytes, name);
  if (outcome.ok) throw new Error(`read, though it should be rejected: ${outcome.value.delimiter}`);
  expect(outcome.problem.code).toMatch(/^io\.[a-z0-9-]+/);
  expect(outcome.problem.message.length).toBeGreaterThan(20);
  return outcome.problem;
}

const pointsOf = (one: Measurement) => (one.kind === "rebound" ? Number.NaN : one.temperature_C.length);

describe("the corpus itself", () => {
  it("is what its generator writes, byte for byte, and nothing else", () => {
    const made = fixtures();
    const kept = ["read", "bad"].flatMap((name) =>
      readdirSync(join(folder, name)).map((file) => `${name}/${file}`),
    );
    expect(new Set([...kept, "expected.json"])).toEqual(new Set(made.keys()));
    const differing = [...made].filter(([path, bytes]) => Buffer.compare(bytes, bytesOf(path)) !== 0);
    expect(differing.map(([path]) => path)).toEqual([]);
  });

  it("is broad, and every file states what it is for", () => {
    expect(expected.read.length).toBeGreaterThanOrEqual(45);
    expect(expected.bad.length).toBeGreaterThanOrEqual(20);
    const makes = [...expected.read, ...expected.bad].map(({ about }) => about);
    expect(new Set(makes).size).toBe(makes.length);
  });
});

describe("files that must be read", () => {
  it.each(expected.read)("$path: $about", async (file) => {
    const reading = await readingOf(file.path, file.options);
    expectReading(reading, file);
    if (file.noticeBeside) {
      const sound = await readingOf(file.noticeBeside);
      const usual = new Set(sound.notices.map(({ code }) => code));
      const more = reading.notices.filter(({ code, severity }) => !usual.has(code) && severity !== "info");
      expect(more.map(({ message }) => message).join(" ")).toMatch(/tan/i);
    }
  });

  it("are read as well where their habits come together: 600 seeded combinations", async () => {
    const failed: string[] = [];
    for (let seed = 1; seed <= 600; seed++) {
      const { bytes, expected } = combination(seed);
      const outcome = await readBytes(bytes, expected.path);
      try {
        if (!outcome.ok) throw new Error(outcome.problem.message);
        expectReading(outcome.value, expected);
      } catch (error) {
        failed.push(`seed ${seed}: ${(error as Error).message.slice(0, 300)}`);
      }
    }
    expect(failed).toEqual([]);
  });

  it("leaves the bytes it was given as they were", async () => {
    for (const { path, options } of expected.read) {
      const given = bytesOf(path);
      await readBytes(given, basename(path), options);
      expect(Buffer.compare(given, bytesOf(path)), path).toBe(0);
    }
  });
});

describe("files that must be rejected", () => {
  it.each(expected.bad)("$path: $about", async ({ path, says, line, column }) => {
    const problem = await problemOf(bytesOf(path), basename(path));
    for (const pattern of says) expect(problem.message).toMatch(new RegExp(pattern, "i"));
    if (line !== undefined) expect(problem.line, problem.message).toBe(line);
    if (column !== undefined) expect([column].flat(), problem.message).toContain(problem.column);
  });

  it("asks for a column override where it cannot know", async () => {
    const stubborn = expected.read.filter(({ options }) => options?.columns);
    expect(stubborn.length).toBeGreaterThanOrEqual(3);
    for (const { path } of stubborn) {
      const { message } = await problemOf(bytesOf(path), basename(path));
      expect(message, path).toMatch(/modul/i);
    }
  });

  it("does not guess a frequency", async () => {
    const { message } = await problemOf(bytesOf("read/frequency-by-option.txt"), "frequency-by-option.txt");
    expect(message).toMatch(/frequency/i);
  });

  it("never takes an ambiguous 12,345 for twelve thousand in silence", async () => {
    const file = expected.read.find(({ path }) => path === "read/ambiguous-thousands.txt")!;
    const outcome = await readBytes(bytesOf(file.path), basename(file.path));
    if (outcome.ok) expectReading(outcome.value, file);
    else expect(outcome.problem.message).toMatch(/decimal|thousand|mark/i);
  });
});

describe("hostile files, made here because they are large", () => {
  it("refuses a workbook of 1 MB that inflates to more than a gigabyte", async () => {
    const bomb = bombWorkbook();
    expect(bomb.length).toBeLessThan(2e6);
    const { message } = await problemOf(bomb, "bomb.xlsx");
    expect(message).toMatch(/size|large|big|MB|GB|inflat|expand/i);
  });

  it("refuses such a workbook whose entry states a harmless size", async () => {
    await problemOf(bombWorkbook({ declaredSize: 5000 }), "lying.xlsx");
  });

  it.each([
    [1048576, "XFD1048576"],
    [99999999, "ZZZZZZ99999999"],
    [3, "not a reference"],
  ])("survives a cell that claims to stand in row %i at %s", async (row, reference) => {
    const outcome = await readBytes(farCellWorkbook(row, reference), "far.xlsx");
    if (outcome.ok) expect(outcome.value.measurements.map(pointsOf)).toEqual([4]);
    else expect(outcome.problem.code).toMatch(/^io\./);
  });

  it.each([
    ["numbers", "1.25,"],
    ["letters", "x"],
    ["headers", "E' (MPa);"],
    ["quotes", '"'],
    ["blanks and digits", "7 "],
    ["brackets", "(["],
  ])("answers 10 MB of %s on one line with a problem", async (_, piece) => {
    const problem = await problemOf(oneLongLine(piece), "one-line.csv");
    expect(problem.message).toMatch(/line|table|column|header|quote/i);
    expect(problem.message.length).toBeLessThan(2000);
  });
});
