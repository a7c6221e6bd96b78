import type { Deformation, Skipped } from "../measurement.js";
import type { Notice } from "../problem.js";
import { notice, problem, shown } from "../problem-codes.js";
import type { ReadOptions } from "../read-options.js";
import type { Block, Gap } from "../table/block.js";
import type { Facts } from "../table/facts.js";
import { type Group, modulusTrouble } from "../table/layout.js";
import { whyOf } from "../table/table-reader.js";
import type { Quantity } from "../vocabulary/quantities.js";
import { disagreements, type ModulusColumns, modulusPairs } from "./complex-modulus.js";
import { isWhole, picked } from "./pool.js";
import { Rejection } from "./rejection.js";
import { type ChosenUnits, siColumn } from "./si-columns.js";

/** Usable rows of one sample in one block (and one group of columns of it), in the order of the file. */
export interface Series {
  block: Block;
  sheet: string | null;
  sample: string | null;
  deformation: Deformation;
  facts: Facts;
  temperature_C: Float64Array;
  frequency_Hz: Float64Array;
  storage_Pa: Float64Array;
  loss_Pa: Float64Array;
  strain: Float64Array | null;
  time_s: Float64Array | null;
  lines: Int32Array;
}

/** Where series put what they have to say. */
export interface Told {
  notices: Notice[];
  skipped: Skipped[];
  /** True where all tables of the file lean on one statement of a frequency or temperature. */
  statedOnce: boolean;
}

/** All series of a block; rows that lack a value go to `told.skipped`. */
export function seriesOf(
  block: Block,
  sheet: string | null,
  options: ReadOptions,
  chosen: ChosenUnits,
  told: Told,
  fallbackSample: string | null,
): Series[] {
  const found: Series[] = [];
  // A row of a wide table is told once, however many of its groups lack a value.
  const missing = new Map<number, string>();
  for (const group of block.layout.groups) {
    if (!hasModulus(group)) continue;
    const trouble = modulusTrouble(group, block.layout);
    if (trouble !== null) throw new Rejection(trouble);
    const columns = groupColumns(block, group, options, chosen, told);
    const rows = usableRows(block, group, columns, missing);
    const { storage_Pa, loss_Pa } = columns;
    for (const [name, members] of bySample(block, rows)) {
      const pick = (values: Float64Array) => picked(values, members);
      const sample = options.sample ?? name ?? group.sample ?? block.facts.sample ?? fallbackSample;
      found.push({
        block,
        sheet,
        sample,
        deformation: deformationOf(block, group, options, told),
        facts: block.facts,
        temperature_C: pick(columns.temperature_C),
        frequency_Hz: pick(columns.frequency_Hz),
        storage_Pa: pick(storage_Pa),
        loss_Pa: pick(loss_Pa),
        strain: columns.strain === null ? null : pick(columns.strain),
        time_s: columns.time_s === null ? null : pick(columns.time_s),
        lines: isWhole(members, block.rows)
          ? block.lines.subarray(0, block.rows)
          : Int32Array.from(members, (row) => block.lines[row]),
      });
    }
  }
  for (const [row, why] of missing) {
    told.skipped.push({ line: block.lines[row], text: rowText(block, row), why });
  }
  return found;
}

export function hasModulus(group: Group): boolean {
  return (
    ["storage modulus", "loss modulus", "complex modulus", "tan delta", "phase angle"] as Quantity[]
  ).some((quantity) => (group.slots.get(quantity)?.length ?? 0) > 0);
}

interface GroupColumns {
  temperature_C: Float64Array;
  frequency_Hz: Float64Array;
  storage_Pa: Float64Array;
  loss_Pa: Float64Array;
  strain: Float64Array | null;
  time_s: Float64Array | null;
}

