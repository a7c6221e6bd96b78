import type { Deformation, DynamicMeasurement } from "../../../io/measurement.js";
import { distinctFrequencies, type Row, type RowSource, rampSteps } from "../../glass/ramp-steps.js";
import { lineOfRow } from "../../glass/sweep.js";

/** All points of one temperature step of one run. */
export interface Isotherm {
  run: number;
  /** Mean of the points' own temperatures. */
  temperature_C: number;
  /** Rows first … end − 1 of the set. */
  first: number;
  end: number;
}

/**
 * Moduli of one compound in one deformation mode, isotherm after isotherm, coldest first within a run. The
 * columns have one length. Values that are not positive are NaN and carry no weight.
 */
export interface IsothermSet {
  deformation: Deformation;
  runs: { paths: string[]; kind: "frequency sweep" | "temperature sweep" }[];
  isotherms: Isotherm[];
  temperature_C: Float64Array;
  frequency_Hz: Float64Array;
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
  /** An object of its own for every row: rows are known by it from one part of a set to another. */
  source: RowSource[];
}

interface FileRows {
  path: string;
  kind: "frequency sweep" | "temperature sweep";
  rows: Row[];
}

/**
 * Ramps at one frequency each, in files of their own and at different frequencies, are one ramp at several
 * frequencies; its path lists all files, separated by line breaks.
 */
function joinRamps(files: FileRows[]): FileRows[] {
  const single = files.filter(
    (f) => f.kind === "temperature sweep" && distinctFrequencies(f.rows).length === 1,
  );
  const frequencies = distinctFrequencies(single.flatMap((file) => file.rows));
  if (frequencies.length < 2 || frequencies.length < single.length) return files;
  return [
    ...files.filter((file) => !single.includes(file)),
    {
      path: single.map((file) => file.path).join("\n"),
      kind: "temperature sweep",
      rows: single.flatMap((file) => file.rows),
    },
  ];
}

/** Rows of one file that belong to one run, split into temperature steps. */
interface Steps {
  path: string;
  kind: "frequency sweep" | "temperature sweep";
  steps: Row[][];
}

/**
 * Sorts the dynamic measurements of one deformation mode into isotherms. Frequency sweeps are isotherms as
 * they stand; a temperature ramp at several frequencies is the same data read the other way and is regrouped
 * on the measured temperatures, each point keeping its own. Ramps at one frequency and strain sweeps carry no
 * isotherm and are left out. Files that repeat a temperature are replicate runs; files with one isotherm each
 * make up one run together.
 */
export function isothermsOf(measurements: DynamicMeasurement[], deformation: Deformation): IsothermSet {
  const perFile = new Map<string, FileRows>();
  for (const measurement of measurements) {
    if (measurement.deformation !== deformation || measurement.kind === "strain sweep") continue;
    const { file, sheet } = measurement.provenance;
    const key = `${measurement.kind} ${file} ${sheet ?? ""}`;
    const entry = perFile.get(key) ?? { path: file, kind: measurement.kind, rows: [] };
    entry.rows.push(...rowsOf(measurement));
    perFile.set(key, entry);
  }
  const runs: Steps[] = [];
  const files = joinRamps([...perFile.values()]);
  // The joint fit has a shift for every step: replicates share out sixty of them.
  const ramps = files.filter(({ kind }) => kind === "temperature sweep").length;
  const mostSteps = Math.min(40, Math.max(15, Math.floor(60 / ramps)));
  for (const { path, kind, rows } of files) {
    const steps = kind === "frequency sweep" ? frequencySweepSteps(rows) : rampSteps(rows, mostSteps);
    const usable = steps.filter((step) => distinctFrequencies(step).length >= 2);
    if (usable.length > 0) runs.push({ path, kind, steps: usable });
  }
  return assemble(deformation, joinSingles(runs));
}

/** The rows of a measurement that have a temperature, a frequency above zero and at least one usable modulus. */
export function rowsOf(measurement: DynamicMeasurement): Row[] {
  const rows: Row[] = [];
  const { file, sheet, firstLine, lastLine } = measurement.provenance;
  for (let i = 0; i < measurement.temperature_C.length; i++) {
    const storage = measurement.storageModulus_Pa[i];
    const loss = measurement.lossModulus_Pa[i];
    const row = {
      source: { file, sheet, line: lineOfRow(measurement, i), firstLine, lastLine },
      temperature_C: measurement.temperature_C[i],
      frequency_Hz: measurement.frequency_Hz[i],
      storageModulus_Pa: storage > 0 && Number.isFinite(storage) ? storage : Number.NaN,
      lossModulus_Pa: loss > 0 && Number.isFinite(loss) ? loss : Number.NaN,
    };
    if (
      !Number.isFinite(row.temperature_C) ||
      !(row.frequency_Hz > 0) ||
      !Number.isFinite(row.frequency_Hz)
    ) {
      continue;
    }
    if (!Number.isNaN(row.storageModulus_Pa)) rows.push(row);
  }
  return rows;
}

