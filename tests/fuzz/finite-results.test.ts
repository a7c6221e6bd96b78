import fc from "fast-check";
import { expect, it } from "vitest";
import { readBytes } from "../../src/io/read-bytes.js";
import { resultsSchema } from "../../src/report/results/results.js";
import { csvText } from "../../src/report/tables/csv.js";
import { resultTables } from "../../src/report/tables/result-tables.js";
import { assessGathered } from "../../src/study/run/assess-from.js";
import { fitInThreads } from "../../src/study/run/fit-in-threads.js";
import { loadStudy } from "../../src/study/study-file/load-study.js";

/** Place and value of a number that is not finite, anywhere in a value; null where there is none. */
function notFinite(value: unknown, path = "results"): string | null {
  if (typeof value === "number") return Number.isFinite(value) ? null : `${path} is ${value}`;
  if (typeof value !== "object" || value === null) return null;
  for (const [key, each] of Object.entries(value)) {
    const found = notFinite(each, `${path}.${key}`);
    if (found !== null) return found;
  }
  return null;
}

/** From the bytes of an export to what stands in results.json and in the tables; throws at a number that is none. */
async function expectFinite(text: string): Promise<"rejected" | "assessed"> {
  const study = await loadStudy(null);
  if (!study.ok) throw new Error(study.problem.message);
  study.value.superposition.draws = Math.min(20, study.value.superposition.draws);
  const reading = await readBytes(new TextEncoder().encode(text), "export.csv");
  if (!reading.ok) return "rejected";
  const input = {
    path: "export.csv",
    sha256: "0".repeat(64),
    bytes: text.length,
    reading: reading.value,
    problem: null,
  };
  const outcome = await assessGathered(
    { found: { notices: [] }, inputs: [input], study: study.value },
    fitInThreads(1),
    { version: "test" },
  );
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  const { results } = outcome.assessment;
  expect(notFinite(results)).toBeNull();
  resultsSchema.parse(results);
  // Nothing is lost or turned into null on the way into the file.
  expect(JSON.parse(JSON.stringify(results))).toEqual(
    JSON.parse(JSON.stringify(resultsSchema.parse(results))),
  );
  for (const table of resultTables(outcome.assessment)) {
    expect(csvText(table)).not.toMatch(/(^|,)"?(NaN|-?Infinity|undefined)"?(,|\r$)/m);
  }
  return "assessed";
}

const spread = (low: number, high: number) =>
  fc.double({ min: Math.log10(low), max: Math.log10(high), noNaN: true }).map((power) => 10 ** power);
const anyNumber = fc.oneof(
  { weight: 8, arbitrary: spread(1e-3, 1e6) },
  { weight: 1, arbitrary: spread(1e-300, 1e300) },
  { weight: 1, arbitrary: fc.constantFrom(0, -1, 1e308, Number.MIN_VALUE) },
);
const written = fc.oneof(
  { weight: 30, arbitrary: anyNumber.map((value) => String(value)) },
  {
    weight: 1,
    arbitrary: fc.constantFrom("NaN", "Infinity", "-inf", "1e999", "", "----", "9.9E37", "1e-400"),
  },
);

const sweep = fc
  .record({
    header: fc.constantFrom(
      "Temperature (°C);Frequency (Hz);E' (MPa);tan delta",
      "Temperature (K);Frequency (rad/s);G' (Pa);G'' (Pa)",
      "Temperature (°C);Frequency (Hz);log E';log E''",
      "Temperature (°F);Frequency (kHz);|E*| (GPa);delta (°)",
    ),
    temperatures: fc.array(fc.double({ min: -120, max: 300, noNaN: true }), { minLength: 2, maxLength: 14 }),
    frequencies: fc.uniqueArray(spread(1e-3, 1e5), { minLength: 1, maxLength: 4 }),
    isSorted: fc.boolean(),
    values: fc.array(fc.tuple(written, written), { minLength: 8, maxLength: 60 }),
  })
  .map(({ header, temperatures, frequencies, isSorted, values }) => {
    const steps = isSorted ? [...temperatures].sort((a, b) => a - b) : temperatures;
    const rows = steps.flatMap((t, i) =>
      frequencies.map((f, k) =>
        [t.toFixed(2), f, ...values[(i * frequencies.length + k) % values.length]].join(";"),
      ),
    );
    return ["Sample;Birch 60", header, ...rows, ""].join("\n");
  });

/** Sweeps as rubber gives them, with one or two values off by any amount. */
const spoiltSweep = fc
  .record({
    glass_C: fc.double({ min: -90, max: 40, noNaN: true }),
    step_K: fc.constantFrom(2, 5, 12),
    frequencies: fc.constantFrom([10], [1, 10], [0.1, 0.3, 1, 3, 10, 30]),
    level: spread(1e-4, 1e4),
    spoilt: fc.array(fc.tuple(fc.nat(200), fc.nat(1), written), { maxLength: 3 }),
  })
  .map(({ glass_C, step_K, frequencies, level, spoilt }) => {
    const rows: string[][] = [];
    for (let t = glass_C - 40; t < glass_C + 60; t += step_K) {
      for (const f of frequencies) {
        const x = t - glass_C - 6 * Math.log10(f);
        const modulus = level * (2 + 2000 / (1 + Math.exp(x / 7)));
        rows.push([
          t.toFixed(2),
          String(f),
          modulus.toPrecision(6),
          (0.08 + 0.9 * Math.exp(-((x / 14) ** 2))).toFixed(5),
        ]);
      }
    }
    for (const [row, column, value] of spoilt) rows[row % rows.length][2 + column] = value;
    return [
      "Sample;Birch 60",
      "Temperature (°C);Frequency (Hz);E' (MPa);tan delta",
      ...rows.map((row) => row.join(";")),
      "",
    ].join("\n");
  });

const rebound = fc
  .array(fc.tuple(fc.double({ min: -80, max: 120, noNaN: true }), written, written), {
    minLength: 1,
    maxLength: 8,
  })
  .map((rows) =>
    [
      "Compound;Temperature (°C);Rebound 1 (%);Rebound 2 (%)",
      ...rows.map(([t, a, b]) => `Birch 60;${t.toFixed(1)};${a};${b}`),
      "",
    ].join("\n"),
  );

const seed = 60_221;
it.each([
  ["any sweep", sweep, 25],
  ["a sweep as rubber gives it, with values spoilt", spoiltSweep, 5],
  ["any rebound table", rebound, 40],
] as const)("no number that is not finite reaches a result: %s", async (_, exports, numRuns) => {
  let assessed = 0;
  await fc.assert(
    fc.asyncProperty(exports as fc.Arbitrary<string>, async (text) => {
      if ((await expectFinite(text)) === "assessed") assessed++;
    }),
    { seed, numRuns },
  );
  // The property says nothing of what is rejected.
  expect(assessed).toBeGreaterThan(numRuns / 5);
});

it("this check would notice one", () => {
  expect(notFinite({ a: [{ b: 1 }, { b: Number.NaN }] })).toBe("results.a.1.b is NaN");
  expect(notFinite({ a: Number.NEGATIVE_INFINITY })).toBe("results.a is -Infinity");
  expect(notFinite({ a: null, b: "NaN" })).toBeNull();
});