function groupColumns(
  block: Block,
  group: Group,
  options: ReadOptions,
  chosen: ChosenUnits,
  told: Told,
): GroupColumns {
  const column = (quantity: Quantity): Float64Array | null => {
    const slot = group.slots.get(quantity)?.[0];
    return slot === undefined ? null : siColumn(block, slot, chosen);
  };
  const moduli: ModulusColumns = {
    storage: column("storage modulus"),
    loss: column("loss modulus"),
    complex: column("complex modulus"),
    tanDelta: column("tan delta"),
    phase: column("phase angle"),
  };
  const pair = modulusPairs(moduli, block.rows);
  told.notices.push(...disagreements(moduli, pair, block, group.slots));
  return {
    temperature_C: temperatureOf(block, group, options, column, told),
    frequency_Hz: frequencyOf(block, group, options, column, told),
    ...pair,
    strain: strainOf(block, column),
    time_s: column("time"),
  };
}

function constant(value: number, rows: number): Float64Array {
  return new Float64Array(rows).fill(value);
}

function temperatureOf(
  block: Block,
  group: Group,
  options: ReadOptions,
  column: (quantity: Quantity) => Float64Array | null,
  told: Told,
): Float64Array {
  const measured = column("temperature");
  if (measured !== null) return measured;
  const set = column("set temperature");
  if (set !== null) {
    told.notices.push(
      notice(
        "caution",
        "io.set-temperature",
        "Only a set temperature is given; it stands for the measured one.",
      ),
    );
    return set;
  }
  if (group.tag.temperature_C !== undefined) return constant(group.tag.temperature_C, block.rows);
  const { facts, layout } = block;
  if (facts.temperature_C !== null) {
    checkStated(facts.temperature_C, facts.lines.temperature);
    sayStated(told, "temperature", `${round(facts.temperature_C)} °C`, facts.lines.temperature);
    return constant(facts.temperature_C, block.rows);
  }
  if (options.temperature_C !== undefined) return constant(options.temperature_C, block.rows);
  throw new Rejection(
    problem(
      "io.no-temperature",
      "The table has no temperature column, and no line above it states the temperature; expected one or the other. Add a column " +
        'or a line such as "Temperature: 23 °C", or state the column under "columns" in study.yaml.',
      layout.headerLine,
    ),
  );
}

function checkStated(temperature_C: number, line: number | undefined): void {
  if (temperature_C >= -273.15) return;
  throw new Rejection(
    problem(
      "io.below-absolute-zero",
      `The stated temperature, ${round(temperature_C)} °C, lies below absolute zero (−273.15 °C). Check its unit.`,
      line,
    ),
  );
}

function frequencyOf(
  block: Block,
  group: Group,
  options: ReadOptions,
  column: (quantity: Quantity) => Float64Array | null,
  told: Told,
): Float64Array {
  if (group.tag.frequency_Hz !== undefined) return constant(group.tag.frequency_Hz, block.rows);
  const measured = column("frequency") ?? column("angular frequency");
  if (measured !== null) return measured;
  const { facts, layout } = block;
  if (facts.frequency_Hz !== null) {
    sayStated(told, "frequency", `${round(facts.frequency_Hz)} Hz`, facts.lines.frequency);
    return constant(facts.frequency_Hz, block.rows);
  }
  if (options.frequency_Hz !== undefined) return constant(options.frequency_Hz, block.rows);
  throw new Rejection(
    problem(
      "io.no-frequency",
      "The table has no frequency column, and no line above it states the frequency; expected one or the other. Add a column or a " +
        'line such as "Frequency: 10 Hz", or state it for this file in study.yaml. It is not guessed.',
      layout.headerLine,
    ),
  );
}

/** Only a value that a whole file leans on is worth a notice; the title of a section is plain enough. */
function sayStated(told: Told, what: string, value: string, line: number | undefined): void {
  if (line === undefined || !told.statedOnce) return;
  const message = `The ${what}, ${value}, is taken from line ${line}: the table has no column for it.`;
  if (told.notices.some((one) => one.message === message)) return;
  told.notices.push(notice("info", "io.stated-outside-table", message));
}

function round(value: number): string {
  return String(Number(value.toPrecision(6))).replace("-", "−");
}

function strainOf(block: Block, column: (quantity: Quantity) => Float64Array | null): Float64Array | null {
  const measured = column("strain amplitude") ?? column("double strain amplitude");
  if (measured !== null) return measured;
  const { strainAmplitude } = block.facts;
  return strainAmplitude === null ? null : constant(strainAmplitude, block.rows);
}