/** Steps of a frequency sweep: temperatures that hang together within a drift of 0.75 K. */
function frequencySweepSteps(rows: Row[]): Row[][] {
  return splitAtGaps(
    rows.toSorted((a, b) => a.temperature_C - b.temperature_C),
    0.75,
  ).flatMap((step) => splitWide(step, 3));
}

function splitAtGaps(sorted: Row[], gap_K: number): Row[][] {
  const steps: Row[][] = [];
  for (const row of sorted) {
    const last = steps.at(-1);
    if (last && row.temperature_C - last[last.length - 1].temperature_C <= gap_K) last.push(row);
    else steps.push([row]);
  }
  return steps;
}

/** Cuts a step that drifts over more than `width_K` (a sweep taken on a moving temperature) into even parts. */
function splitWide(step: Row[], width_K: number): Row[][] {
  const low = step[0].temperature_C;
  const span = step[step.length - 1].temperature_C - low;
  if (span <= width_K) return [step];
  const count = Math.ceil(span / (width_K / 1.5));
  const parts: Row[][] = Array.from({ length: count }, () => []);
  for (const row of step) {
    parts[Math.min(count - 1, Math.floor(((row.temperature_C - low) / span) * count))].push(row);
  }
  return parts.filter((part) => part.length > 0);
}

const meanTemperature = (step: Row[]) => step.reduce((sum, row) => sum + row.temperature_C, 0) / step.length;

/** Files of one isotherm each are one run, unless it already has an isotherm within 1 K: then a replicate. */
function joinSingles(files: Steps[]): { paths: string[]; kind: Steps["kind"]; steps: Row[][] }[] {
  const runs: { paths: string[]; kind: Steps["kind"]; steps: Row[][] }[] = [];
  for (const { path, kind, steps } of files.toSorted((a, b) => b.steps.length - a.steps.length)) {
    const host =
      steps.length > 1
        ? undefined
        : runs.find(
            (run) =>
              run.kind === kind &&
              run.steps.every((step) => Math.abs(meanTemperature(step) - meanTemperature(steps[0])) > 1),
          );
    if (host) {
      host.paths.push(path);
      host.steps.push(...steps);
    } else runs.push({ paths: path.split("\n"), kind, steps: steps.slice() });
  }
  return runs;
}

function assemble(
  deformation: Deformation,
  runs: { paths: string[]; kind: Steps["kind"]; steps: Row[][] }[],
): IsothermSet {
  const isotherms: Isotherm[] = [];
  const rows: Row[] = [];
  for (const [run, { steps }] of runs.entries()) {
    for (const step of steps.toSorted((a, b) => meanTemperature(a) - meanTemperature(b))) {
      const first = rows.length;
      rows.push(...step.toSorted((a, b) => a.frequency_Hz - b.frequency_Hz));
      isotherms.push({ run, temperature_C: meanTemperature(step), first, end: rows.length });
    }
  }
  return {
    deformation,
    runs: runs.map(({ paths, kind }) => ({ paths, kind })),
    isotherms,
    temperature_C: Float64Array.from(rows, (row) => row.temperature_C),
    frequency_Hz: Float64Array.from(rows, (row) => row.frequency_Hz),
    storageModulus_Pa: Float64Array.from(rows, (row) => row.storageModulus_Pa),
    lossModulus_Pa: Float64Array.from(rows, (row) => row.lossModulus_Pa),
    source: rows.map((row) => row.source),
  };
}

/**
 * The set with these rows in this order, and these isotherms, which count in them.
 * @param rows indices of the set's rows
 */
export function pickRows(set: IsothermSet, rows: number[], isotherms: Isotherm[]): IsothermSet {
  const pick = (column: Float64Array) => Float64Array.from(rows, (i) => column[i]);
  return {
    ...set,
    isotherms,
    temperature_C: pick(set.temperature_C),
    frequency_Hz: pick(set.frequency_Hz),
    storageModulus_Pa: pick(set.storageModulus_Pa),
    lossModulus_Pa: pick(set.lossModulus_Pa),
    source: rows.map((i) => set.source[i]),
  };
}

/** The set with only the isotherms that `keep` accepts. */
export function filterIsotherms(
  set: IsothermSet,
  keep: (isotherm: Isotherm, index: number) => boolean,
): IsothermSet {
  const kept = set.isotherms.filter(keep);
  const used = [...new Set(kept.map(({ run }) => run))].sort((a, b) => a - b);
  const rows: number[] = [];
  const isotherms = kept.map(({ run, temperature_C, first: from, end }) => {
    const first = rows.length;
    for (let i = from; i < end; i++) rows.push(i);
    return { run: used.indexOf(run), temperature_C, first, end: rows.length };
  });
  return { ...pickRows(set, rows, isotherms), runs: used.map((run) => set.runs[run]) };
}
