import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type ReadOptions, readBytes } from "../../src/io/read-bytes.js";
import { fuzzCase, fuzzReader, longest_ms, readerCorpus } from "./fuzz-reader.js";
import { outcomeFault } from "./outcome-faults.js";

/** The long run of the same is scripts/fuzz.mjs. */
const corpus = readerCorpus(join(import.meta.dirname, "..", "fixtures"));

it("2,500 broken exports are read or rejected with a reason, and nothing else happens", async () => {
  const { figures, faults } = await fuzzReader(corpus, 20, 0, 2500);
  expect(faults.map(({ index, made, fault }) => `case ${index} (${made}): ${fault}`)).toEqual([]);
  expect(figures.inputs).toBe(2500);
  // Mutants that are all rejected, or all read, would try little of the reader.
  expect(figures.read).toBeGreaterThan(500);
  expect(figures.rejected).toBeGreaterThan(500);
  expect(Object.keys(figures.codes).length).toBeGreaterThan(15);
  expect(longest_ms).toBe(2000);
});

it("a case is the same every time", () => {
  for (const index of [0, 7, 1234]) {
    const [one, other] = [fuzzCase(corpus, 5, index), fuzzCase(corpus, 5, index)];
    expect(one.made).toBe(other.made);
    expect(Buffer.compare(one.bytes, other.bytes)).toBe(0);
    expect(one.options).toEqual(other.options);
  }
});

describe("the judge of outcomes", () => {
  const sound = async () => {
    const text = "T (°C);f (Hz);E' (MPa);tan δ\n-20;10;120;0,8\n-10;10;45;0,9\n";
    const outcome = await readBytes(new TextEncoder().encode(text), "sound.csv");
    if (!outcome.ok || outcome.value.measurements[0].kind === "rebound")
      throw new Error("the sound file is not read");
    return { outcome, sweep: outcome.value.measurements[0] };
  };

  it("has nothing to say of a sound one", async () => {
    expect(outcomeFault((await sound()).outcome)).toBeNull();
  });

  it.each([
    ["a number that is not finite", "storageModulus_Pa", Number.NaN],
    ["an infinite one", "lossModulus_Pa", Number.POSITIVE_INFINITY],
    ["a negative modulus", "storageModulus_Pa", -1],
    ["a temperature below absolute zero", "temperature_C", -274],
    ["a frequency of zero", "frequency_Hz", 0],
  ] as const)("notices %s", async (_, column, value) => {
    const { outcome, sweep } = await sound();
    sweep[column][1] = value;
    expect(outcomeFault(outcome)).not.toBeNull();
  });

  it("notices columns of different length, a line that is none, no measurement, and codes nobody knows", async () => {
    const one = await sound();
    one.sweep.frequency_Hz = one.sweep.frequency_Hz.slice(1);
    expect(outcomeFault(one.outcome)).toContain("rows");
    const two = await sound();
    two.sweep.provenance.firstLine = 0;
    expect(outcomeFault(two.outcome)).toContain("lines");
    const three = await sound();
    if (three.outcome.ok) three.outcome.value.measurements = [];
    expect(outcomeFault(three.outcome)).toContain("no measurement");
    const message = "long enough to be a message";
    expect(outcomeFault({ ok: false, problem: { code: "io.unheard-of", message } })).toContain(
      "unknown code",
    );
    expect(outcomeFault({ ok: false, problem: { code: "io.not-read", message } })).toContain("threw");
    expect(
      outcomeFault({ ok: false, problem: { code: "io.no-rows", message: `${message}\u001b[31m` } }),
    ).toContain("control");
  });
});

describe("what was found once", () => {
  const folder = join(import.meta.dirname, "found");
  const cases = readdirSync(folder).filter((name) => name.endsWith(".json"));

  it.each(cases)("%s stays put right", async (name) => {
    const { options } = JSON.parse(readFileSync(join(folder, name), "utf8")) as { options: ReadOptions };
    const bytes = new Uint8Array(readFileSync(join(folder, name.replace(/json$/, "bin"))));
    expect(outcomeFault(await readBytes(bytes, "found.csv", options))).toBeNull();
  });
});