/** Quantities that a row must hold. A gap among the moduli may be made up for by the others. */
const needed = new Set<Quantity>(["temperature", "set temperature", "frequency", "angular frequency"]);
const moduli = new Set<Quantity>([
  "storage modulus",
  "loss modulus",
  "complex modulus",
  "tan delta",
  "phase angle",
]);

function usableRows(
  block: Block,
  group: Group,
  columns: GroupColumns,
  missing: Map<number, string>,
): number[] {
  const gapsOf = new Map<number, Gap[]>();
  const members = new Set([...group.slots.values()].flat());
  for (const gap of block.gaps) {
    if (members.has(gap.slot)) gapsOf.set(gap.row, [...(gapsOf.get(gap.row) ?? []), gap]);
  }
  const rows: number[] = [];
  for (let row = 0; row < block.rows; row++) {
    const gaps = block.gaps.length === 0 ? undefined : gapsOf.get(row);
    const telling = gaps?.find(({ slot, kind }) => {
      const { quantity } = block.layout.slots[slot];
      return needed.has(quantity) || (moduli.has(quantity) && kind === "over-range");
    });
    const complete =
      columns.storage_Pa[row] > 0 &&
      columns.loss_Pa[row] > 0 &&
      columns.storage_Pa[row] < Number.POSITIVE_INFINITY &&
      columns.loss_Pa[row] < Number.POSITIVE_INFINITY &&
      Number.isFinite(columns.temperature_C[row]) &&
      Number.isFinite(columns.frequency_Hz[row]);
    if (telling === undefined && complete) {
      rows.push(row);
      continue;
    }
    const [first] = telling === undefined ? (gaps ?? []) : [telling];
    missing.set(
      row,
      first === undefined
        ? "storage and loss modulus do not follow from the values"
        : whyOf(first, block.layout),
    );
  }
  return rows;
}

function bySample(block: Block, rows: number[]): Map<string | null, number[]> {
  const groups = new Map<string | null, number[]>();
  if (block.samples === null) {
    if (rows.length > 0) groups.set(null, rows);
    return groups;
  }
  for (const row of rows) {
    const name = block.samples[row] === "" ? null : block.samples[row];
    const members = groups.get(name);
    if (members === undefined) groups.set(name, [row]);
    else members.push(row);
  }
  return groups;
}

/** G says shear; E leaves tension, bending and compression open. What the file states in words is held against it. */
function deformationOf(block: Block, group: Group, options: ReadOptions, told: Told): Deformation {
  if (options.deformation !== undefined) return options.deformation;
  const letters = new Set(
    [...group.slots.values()].flat().map((slot) => block.layout.slots[slot].column.reading.letter),
  );
  const stated = block.facts.deformation;
  const contradiction = (letter: string, taken: string) => {
    const message =
      `The columns hold ${letter}, but the file states ${stated}${block.facts.lines.deformation === undefined ? "" : ` (line ${block.facts.lines.deformation})`}; ` +
      `the symbol was followed: ${taken}. Check which modulus the file holds.`;
    if (!told.notices.some((one) => one.message === message)) {
      told.notices.push(notice("caution", "io.deformation-contradicts", message));
    }
  };
  if (letters.has("G")) {
    if (stated !== null && stated !== "shear") contradiction("a shear modulus G", "shear");
    return "shear";
  }
  if (letters.has("E")) {
    if (stated === "shear") {
      contradiction("a tensile modulus E", "deformation unstated");
      return "unstated";
    }
  }
  return stated ?? "unstated";
}

/** The numbers of a row as text, for the list of skipped lines. */
export function rowText(block: Block, row: number): string {
  const gaps = new Map(block.gaps.filter((gap) => gap.row === row).map((gap) => [gap.slot, gap.cell]));
  const cells = block.layout.slots.map(({ power }, slot) => {
    const value = block.data[slot][row];
    return gaps.get(slot) ?? String(Number((value / 10 ** power).toPrecision(10)));
  });
  return shown(cells.join("  ")).slice(0, 120);
}
