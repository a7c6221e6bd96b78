import type { DynamicMeasurement, FileContent, Measurement } from "../../src/io/measurement.js";
import { readerCodes } from "../../src/words/codes/reader-codes.js";
import type { Outcome } from "../../src/words/notice.js";

/**
 * What is wrong with an outcome of the reader, whatever its input: anything but measurements of finite numbers
 * or a problem with a known code. Null where all is well.
 */
export function outcomeFault(outcome: Outcome<FileContent>): string | null {
  if (!outcome.ok) {
    const { code, message, line, column } = outcome.problem;
    // The reader's own net for what it threw.
    if (code === "io.not-read") return `threw: ${message}`;
    return codeFault(code, message) ?? placeFault(line, "line") ?? placeFault(column, "column");
  }
  const { measurements, properties, notices, skipped } = outcome.value;
  for (const { property, values } of properties) {
    if (values.length === 0 || !values.every(Number.isFinite)) return `a ${property} without a number`;
  }
  if (measurements.length + properties.length === 0) return "read, and no measurement";
  for (const { severity, code, message } of notices) {
    if (!["info", "caution", "error"].includes(severity)) return `severity ${severity}`;
    const fault = codeFault(code, message);
    if (fault !== null) return fault;
  }
  for (const { line, why } of skipped) {
    if (why === "") return "skipped without a reason";
    const fault = placeFault(line, "skipped line");
    if (fault !== null) return fault;
  }
  for (const measurement of measurements) {
    const fault = measurementFault(measurement);
    if (fault !== null) return fault;
  }
  return null;
}

function codeFault(code: string, message: string): string | null {
  if (!Object.hasOwn(readerCodes, code)) return `unknown code ${code}`;
  if (message.length < 10 || message.length > 3000)
    return `${code} with a message of ${message.length} characters`;
  // A message is shown on terminals.
  // biome-ignore lint/suspicious/noControlCharactersInRegex: the very characters that must not be there
  if (/[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/.test(message))
    return `${code} with control characters`;
  return null;
}

function placeFault(place: number | undefined, name: string): string | null {
  return place === undefined || (Number.isInteger(place) && place >= 1) ? null : `${name} ${place}`;
}

function measurementFault(measurement: Measurement): string | null {
  const { provenance } = measurement;
  const { firstLine, lastLine, columns } = provenance;
  if (
    !(Number.isInteger(firstLine) && firstLine >= 1 && Number.isInteger(lastLine) && lastLine >= firstLine)
  ) {
    return `lines ${firstLine} to ${lastLine}`;
  }
  if (columns.length === 0 || columns.some(({ column }) => !Number.isInteger(column) || column < 1))
    return "columns";
  if (measurement.kind !== "rebound") return dynamicFault(measurement);
  if (measurement.readings.length === 0) return "rebound without readings";
  for (const { temperature_C, fractions, line } of measurement.readings) {
    // NaN stands for a temperature that is not stated.
    if (!Number.isNaN(temperature_C) && !(temperature_C >= -273.15 && temperature_C < 1e30))
      return `rebound at ${temperature_C} °C`;
    if (fractions.length === 0) return "a rebound reading without impacts";
    if (fractions.some((fraction) => !(fraction >= 0 && fraction <= 1)))
      return `rebound of ${fractions.join(", ")}`;
    if (!Number.isInteger(line) || line < 1) return `rebound on line ${line}`;
  }
  return null;
}

function dynamicFault(measurement: DynamicMeasurement): string | null {
  const { temperature_C, frequency_Hz, storageModulus_Pa, lossModulus_Pa, strainAmplitude, time_s } =
    measurement;
  const rows = temperature_C.length;
  if (rows < 2) return `a sweep of ${rows} rows`;
  const columns = { temperature_C, frequency_Hz, storageModulus_Pa, lossModulus_Pa, strainAmplitude, time_s };
  for (const [name, column] of Object.entries(columns)) {
    if (column === null) continue;
    if (column.length !== rows) return `${name} has ${column.length} rows of ${rows}`;
    const bad = column.find((value) => !Number.isFinite(value));
    if (bad !== undefined) return `${name} holds ${bad}`;
  }
  if (temperature_C.some((value) => value < -273.15)) return "a temperature below absolute zero";
  if (frequency_Hz.some((value) => value <= 0)) return "a frequency of zero or below";
  if (storageModulus_Pa.some((value) => value <= 0)) return "a storage modulus of zero or below";
  if (lossModulus_Pa.some((value) => value <= 0)) return "a loss modulus of zero or below";
  const { heatingRate_K_min } = measurement;
  if (heatingRate_K_min !== null && !Number.isFinite(heatingRate_K_min))
    return `heating rate ${heatingRate_K_min}`;
  return null;
}
