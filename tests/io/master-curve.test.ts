import { describe, expect, it } from "vitest";
import type { ReadOptions } from "../../src/io/read-options.js";
import { readText } from "../../src/io/read-text.js";
import { readHeader } from "../../src/io/vocabulary/read-header.js";
import { referenceTemperatureIn } from "../../src/io/vocabulary/reduced-frequency.js";

/** Invented: Hz, MPa, MPa over ten decades. */
const rows = [
  [1e-4, 2, 0.2],
  [1e-2, 2.5, 0.4],
  [1, 4, 1.2],
  [1e2, 12, 9],
  [1e16, 900, 160],
];
const table = (header: string, cells: (row: number[]) => unknown[] = (row) => row) =>
  `${header}\n${rows.map((row) => cells(row).join(";")).join("\n")}\n`;
const read = (text: string, options: ReadOptions = {}) => {
  const outcome = readText(text, "invented.csv", options);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  const [sweep] = outcome.value.measurements;
  if (sweep.kind === "rebound") throw new Error("rebound");
  const { skipped, notices } = outcome.value;
  return {
    kind: sweep.kind,
    T: [...sweep.temperature_C],
    f: [...sweep.frequency_Hz],
    E: [...sweep.storageModulus_Pa],
    skipped,
    taken: notices.filter(({ code }) => code === "io.master-curve-taken"),
  };
};
const f = rows.map(([one]) => one);
const top = "Sample: Birch 60\nReference temperature: 20 °C\n";

describe("a master curve as its exporter superposed it", () => {
  it.each([
    ["a reduced frequency", `${top}${table("Reduced frequency (Hz);E' (MPa);E'' (MPa)")}`],
    [
      "with the shift factor",
      `${top}${table("Reduced frequency (Hz);aT;E' (MPa);E'' (MPa)", ([f, s, l]) => [f, 10, s, l])}`,
    ],
    [
      "with each row's own temperature",
      `${top}${table("T (°C);Reduced frequency (Hz);E' (MPa);E'' (MPa)", ([f, s, l]) => [s / 10, f, s, l])}`,
    ],
    ["f times aT", `Tref = 293.15 K\n${table("f·aT [Hz];E' [MPa];E'' [MPa]")}`],
    [
      "in German",
      `Masterkurve bei Referenztemperatur 20 °C\n${table("Reduzierte Frequenz [Hz];E' [MPa];E'' [MPa]")}`,
    ],
    [
      "a column of the reference",
      table("Reference temperature (°C);Reduced frequency (Hz);E' (MPa);E'' (MPa)", (row) => [20, ...row]),
    ],
  ])("%s is a frequency sweep at the reference temperature, and that is said", (_, text) => {
    const { kind, T, f: read_Hz, E, skipped, taken } = read(text);
    expect(kind).toBe("frequency sweep");
    for (const each of T) expect(each).toBeCloseTo(20, 9);
    expect(read_Hz).toEqual(f);
    expect(E).toEqual(rows.map(([, storage]) => 1e6 * storage));
    expect(skipped).toEqual([]);
    expect(taken).toMatchObject([{ severity: "caution", message: expect.stringMatching(/not checked/) }]);
  });

  it("reduced angular frequency is 2π times the frequency", () => {
    const { f: read_Hz } = read(`${top}${table("ω·aT (rad/s);G' (MPa);G'' (MPa)")}`);
    expect(read_Hz.length).toBe(f.length);
    for (const [i, each] of read_Hz.entries()) expect((each * 2 * Math.PI) / f[i]).toBeCloseTo(1, 12);
  });

  it("without a reference temperature it is refused, and the message says what to add", () => {
    for (const line of ["", "Temperature: 20 °C\n"]) {
      const outcome = readText(
        `Sample: Birch 60\n${line}${table("Reduced frequency (Hz);E' (MPa);E'' (MPa)")}`,
        "invented.csv",
      );
      if (outcome.ok) throw new Error("read");
      expect(outcome.problem).toMatchObject({ code: "io.no-reference-temperature", column: 1 });
      expect(outcome.problem.message).toContain('"Reference temperature: 20 °C"');
      expect(outcome.problem.message).toContain("temperature_C: 20");
    }
  });

  it("the study may state it", () => {
    const text = table("Reduced frequency (Hz);E' (MPa);E'' (MPa)");
    expect(read(text, { temperature_C: 20 }).T).toEqual(rows.map(() => 20));
  });

  it("measured temperatures and frequencies beside it are what is read", () => {
    const text = `${top}${table("T (°C);f (Hz);Reduced frequency (Hz);E' (MPa);E'' (MPa)", ([f, s, l]) => [s / 10, 10, f, s, l])}`;
    const { f: read_Hz, T, taken } = read(text);
    expect(read_Hz).toEqual(rows.map(() => 10));
    expect(T).toEqual(rows.map(([, storage]) => storage / 10));
    expect(taken).toEqual([]);
  });

  it("a reference temperature beside a plain frequency is no temperature of the test", () => {
    const outcome = readText(`${top}${table("Frequency (Hz);E' (MPa);E'' (MPa)")}`, "invented.csv");
    expect(outcome.ok ? "read" : outcome.problem.code).toBe("io.no-temperature");
  });
});

describe("its words", () => {
  it.each([
    ["Reduced frequency (Hz)", "frequency"],
    ["Shifted frequency, Hz", "frequency"],
    ["log(f·aT) (Hz)", "frequency"],
    ["aT·ω (rad/s)", "angular frequency"],
    ["reduced angular frequency [rad/s]", "angular frequency"],
    ["Fréquence réduite (Hz)", "frequency"],
    ["換算周波数 (Hz)", "frequency"],
  ])("%s", (header, quantity) => {
    expect(readHeader(header)).toMatchObject({ quantity, isReduced: true });
  });

  it.each(["Frequency (Hz)", "Reduced modulus (MPa)", "f (Hz)", "aT", "Shift factor aT"])(
    "not in %s",
    (header) => {
      expect(readHeader(header).isReduced).toBe(false);
    },
  );

  it("reference temperatures with their units", () => {
    expect(referenceTemperatureIn("T0 = -20,5 °C")).toBe(-20.5);
    expect(referenceTemperatureIn("Reference temperature (°C): 25")).toBe(25);
    expect(referenceTemperatureIn("reference temperature 68 °F")).toBeCloseTo(20, 12);
    expect(referenceTemperatureIn("Reference temperature: see sheet 2")).toBeNull();
    expect(referenceTemperatureIn("Temperature: 20 °C")).toBeNull();
  });
});

describe("a loss alone", () => {
  it.each([
    ["tan δ", "tan delta"],
    ["phase angle (°)", "phase angle"],
  ])("%s says which column is missing and what to export", (header, name) => {
    const outcome = readText(
      `Frequency: 10 Hz\nT (°C);${header}\n-40;0.1\n-30;0.6\n-20;1.2\n`,
      "invented.csv",
    );
    if (outcome.ok) throw new Error("read");
    expect(outcome.problem).toMatchObject({ code: "io.missing-modulus", line: 2, column: 2 });
    expect(outcome.problem.message).toContain(`A modulus is missing: ${name} alone`);
    expect(outcome.problem.message).toContain("Export the same test with the storage modulus beside it");
  });
});
