import { expect } from "vitest";
import type {
  DynamicMeasurement,
  FileContent,
  Measurement,
  ReboundMeasurement,
} from "../../src/io/measurement.js";
import type { ReadOptions } from "../../src/io/read-bytes.js";

/** What tests/fixtures/expected.json states of a file that must be read. */
export interface ExpectedReading {
  path: string;
  about: string;
  options?: ReadOptions;
  measurements: (ExpectedDynamic | ExpectedRebound)[];
  /** Durability and routine properties; none where absent. */
  properties?: ExpectedProperty[];
  /** Into how many measurements one of the above may come apart: one per frequency or temperature step. */
  pieces?: number;
  /** First and last line of numbers, where the file holds one table. */
  lines?: [number, number];
  /** Lines of rows that go out, each of which must be told. */
  skipped?: number[];
  /** The cells of the header row, where there is one. */
  headers?: string[];
  sheets?: string[];
  encoding?: string;
  delimiter?: string;
  decimalMark?: "." | ",";
  /** A sound file of the same layout: this one must carry a notice which that one does not. */
  noticeBeside?: string;
}

interface ExpectedDynamic {
  kind: DynamicMeasurement["kind"];
  sample: string | null;
  /** The modes that may be stated: more than one where the file leaves it open. */
  deformation: string[];
  direction: string | null;
  /** Moduli that follow from other columns, or logarithms. */
  derived: boolean;
  heatingRate_K_min?: number;
  temperature_C: number[];
  frequency_Hz: number[];
  storageModulus_Pa: number[];
  lossModulus_Pa: number[];
  strainAmplitude: number[] | null;
  time_s: number[] | null;
}

interface ExpectedRebound {
  kind: "rebound";
  sample: string | null;
  method?: string;
  readings: { temperature_C: number | null; fractions: number[]; line: number }[];
}

interface ExpectedProperty {
  property: string;
  unit: string;
  sample: string | null;
  values: number[];
  method?: string;
  areMeans?: boolean;
}

export interface ExpectedProblem {
  path: string;
  about: string;
  says: string[];
  line?: number;
  /** Several where either column is a right place. */
  column?: number | number[];
}

const directTolerance = 1e-12;
const derivedTolerance = 1e-9;
const absoluteZero_C = -273.15;

/** Every measurement of the reading is one that was expected, with its values, and none is missing. */
export function expectReading(reading: FileContent, expected: ExpectedReading): void {
  const pieces = expected.pieces ?? 1;
  const keysFound = new Set(reading.measurements.map(keyOf));
  expect(keysFound).toEqual(new Set(expected.measurements.map(keyOf)));
  for (const one of expected.measurements) {
    const found = reading.measurements.filter((measurement) => isOf(measurement, one));
    expect(found.length, `pieces of ${keyOf(one)}`).toBeGreaterThanOrEqual(1);
    expect(found.length, `pieces of ${keyOf(one)}`).toBeLessThanOrEqual(pieces);
    if (one.kind === "rebound") expectRebound(found as ReboundMeasurement[], one);
    else expectDynamic(found as DynamicMeasurement[], one);
  }
  expectProperties(reading, expected.properties ?? []);
  expectProvenance(reading, expected);
}

/** The properties of a file, all of them and no more. */
function expectProperties({ properties }: FileContent, expected: ExpectedProperty[]): void {
  const key = ({
    property,
    unit,
    sample,
    method,
  }: Pick<ExpectedProperty, "property" | "unit" | "sample"> & { method?: string | null }) =>
    `${property} ${unit} of ${sample}, ${method ?? "no method"}`;
  expect(new Set(properties.map(key))).toEqual(new Set(expected.map(key)));
  for (const one of expected) {
    const found = properties.filter((each) => key(each) === key(one));
    expect(found.length, key(one)).toBe(1);
    expectClose(key(one), found[0].values, one.values, derivedTolerance);
    expect(found[0].areMeans, key(one)).toBe(one.areMeans ?? false);
    expect(found[0].lines.length).toBe(one.values.length);
  }
}

/** The method of a rebound table counts only where the file states one. */
function isOf(measurement: Measurement, one: ExpectedDynamic | ExpectedRebound): boolean {
  if (keyOf(measurement) !== keyOf(one)) return false;
  if (measurement.kind !== "rebound" || one.kind !== "rebound" || one.method === undefined) return true;
  return measurement.method === one.method;
}

const keyOf = (one: { kind: string; sample: string | null; direction?: string | null }) =>
  `${one.kind} of ${one.sample ?? "no sample"}${one.direction ? `, ${one.direction}` : ""}`;

type Column = "temperature_C" | "frequency_Hz" | "storageModulus_Pa" | "lossModulus_Pa";

