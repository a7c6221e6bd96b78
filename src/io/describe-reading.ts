import { fixed, frequencyText } from "../words/quantity-text.js";
import { fitted, shownWidth } from "../words/shown-width.js";
import { wrapped } from "../words/wrapped.js";
import type {
  ColumnMeaning,
  DynamicMeasurement,
  FileContent,
  Measurement,
  PropertyMeasurement,
  ReboundMeasurement,
} from "./measurement.js";

/** The columns of a table and what each was taken for, as an aligned table. */
function columnsTable(columns: ColumnMeaning[], width: number): string[] {
  const rows = columns.map(({ column, header, quantity, unit, unitAssumed }) => [
    String(column),
    header === "" ? "(no header)" : header,
    quantity,
    unitAssumed ? `${unit} (assumed)` : unit === "" || unit === "-" ? "–" : unit,
  ]);
  const titles = ["no.", "header", "taken for", "unit"];
  const widths = titles.map((title, i) =>
    Math.max(shownWidth(title), ...rows.map((row) => shownWidth(row[i]))),
  );
  // Long headers give way first: two blanks at the left, two between columns.
  const fixed = 2 + widths[0] + 2 + 2 + widths[2] + 2 + widths[3];
  widths[1] = Math.max(8, Math.min(widths[1], width - fixed));
  const line = ([number, header, quantity, unit]: string[]) =>
    `  ${number.padStart(widths[0])}  ${fitted(header, widths[1])}  ${fitted(quantity, widths[2])}  ${unit}`.trimEnd();
  return ["", line(titles), `  ${widths.map((each) => "─".repeat(each)).join("  ")}`, ...rows.map(line)];
}

const width = 80;
/** Skipped lines listed one by one; the rest are counted. */
const listed = 12;
const mostStated = 24;
const mostProperties = 60;

/**
 * How a file was read, for a person at an 80-column terminal: encoding and marks, each measurement with its
 * ranges and its columns, what was assumed, and what was left out and why.
 * @example describeReading({ measurements: [], properties: [], stated: [], notices: [], skipped: [], encoding: "UTF-8", delimiter: "tab", decimalMark: "." }, "birch.txt").split("\n")[0] // "birch.txt"
 */
export function describeReading(reading: FileContent, fileName: string): string {
  const lines = [
    fileName,
    "─".repeat(Math.min(width, Math.max(20, fileName.length))),
    ...field("read as", readAs(reading)),
    ...field("found", found(reading)),
  ];
  reading.measurements.forEach((measurement, i) => {
    lines.push("", ...described(measurement, i + 1, reading.measurements.length));
    const before = reading.measurements[i - 1];
    if (before !== undefined && sameColumns(before, measurement)) {
      lines.push(...field("columns", `as in measurement ${i}`));
    } else lines.push(...columnsTable(measurement.provenance.columns, width));
  });
  if (reading.properties.length > 0) {
    lines.push("", ...properties(reading.properties));
    // Those of a table with measurements stand above.
    const told = new Set(reading.measurements.map(columnsOf));
    for (const one of reading.properties) {
      const columns = columnsOf(one);
      if (told.has(columns)) continue;
      told.add(columns);
      lines.push(...columnsTable(one.provenance.columns, width));
    }
  }
  lines.push("", ...stated(reading), "", ...notices(reading), "", ...skipped(reading));
  return `${lines.join("\n").trimEnd()}\n`;
}

const columnsOf = ({ provenance }: Pick<Measurement, "provenance">) => JSON.stringify(provenance.columns);

function field(name: string, value: string): string[] {
  return wrapped(value, width - 16).map((line, i) => `  ${(i === 0 ? name : "").padEnd(14)}${line}`);
}

function readAs({ encoding, delimiter, decimalMark }: FileContent): string {
  const mark = decimalMark === null ? "" : `, decimal ${decimalMark === "," ? "comma" : "point"}`;
  if (encoding === "workbook") return `workbook${mark === "" ? "" : `${mark} in numbers held as text`}`;
  return `${encoding}, cells parted by ${delimiter}${mark}`;
}

function found({ measurements, properties }: FileContent): string {
  const counts = new Map<string, number>();
  for (const { kind } of measurements) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  if (properties.length > 0) counts.set("property", properties.length);
  return [...counts].map(([kind, count]) => `${count} × ${kind}`).join(", ");
}

/** One line a property and sample. */
function properties(list: PropertyMeasurement[]): string[] {
  return [
    "PROPERTIES",
    ...list
      .slice(0, mostProperties)
      .flatMap(({ property, unit, sample, method, values, areMeans, lines }) => {
        const numbers = `${values.slice(0, 12).map(significant).join("; ")}${values.length > 12 ? "; …" : ""}`;
        const by = method === null ? "" : `, ${method}`;
        const text = `${property} ${numbers} ${unit}${areMeans ? " (mean)" : ""}${by}; ${sample ?? "sample not stated"}, line ${lines[0]}`;
        return wrapped(text, width - 4).map((line, i) => `${i === 0 ? "  " : "    "}${line}`);
      }),
    ...(list.length > mostProperties ? [`  … and ${list.length - mostProperties} more`] : []),
  ];
}

