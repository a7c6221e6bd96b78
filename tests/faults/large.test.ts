import { mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { readInput } from "../../src/study/inputs/read-inputs.js";
import { mostRowsRead } from "../../src/study/inputs/read-large.js";
import { withLinesOf } from "../../src/study/inputs/thinned-lines.js";
import { writeLargeExport } from "./make/large-export.js";

let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-large-"));
  file = join(folder, "large.csv");
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const read = (columns = {}) => readInput({ path: "large.csv", file }, columns);
async function sweepsOf(): Promise<DynamicMeasurement[]> {
  const { reading, problem } = await read();
  if (reading === null) throw new Error(JSON.stringify(problem));
  return reading.measurements as DynamicMeasurement[];
}

it.each(["utf8", "utf16le"] as const)(
  "of %s with 400,000 rows an even share is read, with the lines of the file",
  async (encoding) => {
    const rows = 400_000;
    writeLargeExport(file, rows, encoding);
    const { reading, bytes } = await read();
    expect(bytes).toBeGreaterThan(10e6);
    const thinned = reading!.notices.find(({ code }) => code === "study.thinned");
    expect(thinned?.message).toContain("about one in 4 was used");
    expect(thinned?.message).toContain(`${rows + 3} lines`);
    expect(reading!.encoding).toMatch(encoding === "utf8" ? /^UTF-8/ : /^UTF-16 LE/);
    const [sweep] = reading!.measurements as DynamicMeasurement[];
    expect(sweep.sample).toBe("Larch winter");
    expect(sweep.deformation).toBe("tension");
    expect(sweep.provenance).toMatchObject({ firstLine: 4, lastLine: rows + 3 });
    const points = sweep.temperature_C.length;
    expect(points).toBeGreaterThan(0.95 * mostRowsRead);
    expect(points).toBeLessThan(1.05 * mostRowsRead);
    // The three frequencies take turns, and each keeps its third.
    for (const frequency_Hz of [1, 3.16, 10]) {
      const count = sweep.frequency_Hz.filter((value) => value === frequency_Hz).length;
      expect(count / points).toBeCloseTo(1 / 3, 2);
    }
    // Nowhere is there a hole: 120 K in steps of no more than a few groups of rows.
    const sorted = sweep.temperature_C.slice().sort();
    let widest = 0;
    for (let i = 1; i < points; i++) widest = Math.max(widest, sorted[i] - sorted[i - 1]);
    expect(sorted[0]).toBeCloseTo(-80, 3);
    expect(sorted[points - 1]).toBeCloseTo(40, 2);
    expect(widest).toBeLessThan((8 * 64 * 120) / rows);
  },
);

it("short sections stay whole, and so does every line that is no row of numbers", async () => {
  const sections = 2000;
  const text = ["Sample;Rowan W", "Temperature (°C);Frequency (Hz);E' (MPa);E'' (MPa)"];
  for (let i = 0; i < sections; i++) {
    text.push(`Section ${i + 1}`);
    for (let k = 0; k < 40; k++) {
      text.push(
        `${(-60 + i * 0.05).toFixed(2)};${(0.1 * 1.2 ** k).toFixed(4)};${(1200 + k - i / 4).toFixed(3)};${(90 + k).toFixed(3)}`,
      );
    }
  }
  writeFileSync(file, text.join("\r\n"));
  const { reading, problem } = await read();
  expect(problem).toBeNull();
  expect(reading!.notices.map(({ code }) => code)).not.toContain("study.thinned");
  const points = (reading!.measurements as DynamicMeasurement[]).reduce(
    (sum, each) => sum + each.temperature_C.length,
    0,
  );
  expect(points).toBe(40 * sections);
});

it("a bad line far down is named by its own number", async () => {
  writeLargeExport(file, 150_000);
  const lines = readFileSync(file, "utf8").split("\n");
  lines[120_000] = "-300.0;1.000;100.0;0.5";
  writeFileSync(file, lines.join("\n"));
  const whole = lines.filter((line) => line.startsWith("-300")).length;
  expect(whole).toBe(1);
  const { reading, problem } = await read();
  // Whether this row is among those used is left to the share; where it is, the line is right.
  if (problem !== null) expect(problem).toMatchObject({ code: "io.below-absolute-zero", line: 120_001 });
  else expect(reading!.notices.map(({ code }) => code)).toContain("study.thinned");
});

it("line numbers of some of the lines become those of the file everywhere", () => {
  const lines = [1, 2, 700, 900_000];
  const problem = {
    code: "io.no-rows",
    message: "Line 3 and line 4 are bad (lines 3 to 4).",
    line: 4,
    column: 2,
  };
  expect(withLinesOf({ ok: false, problem }, lines)).toEqual({
    ok: false,
    problem: {
      code: "io.no-rows",
      message: "Line 700 and line 900000 are bad (lines 700 to 900000).",
      line: 900_000,
      column: 2,
    },
  });
});

it("what is too large is said, with its size and the limit, and not read", async () => {
  writeFileSync(file, "T (°C);f (Hz);E' (MPa);tan delta\n");
  // A file with a hole takes no room on the disk.
  truncateSync(file, 2_000_000_001);
  const started = await readInput({ path: "large.csv", file }, {});
  expect(started.problem).toMatchObject({ code: "io.too-large" });
  expect(started.problem!.message).toMatch(/holds 2000 MB; at most 2000 MB/);
});

it("a workbook that is too large to hold is said", async () => {
  writeFileSync(file, Buffer.from("PK\u0003\u0004"));
  truncateSync(file, 60_000_001);
  expect((await read()).problem).toMatchObject({ code: "io.too-large" });
});

it("megabytes without a row of numbers are rejected as small files are", async () => {
  writeFileSync(file, "Dear all,\nplease find the data attached.\n".repeat(100_000));
  expect((await read()).problem?.code).toMatch(/^io\.no-/);
  writeFileSync(file, Buffer.alloc(5_000_000, 1));
  expect((await read()).problem?.code).toBe("io.binary-file");
  writeFileSync(file, Buffer.concat([Buffer.from([0x89, 0x50, 0x4e, 0x47]), Buffer.alloc(5_000_000, 65)]));
  expect((await read()).problem?.code).toBe("io.picture");
  writeFileSync(file, "x".repeat(5_000_000));
  expect((await read()).problem?.code).toBe("io.line-too-long");
  await expect(sweepsOf()).rejects.toThrow();
});
