import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { readText } from "../../src/io/read-text.js";

/** Ways to put several frequencies and temperatures into one text. */
const choices = fc.record({
  structure: fc.constantFrom(
    "one table",
    "frequency outside",
    "sections",
    "sections, one header",
    "wide tags",
    "wide row above",
    "wide row below",
  ),
  sweep: fc.constantFrom("temperature", "frequency"),
  title: fc.constantFrom("colon", "equals", "cells", "cells with unit", "dashes", "step"),
  delimiter: fc.constantFrom(";", "\t", ","),
  comma: fc.boolean(),
  blankLines: fc.boolean(),
  unitRow: fc.boolean(),
  quantities: fc.constantFrom("E' E''", "E' tan", "|G*| delta", "log"),
  sample: fc.constantFrom("none", "preamble", "column", "sections"),
  gaps: fc.boolean(),
});
type Choice = typeof choices extends fc.Arbitrary<infer T> ? T : never;

interface Point {
  sample: string | null;
  temperature_C: number;
  frequency_Hz: number;
  storageModulus_Pa: number;
  lossModulus_Pa: number;
}

const modulus = (temperature_C: number, frequency_Hz: number) => {
  const x = temperature_C - 6 * Math.log10(frequency_Hz);
  return {
    storageModulus_Pa: 1e6 + 2e9 / (1 + Math.exp((x + 40) / 6)),
    lossModulus_Pa: 1e5 + 3e8 * Math.exp(-(((x + 40) / 15) ** 2)),
  };
};

function pointsOf({ sweep, sample }: Choice): Point[] {
  const samples = sample === "none" ? [null] : sample === "preamble" ? ["Birch 60"] : ["Birch 60", "Rowan W"];
  const temperatures =
    sweep === "temperature" ? Array.from({ length: 30 }, (_, i) => -70 + 3 * i) : [-40, -20, 0, 20];
  const frequencies = sweep === "temperature" ? [1, 10, 50] : [0.1, 0.5, 1, 5, 10, 20, 50, 100];
  return samples.flatMap((name) =>
    temperatures.flatMap((temperature_C) =>
      frequencies.map((frequency_Hz) => ({
        sample: name,
        temperature_C,
        frequency_Hz,
        ...modulus(temperature_C, frequency_Hz),
      })),
    ),
  );
}

/** The state that a section or a column group fixes, and the one that runs down the rows. */
const fixedOf = ({ sweep }: Choice): "frequency_Hz" | "temperature_C" =>
  sweep === "temperature" ? "frequency_Hz" : "temperature_C";
const unitOf = { temperature_C: "°C", frequency_Hz: "Hz" };
const nameOf = { temperature_C: "Temperature", frequency_Hz: "Frequency" };
const symbolOf = { temperature_C: "T", frequency_Hz: "f" };

function moduliOf({ quantities }: Choice): { name: string; unit: string; value: (point: Point) => number }[] {
  const degrees = 180 / Math.PI;
  switch (quantities) {
    case "E' E''":
      return [
        { name: "E'", unit: "MPa", value: (p) => p.storageModulus_Pa / 1e6 },
        { name: "E''", unit: "MPa", value: (p) => p.lossModulus_Pa / 1e6 },
      ];
    case "E' tan":
      return [
        { name: "E'", unit: "GPa", value: (p) => p.storageModulus_Pa / 1e9 },
        { name: "tan δ", unit: "-", value: (p) => p.lossModulus_Pa / p.storageModulus_Pa },
      ];
    case "|G*| delta":
      return [
        { name: "|G*|", unit: "kPa", value: (p) => Math.hypot(p.storageModulus_Pa, p.lossModulus_Pa) / 1e3 },
        { name: "δ", unit: "°", value: (p) => Math.atan2(p.lossModulus_Pa, p.storageModulus_Pa) * degrees },
      ];
    default:
      return [
        { name: "log G'", unit: "Pa", value: (p) => Math.log10(p.storageModulus_Pa) },
        { name: "log G''", unit: "Pa", value: (p) => Math.log10(p.lossModulus_Pa) },
      ];
  }
}

