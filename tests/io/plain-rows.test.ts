import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { controlsAmong, isControl, startOfAsciiTail } from "../../src/io/bytes/scan-bytes.js";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { readBytes } from "../../src/io/read-bytes.js";
import { readText } from "../../src/io/read-text.js";

const digits = (least: number, most: number) =>
  fc
    .array(fc.integer({ min: 0, max: 9 }), { minLength: least, maxLength: most })
    .map((list) => list.join(""));

/** A positive number of 1 to 20 digits in a spelling that JavaScript knows too, and what may stand around it. */
const spelled = fc
  .record({
    plus: fc.constantFrom("", "", "", "+"),
    zeros: fc.constantFrom("", "", "0", "000"),
    first: fc.integer({ min: 1, max: 9 }),
    whole: digits(0, 8),
    decimals: fc.option(digits(0, 11)),
    exponent: fc.constantFrom("", "", "", "e0", "E+02", "e-03", "E1"),
    around: fc.constantFrom("", "", "", " ", '"'),
  })
  .map(({ plus, zeros, first, whole, decimals, exponent, around }) => ({
    number: `${plus}${zeros}${first}${whole}${decimals === null ? "" : `.${decimals}`}${exponent}`,
    around,
  }))
  // As pascals: no polymer has more, and such rows are set aside.
  .filter(({ number }) => Number(number) < 1e10);

