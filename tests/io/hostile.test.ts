import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { describeReading } from "../../src/io/describe-reading.js";
import type { FileContent } from "../../src/io/measurement.js";
import { readBytes } from "../../src/io/read-bytes.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";
import { readerCodes } from "../../src/words/codes/reader-codes.js";
import { mutated, mutatedWorkbook } from "./make/mutate.js";

const folder = join(import.meta.dirname, "..", "fixtures");
const originals = ["read", "bad"]
  .flatMap((name) => readdirSync(join(folder, name)).map((file) => join(folder, name, file)))
  .map((path) => ({ path, bytes: new Uint8Array(readFileSync(path)) }))
  .filter(({ bytes }) => bytes.length < 100_000);

/** Every number that a reading hands on is one that a specimen can have. */
function expectSound({ measurements, properties, notices }: FileContent): void {
  for (const { code } of notices) expect(readerCodes).toHaveProperty([code]);
  expect(measurements.length + properties.length).toBeGreaterThan(0);
  for (const { values, lines } of properties) {
    expect(values.length).toBeGreaterThan(0);
    expect(lines.length).toBe(values.length);
    expect(values.every(Number.isFinite)).toBe(true);
  }
  for (const one of measurements) {
    expect(one.provenance.firstLine).toBeGreaterThan(0);
    if (one.kind === "rebound") {
      for (const { fractions } of one.readings) {
        expect(fractions.length).toBeGreaterThan(0);
        expect(fractions.every((value) => value >= 0 && value <= 1)).toBe(true);
      }
      continue;
    }
    const count = one.temperature_C.length;
    expect(count).toBeGreaterThanOrEqual(2);
    const positive = [one.frequency_Hz, one.storageModulus_Pa, one.lossModulus_Pa];
    for (const column of positive) {
      expect(column.length).toBe(count);
      expect(column.every((value) => value > 0 && value < Number.POSITIVE_INFINITY)).toBe(true);
    }
    expect(one.temperature_C.every((value) => value >= -273.15 && value < Number.POSITIVE_INFINITY)).toBe(
      true,
    );
    for (const column of [one.time_s, one.strainAmplitude]) {
      if (column !== null) expect(column.length === count && column.every(Number.isFinite)).toBe(true);
    }
  }
}

async function expectAnswer(bytes: Uint8Array): Promise<"read" | "rejected"> {
  const before = bytes.slice();
  const outcome = await readBytes(bytes, "mutated.csv");
  expect(Buffer.compare(before, bytes)).toBe(0);
  if (outcome.ok) {
    expectSound(outcome.value);
    expect(describeReading(outcome.value, "mutated.csv").length).toBeLessThan(2_000_000);
    return "read";
  }
  expect(readerCodes).toHaveProperty([outcome.problem.code]);
  expect(outcome.problem.code).not.toBe("io.not-read");
  expect(outcome.problem.message.length).toBeLessThan(2000);
  return "rejected";
}

describe("mutated files", () => {
  it("1500 of the corpus give sound measurements or a typed problem", async () => {
    const random = seededRandom(2024);
    const answers = { read: 0, rejected: 0 };
    for (let i = 0; i < 1500; i++) {
      const { path, bytes } = originals[Math.floor(random.uniform() * originals.length)];
      const isZip = path.endsWith(".xlsx") && bytes[0] === 0x50 && random.uniform() < 0.8;
      const input = isZip ? workbookOrBytes(bytes, random) : mutated(bytes, random);
      answers[await expectAnswer(input)]++;
    }
    // Both answers have to be met, or the mutations test nothing.
    expect(Math.min(answers.read, answers.rejected)).toBeGreaterThan(300);
  }, 60_000);
});

function workbookOrBytes(bytes: Uint8Array, random: ReturnType<typeof seededRandom>): Uint8Array {
  try {
    return mutatedWorkbook(bytes, random);
  } catch {
    // The broken archives of the corpus cannot be unpacked; their bytes are mutated as they stand.
    return mutated(bytes, random);
  }
}

describe("inputs that are made to take long", () => {
  const rows = "\n-20;10;5;0.1\n-10;10;4;0.1\n";

  it.each([
    "E' (MPa);",
    "log10(",
    "10 Hz ",
    "a'b''c ",
    "((((",
    '"',
    "储能模量",
    "Sample;",
    "log E' (Pa);",
    "Rebound 1 (%);",
    "T;",
    "=",
    ":",
    "-20 °C;",
  ])(
    "a header of a megabyte of %j",
    async (piece) => {
      const header = piece.repeat(Math.floor(1_000_000 / piece.length));
      await expectAnswer(new TextEncoder().encode(header + rows));
    },
    60_000,
  );

  it.each([
    "Frequency: 10 Hz\n",
    "E';tan δ\n",
    "\n",
    "a\n",
    '"\n',
    "---;---\n",
    "Sample: A\nT (°C);f (Hz);E' (MPa);tan δ\n-20;1;5;0.1\n",
    "1;2;3\n",
  ])(
    "a megabyte of lines like %j",
    async (line) => {
      await expectAnswer(new TextEncoder().encode(line.repeat(Math.floor(1_000_000 / line.length))));
    },
    60_000,
  );

  it("names that mean something to the engine", async () => {
    const header = "__proto__;constructor;toString;T (°C);f (Hz);E' (MPa);tan δ\n";
    const line = "__proto__;1;1;-20;1;5;0.1\n";
    expect(await expectAnswer(new TextEncoder().encode(`Sample;__proto__\n${header}${line}${line}`))).toBe(
      "read",
    );
  });
});