function grouped<K>(list: Point[], keyOfPoint: (point: Point) => K): Map<K, Point[]> {
  const groups = new Map<K, Point[]>();
  for (const point of list) groups.set(keyOfPoint(point), [...(groups.get(keyOfPoint(point)) ?? []), point]);
  return groups;
}

function write(choice: Choice): { text: string; lost: Point[] } {
  const { structure, delimiter, comma, unitRow, sample, blankLines, gaps } = choice;
  const points = pointsOf(choice);
  const fixed = fixedOf(choice);
  const running = fixed === "frequency_Hz" ? "temperature_C" : "frequency_Hz";
  const moduli = moduliOf(choice);
  const lost: Point[] = [];
  const number = (value: number) => {
    const text = String(Number(value.toPrecision(12)));
    const marked = comma ? text.replace(".", ",") : text;
    return delimiter === "," && marked.includes(",") ? `"${marked}"` : marked;
  };
  const lines: string[] = [];
  const row = (cells: string[]) => lines.push(cells.join(delimiter));
  const header = (columns: { name: string; unit: string }[]) => {
    row(columns.map(({ name, unit }) => (unitRow || unit === "" ? name : `${name} (${unit})`)));
    if (unitRow) row(columns.map(({ unit }) => unit));
  };
  const value = (point: Point, i: number, of: (point: Point) => number) => {
    const isLost = gaps && Math.round(point.temperature_C * 7 + point.frequency_Hz * 10) % 23 === 0;
    if (isLost && i === 0) lost.push(point);
    return isLost ? "---" : number(of(point));
  };
  const byValue = <K extends keyof Point>(list: Point[], key: K) => grouped(list, (point) => point[key]);
  const title = (at: number) => {
    const text = number(at).replaceAll('"', "");
    const said = `${text} ${unitOf[fixed]}`;
    switch (choice.title) {
      case "colon":
        return lines.push(`${nameOf[fixed]}: ${said}`);
      case "equals":
        return lines.push(`${symbolOf[fixed]} = ${said}`);
      case "cells":
        return row([nameOf[fixed], delimiter === "," && said.includes(",") ? `"${said}"` : said]);
      case "cells with unit":
        return row([nameOf[fixed], number(at), unitOf[fixed]]);
      case "dashes":
        return lines.push(`--- ${said} ---`);
      default:
        return lines.push(`Step ${lines.length}: ${symbolOf[fixed]} = ${said}`);
    }
  };
  if (sample === "preamble") row(["Sample", "Birch 60"]);
  if (blankLines) lines.push("");
  const sampleColumn = sample === "column" ? [{ name: "Sample", unit: "" }] : [];
  const sampleCell = (point: Point) => (sample === "column" ? [point.sample!] : []);
  const columnOf = (key: "temperature_C" | "frequency_Hz") => ({ name: nameOf[key], unit: unitOf[key] });
  let isHeaded = false;
  for (const [name, own] of sample === "sections" ? byValue(points, "sample") : [[null, points] as const]) {
    if (sample === "sections") {
      row(["Sample", name!]);
      isHeaded = false;
    }
    if (structure === "one table") {
      header([...sampleColumn, columnOf("temperature_C"), columnOf("frequency_Hz"), ...moduli]);
      for (const point of own)
        row([
          ...sampleCell(point),
          number(point.temperature_C),
          number(point.frequency_Hz),
          ...moduli.map((m, i) => value(point, i, m.value)),
        ]);
    } else if (structure.startsWith("wide")) {
      const states = [...byValue(own, fixed).keys()];
      const tags = states.flatMap((at) =>
        moduli.map(() => `${number(at).replaceAll('"', "")} ${unitOf[fixed]}`),
      );
      const quoted = tags.map((tag) => (delimiter === "," && tag.includes(",") ? `"${tag}"` : tag));
      const first = [...sampleColumn, columnOf(running)];
      const columns = states.flatMap(() => moduli);
      const cells = [...first, ...columns].map(({ name, unit }) =>
        unit === "" ? name : `${name} (${unit})`,
      );
      if (structure === "wide tags")
        row(
          cells
            .map((cell, i) => (i < first.length ? cell : `${cell} @ ${tags[i - first.length]}`))
            .map((cell) => (delimiter === "," && cell.includes(",") ? `"${cell}"` : cell)),
        );
      else {
        const group = [...first.map(() => ""), ...quoted];
        if (structure === "wide row above") row(group);
        row(cells);
        if (structure === "wide row below") row(group);
      }
      for (const list of grouped(own, (point) => `${point.sample} ${point[running]}`).values()) {
        row([
          ...sampleCell(list[0]),
          number(list[0][running]),
          ...list.flatMap((point) => moduli.map((m, i) => value(point, i, m.value))),
        ]);
      }
    } else {
      for (const [at, list] of byValue(own, fixed)) {
        if (blankLines) lines.push("");
        const isOutside = structure !== "frequency outside" || fixed === "frequency_Hz";
        title(at as number);
        const columns = isOutside
          ? [columnOf(running)]
          : [columnOf("temperature_C"), columnOf("frequency_Hz")];
        if (structure !== "sections, one header" || !isHeaded)
          header([...sampleColumn, ...columns, ...moduli]);
        isHeaded = true;
        for (const point of list) {
          const states = isOutside
            ? [number(point[running])]
            : [number(point.temperature_C), number(point.frequency_Hz)];
          row([...sampleCell(point), ...states, ...moduli.map((m, i) => value(point, i, m.value))]);
        }
      }
    }
  }
  return { text: `${lines.join("\n")}\n`, lost };
}