function expectDynamic(found: DynamicMeasurement[], expected: ExpectedDynamic): void {
  for (const { deformation } of found) expect(expected.deformation).toContain(deformation);
  if (expected.heatingRate_K_min !== undefined) {
    for (const { heatingRate_K_min } of found) {
      expectClose("heating rate", [heatingRate_K_min ?? Number.NaN], [expected.heatingRate_K_min], 1e-6);
    }
  }
  const tolerance = expected.derived ? derivedTolerance : directTolerance;
  const order = inOrder(joined(found, "frequency_Hz"), expected.kind);
  const expectedOrder = inOrder(expected.frequency_Hz, expected.kind);
  const columns: [Column, number, number][] = [
    ["temperature_C", directTolerance, absoluteZero_C],
    ["frequency_Hz", tolerance, 0],
    ["storageModulus_Pa", tolerance, 0],
    ["lossModulus_Pa", tolerance, 0],
  ];
  for (const [column, within, zero] of columns) {
    const values = joined(found, column);
    expect(values.length, `points of ${column}`).toBe(expected[column].length);
    expectClose(column, order(values), expectedOrder(expected[column]), within, zero);
  }
  for (const column of ["strainAmplitude", "time_s"] as const) {
    const values = expected[column];
    if (values === null) continue;
    const read = found.flatMap((one) => [...(one[column] ?? [])]);
    expect(read.length, `points of ${column}`).toBe(values.length);
    expectClose(column, order(read), expectedOrder(values), directTolerance);
  }
}

const joined = (found: DynamicMeasurement[], column: Column) => found.flatMap((one) => [...one[column]]);

/** The frequencies of a temperature sweep may come one after the other or mixed: compare them sorted. */
function inOrder(frequencies: number[], kind: string): (values: number[]) => number[] {
  if (kind !== "temperature sweep") return (values) => values;
  const rows = frequencies.map((_, i) => i).sort((a, b) => frequencies[a] - frequencies[b] || a - b);
  return (values) => rows.map((row) => values[row]);
}

function expectClose(name: string, read: number[], expected: number[], within: number, zero = 0): void {
  expect(read.length, `points of ${name}`).toBe(expected.length);
  const wrong = expected.flatMap((value, i) =>
    Math.abs(read[i] - value) <= within * Math.abs(value - zero)
      ? []
      : [`${name}[${i}]: read ${read[i]}, expected ${value}`],
  );
  expect(wrong.slice(0, 3).join("; "), `${wrong.length} wrong values of ${name}`).toBe("");
}

/** Repeats may stand in one reading or in several of the same temperature. */
function expectRebound(found: ReboundMeasurement[], expected: ExpectedRebound): void {
  const readings = found.flatMap((one) => one.readings);
  const read = byTemperature(readings);
  const wanted = byTemperature(
    expected.readings.map((one) => ({ ...one, temperature_C: one.temperature_C ?? Number.NaN })),
  );
  expect([...read.keys()]).toEqual([...wanted.keys()]);
  for (const [temperature, fractions] of wanted) {
    expectClose(`fractions at ${temperature}`, read.get(temperature) ?? [], fractions, directTolerance);
  }
  expect(firstLines(readings)).toEqual(firstLines(expected.readings));
}

/** The line where each temperature's readings begin. */
function firstLines(readings: { temperature_C: number | null; line: number }[]): Record<string, number> {
  const lines: Record<string, number> = {};
  for (const { temperature_C, line } of readings) lines[(temperature_C ?? Number.NaN).toFixed(6)] ??= line;
  return lines;
}

function byTemperature(readings: { temperature_C: number; fractions: number[] }[]): Map<string, number[]> {
  const groups = new Map<string, number[]>();
  for (const { temperature_C, fractions } of readings) {
    const key = temperature_C.toFixed(6);
    groups.set(key, [...(groups.get(key) ?? []), ...fractions]);
  }
  return groups;
}

function expectProvenance(reading: FileContent, expected: ExpectedReading): void {
  const fileName = expected.path.split("/").at(-1);
  for (const { provenance } of reading.measurements as Measurement[]) {
    expect(provenance.file).toBe(fileName);
    expect(provenance.firstLine).toBeGreaterThan(0);
    expect(provenance.lastLine).toBeGreaterThanOrEqual(provenance.firstLine);
    expect(provenance.columns.length).toBeGreaterThan(0);
    for (const { header, column } of expected.headers ? provenance.columns : []) {
      expect(header.trim()).toBe(expected.headers?.[column - 1].trim());
    }
    if (!expected.sheets) expect(provenance.sheet).toBeNull();
  }
  if (expected.sheets) {
    const sheets = new Set(reading.measurements.map(({ provenance }) => provenance.sheet));
    expect(sheets).toEqual(new Set(expected.sheets));
  }
  if (expected.lines && reading.measurements.length === 1) {
    const { firstLine, lastLine } = reading.measurements[0].provenance;
    expect([firstLine, lastLine]).toEqual(expected.lines);
  }
  const told = reading.skipped.map(({ line }) => line);
  for (const line of expected.skipped ?? []) expect(told, "skipped lines").toContain(line);
  if (expected.encoding) expect(reading.encoding.toLowerCase()).toContain(expected.encoding.toLowerCase());
  if (expected.delimiter) expect(reading.delimiter).toContain(expected.delimiter);
  if (expected.decimalMark) expect(reading.decimalMark).toBe(expected.decimalMark);
}