/** Each fact with the line it came from, and what in the lines was not the test's. */
function stated({ stated: list }: FileContent): string[] {
  if (list.length === 0) return ["STATED OUTSIDE THE TABLES", "  nothing"];
  const shown = list.slice(0, mostStated).flatMap(({ line, fact, value, why }) => {
    const text =
      fact === null
        ? `passed over: ${value} (${why})`
        : `${fact}: ${value}${why === null ? "" : ` (${why})`}`;
    const place = `line ${line}`.padEnd(12);
    return wrapped(text, width - 14).map((part, i) => `  ${i === 0 ? place : " ".repeat(12)}${part}`);
  });
  const rest = list.length - mostStated;
  return ["STATED OUTSIDE THE TABLES", ...shown, ...(rest > 0 ? [`  … and ${rest} more`] : [])];
}

function described(measurement: Measurement, number: number, count: number): string[] {
  const { provenance, sample } = measurement;
  const title = count > 1 ? `${number}. ${measurement.kind}` : measurement.kind;
  const where = `lines ${provenance.firstLine} to ${provenance.lastLine}`;
  return [
    title.toUpperCase(),
    ...field("sample", sample ?? "not stated (the file's name stands for it)"),
    ...field(
      "where",
      provenance.sheet === null
        ? where
        : `sheet "${provenance.sheet}", rows ${provenance.firstLine} to ${provenance.lastLine}`,
    ),
    ...(provenance.section === null ? [] : field("section", provenance.section)),
    ...(measurement.kind === "rebound" ? ofRebound(measurement) : ofDynamic(measurement)),
  ];
}

function ofDynamic(measurement: DynamicMeasurement): string[] {
  const { temperature_C, frequency_Hz, storageModulus_Pa, lossModulus_Pa, strainAmplitude } = measurement;
  const letter =
    measurement.deformation === "shear" ? "G" : measurement.deformation === "unstated" ? "M" : "E";
  const rate = measurement.heatingRate_K_min;
  return [
    ...field("deformation", measurement.deformation),
    ...(measurement.direction === null
      ? []
      : field("direction", measurement.direction + (rate === null ? "" : `, ${fixed(rate, 2)} K/min`))),
    ...field("points", String(temperature_C.length)),
    ...field("temperature", `${range(temperature_C, (value) => fixed(value, 1))} °C`),
    ...field("frequency", frequencies(frequency_Hz)),
    ...field(`${letter}′`, `${range(storageModulus_Pa, megapascal)} MPa`),
    ...field(`${letter}″`, `${range(lossModulus_Pa, megapascal)} MPa`),
    ...(strainAmplitude === null
      ? []
      : field("strain", `${range(strainAmplitude, (value) => significant(100 * value))} %`)),
  ];
}

function ofRebound({ method, readings }: ReboundMeasurement): string[] {
  const temperatures = readings
    .map(({ temperature_C }) => temperature_C)
    .filter((value) => !Number.isNaN(value));
  const fractions = readings.flatMap(({ fractions }) => fractions);
  const most = Math.max(...readings.map(({ fractions }) => fractions.length));
  return [
    ...field("method", method ?? "not stated"),
    ...field(
      "readings",
      `${readings.length}, ${most === 1 ? "one value each" : `up to ${most} values each`}`,
    ),
    ...field(
      "temperature",
      temperatures.length === 0 ? "not stated" : `${range(temperatures, (value) => fixed(value, 1))} °C`,
    ),
    ...field("resilience", `${range(fractions, (value) => fixed(100 * value, 1))} %`),
  ];
}

function range(values: ArrayLike<number>, show: (value: number) => string): string {
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    if (values[i] < least) least = values[i];
    if (values[i] > greatest) greatest = values[i];
  }
  const [low, high] = [show(least), show(greatest)];
  return low === high ? low : `${low} to ${high}`;
}

function megapascal(value_Pa: number): string {
  return significant(value_Pa / 1e6);
}

function significant(value: number): string {
  return String(Number(value.toPrecision(4))).replace("-", "−");
}

function frequencies(values: Float64Array): string {
  const distinct: number[] = [];
  for (const value of Float64Array.from(values).sort()) {
    if (distinct.length === 0 || value > 1.03 * distinct[distinct.length - 1]) distinct.push(value);
  }
  if (distinct.length <= 6) return distinct.map(frequencyText).join(", ");
  return `${distinct.length} from ${frequencyText(distinct[0])} to ${frequencyText(distinct[distinct.length - 1])}`;
}

function sameColumns(one: Measurement, other: Measurement): boolean {
  return JSON.stringify(one.provenance.columns) === JSON.stringify(other.provenance.columns);
}

function notices({ notices: list }: FileContent): string[] {
  if (list.length === 0) return ["NOTICES", "  none: nothing had to be assumed"];
  return [
    "NOTICES",
    ...list.flatMap(({ severity, message, code }) =>
      wrapped(`${message} [${code}]`, width - 12).map(
        (line, i) => `  ${(i === 0 ? severity : "").padEnd(10)}${line}`,
      ),
    ),
  ];
}

function skipped({ skipped: list }: FileContent): string[] {
  if (list.length === 0) return ["LEFT OUT", "  nothing"];
  const shown = list.slice(0, listed).flatMap(({ line, text, why }) => {
    const place = `line ${line}`.padEnd(12);
    return [
      ...wrapped(why, width - 14).map((part, i) => `  ${i === 0 ? place : " ".repeat(12)}${part}`),
      ...(text === "" ? [] : [`  ${" ".repeat(12)}│ ${text.slice(0, width - 18)}`]),
    ];
  });
  const rest = list.length - listed;
  return ["LEFT OUT", ...shown, ...(rest > 0 ? [`  … and ${rest} more`] : [])];
}