const keyOf = (sample: string | null, temperature_C: number, frequency_Hz: number) =>
  `${sample} ${temperature_C.toFixed(6)} ${frequency_Hz.toPrecision(9)}`;

describe("several frequencies, temperatures and samples in one text", () => {
  it("every point is found once, with its own state", () => {
    fc.assert(
      fc.property(choices, (choice) => {
        const { text, lost } = write(choice);
        const outcome = readText(text, "invented.csv");
        if (!outcome.ok) throw new Error(`${JSON.stringify(outcome.problem)}\n${text.slice(0, 900)}`);
        const gone = new Set(lost.map((p) => keyOf(p.sample, p.temperature_C, p.frequency_Hz)));
        const wanted = new Map(
          pointsOf(choice)
            .map((p) => [keyOf(p.sample, p.temperature_C, p.frequency_Hz), p] as const)
            .filter(([key]) => !gone.has(key)),
        );
        for (const one of outcome.value.measurements as DynamicMeasurement[]) {
          expect(one.kind, text.slice(0, 900)).toBe(`${choice.sweep} sweep`);
          for (let i = 0; i < one.temperature_C.length; i++) {
            const key = keyOf(one.sample, one.temperature_C[i], one.frequency_Hz[i]);
            const point = wanted.get(key);
            if (point === undefined) throw new Error(`unexpected or twice: ${key}\n${text.slice(0, 900)}`);
            wanted.delete(key);
            expect(Math.abs(one.storageModulus_Pa[i] / point.storageModulus_Pa - 1), key).toBeLessThan(1e-9);
            expect(Math.abs(one.lossModulus_Pa[i] / point.lossModulus_Pa - 1), key).toBeLessThan(1e-9);
          }
        }
        if (wanted.size > 0)
          throw new Error(`not found: ${[...wanted.keys()].slice(0, 5).join(", ")}\n${text.slice(0, 900)}`);
        expect(outcome.value.measurements.length).toBe(
          new Set(pointsOf(choice).map(({ sample }) => sample)).size,
        );
      }),
      { seed: 11, numRuns: 250 },
    );
  });
});