describe("rows of plain numbers", () => {
  it.each([
    [";", "."],
    [";", ","],
    ["\t", ","],
    [",", "."],
    ["   ", ","],
  ])("parted by %j with the decimal mark %j have the numbers that JavaScript reads", (delimiter, mark) => {
    fc.assert(
      fc.property(fc.array(spelled, { minLength: 40, maxLength: 60 }), fc.boolean(), (numbers, isUnended) => {
        // Enough digits before and after a mark for it to be no mark between thousands.
        const rows = numbers.map(({ number, around }, i) => {
          const cell = delimiter === "   " ? number : `${around}${number}${around}`;
          return [`${i - 20}.25`, "1.5000", cell, "5.50", "0.1250"]
            .map((text) => text.replace(".", mark))
            .join(delimiter);
        });
        const text = [["T/°C", "f/Hz", "t/s", "E'/MPa", "tanδ"].join(delimiter), ...rows].join("\r\n");
        const outcome = readText(isUnended ? text : `${text}\r\n`, "invented.csv", {
          decimalMark: mark as "." | ",",
        });
        if (!outcome.ok) throw new Error(JSON.stringify(outcome.problem));
        const [sweep] = outcome.value.measurements as DynamicMeasurement[];
        // Any number may be a time.
        expect([...sweep.time_s!]).toEqual(numbers.map(({ number }) => Number(number)));
      }),
      { seed: 20_817, numRuns: 30 },
    );
  });

  it("rows of numbers outweigh a few lines above them that are written in the other convention", () => {
    const rows = Array.from({ length: 400 }, (_, i) => {
      return [(i / 4 - 60).toFixed(2), "10,00", (900 - i).toFixed(1), "0,125"].join(";").replaceAll(".", ",");
    });
    const text = [...new Array<string>(20).fill("1.5;2.5"), "T/°C;f/Hz;E'/MPa;tan δ", ...rows].join("\n");
    const outcome = readText(text, "invented.csv");
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problem));
    expect(outcome.value.decimalMark).toBe(",");
    const [sweep] = outcome.value.measurements as DynamicMeasurement[];
    expect([...sweep.storageModulus_Pa]).toEqual(rows.map((_, i) => (900 - i) * 1e6));
  });

  it("where a row of too many cells hides its name, the rows below it have none", () => {
    const text = [
      "T (°C);f (Hz);E' (MPa);tan δ;Status;Sample",
      ...["-20;10;50.5;0.1;ok;Birch 60", "-10;10;40.5;0.2;ok;", "0;10;30.5;0.3;ok;1;5", "10;10;20.5;0.4;ok;"],
      "20;10;10.5;0.4;ok;",
    ].join("\n");
    const outcome = readText(text, "invented.csv");
    const sweeps = (outcome.ok ? outcome.value.measurements : []) as DynamicMeasurement[];
    expect(sweeps.map(({ sample, temperature_C }) => [sample, ...temperature_C])).toEqual([
      ["Birch 60", -20, -10],
      [null, 10, 20],
    ]);
  });

  it("a unit's power of ten is applied to the digits, so that 922.34 MPa are 922340000 Pa", () => {
    const text = "T/°C;f/Hz;E'/MPa;tan δ\n-20,5;10;922,34;0,8\n-10,5;10;45,1;0,9\n0,5;10;0,3;0,5\n";
    const outcome = readText(text, "invented.csv");
    const [sweep] = (outcome.ok ? outcome.value.measurements : []) as DynamicMeasurement[];
    expect([...sweep.storageModulus_Pa]).toEqual([922_340_000, 45_100_000, 300_000]);
  });

  it("a row without a sample's name counts once, whatever stands beside its numbers", () => {
    const text = [
      "Sample;T (°C);f (Hz);E' (MPa);tan δ;Status",
      ...["Birch 60;-20;10;50.5;0.1;ok", ";-10;10;40.5;0.2;ok", ";0;10;30.5;0.3; mean", ";10;10;20.5;0.4;ok"],
      "Rowan W;20;10;---;---;ok",
      ";30;10;10.5;0.5;ok",
      ...["", "", ""],
    ].join("\n");
    const outcome = readText(text, "invented.csv");
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const { measurements, notices } = outcome.value;
    expect(notices.map(({ message }) => message).filter((message) => /sample's name/.test(message))).toEqual([
      "4 rows have no sample's name and went with the sample above.",
    ]);
    expect(measurements.map(({ sample }) => sample)).toEqual(["Birch 60"]);
  });

  it("a sample's name holds for the rows below its own, even where that is left out", () => {
    const text = [
      "Sample;T (°C);f (Hz);E' (MPa);tan δ",
      ...["Birch 60;-20;10;50.5;0.1", ";-10;10;40.5;0.2", "Rowan W;0;10;30.5;0.3;99", ";10;10;20.5;0.4"],
      ";20;10;10.5;0.5",
    ].join("\n");
    const outcome = readText(text, "invented.csv");
    const sweeps = (outcome.ok ? outcome.value.measurements : []) as DynamicMeasurement[];
    expect(sweeps.map(({ sample, temperature_C }) => [sample, ...temperature_C])).toEqual([
      ["Birch 60", -20, -10],
      ["Rowan W", 10, 20],
    ]);
  });

  it("what was read of a file stays as it is while others are read", async () => {
    const folder = new URL("../fixtures/read/", import.meta.url);
    const files = readdirSync(folder).map((name) => new Uint8Array(readFileSync(new URL(name, folder))));
    const read = (bytes: Uint8Array) => readBytes(bytes, "invented.csv");
    const kept: unknown[] = [];
    const copies: unknown[] = [];
    for (const bytes of files) {
      const outcome = await read(bytes);
      kept.push(outcome);
      copies.push(structuredClone(outcome));
    }
    for (const bytes of files.toReversed()) await read(bytes);
    expect(kept).toEqual(copies);
  });
});

describe("bytes looked at by fours", () => {
  const bytes = fc.array(fc.constantFrom(0, 1, 9, 10, 13, 26, 31, 32, 48, 65, 127, 128, 255), {
    maxLength: 40,
  });
  const mostlyAscii = fc.tuple(bytes, fc.integer({ min: 0, max: 30 })).map(([head, count]) => {
    return [...head.slice(0, 9), ...new Array<number>(count).fill(48), ...head.slice(9, 12)];
  });

  it("give what they give one by one, wherever they begin in memory", () => {
    fc.assert(
      fc.property(fc.oneof(bytes, mostlyAscii), fc.nat(4), fc.nat(40), (values, offset, most) => {
        const view = new Uint8Array(offset + values.length + 3).subarray(offset, offset + values.length);
        view.set(values);
        const count = Math.min(most, values.length);
        expect(controlsAmong(view, count)).toBe(values.slice(0, count).filter(isControl).length);
        expect(startOfAsciiTail(view)).toBe(values.findLastIndex((byte) => byte === 0 || byte > 127) + 1);
      }),
      { seed: 20_818, numRuns: 2000 },
    );
  });
});
