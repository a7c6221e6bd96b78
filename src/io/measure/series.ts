import { notice } from "../../words/codes/codes.js";
import type { ReadOptions } from "../read-options.js";
import type { Block } from "../table/block.js";
import { type Group, holdsAny } from "../table/header/layout.js";
import { modulusTrouble } from "../table/header/modulus-trouble.js";
import { complianceQuantities, modulusQuantities, type Quantity } from "../vocabulary/quantities.js";
import { deformationOf } from "./deformation-of.js";
import { type GroupColumns, groupColumns } from "./group-columns.js";
import { isWhole, type Rows, type Series } from "./pool.js";
import { Rejection } from "./rejection.js";
import { withoutGive } from "./rigid-reading.js";
import { statedSample } from "./stated-sample.js";
import type { Told } from "./told.js";
import type { ChosenUnits } from "./units/si-columns.js";
import { rowText, usableRows } from "./usable-rows.js";

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
  const completed = new Map<number, string>();
  for (const group of block.layout.groups) {
    if (!hasModulus(group)) continue;
    const trouble = modulusTrouble(group, block.layout);
    if (trouble !== null) throw new Rejection(trouble);
    const read = groupColumns(block, group, options, chosen, told);
    const usable = usableRows(block, group, read, missing, completed);
    const { columns, rows } =
      options.rigidReading_MPa === undefined
        ? { columns: read, rows: usable }
        : withoutGive(block, read, usable, options.rigidReading_MPa, told);
    for (const [name, members] of bySample(block, rows)) {
      const copy = copierOf(members, block.rows, columnsIn(columns));
      const sample = options.sample ?? name ?? group.sample ?? statedSample(block.facts) ?? fallbackSample;
      found.push({
        block,
        sheet,
        sample,
        run: group.run,
        deformation: deformationOf(block, group, options, told),
        facts: block.facts,
        temperature_C: copy(columns.temperature_C),
        isFrequencyUnstated: columns.isFrequencyUnstated,
        frequency_Hz: columns.isFrequencyUnstated
          ? new Float64Array(members.length).fill(1)
          : copy(columns.frequency_Hz),
        storageModulus_Pa: copy(columns.storageModulus_Pa),
        lossModulus_Pa: copy(columns.lossModulus_Pa),
        strain: columns.strain === null ? null : copy(columns.strain),
        isDisplacement: columns.isDisplacement,
        time_s: columns.time_s === null ? null : copy(columns.time_s),
        lines: isWhole(members, block.rows)
          ? block.lines.subarray(0, block.rows)
          : Int32Array.from(members, (row) => block.lines[row]),
      });
    }
  }
  for (const [row, why] of missing) {
    told.skipped.add(block.lines[row], rowText(block, row), why);
  }
  const [first] = completed;
  if (first !== undefined) {
    const [row, why] = first;
    const others = completed.size - 1;
    const more = others === 0 ? "" : ` The same holds for ${others} ${others === 1 ? "line" : "lines"} more.`;
    told.notices.push(
      notice(
        "io.modulus-completed",
        `Line ${block.lines[row]}: ${why}; the line's storage and loss modulus were taken from its other cells.${more}`,
      ),
    );
  }
  return found;
}

/** How many columns a series keeps. */
function columnsIn({ isFrequencyUnstated, strain, time_s }: GroupColumns): number {
  return 3 + (isFrequencyUnstated ? 0 : 1) + (strain === null ? 0 : 1) + (time_s === null ? 0 : 1);
}

/**
 * Copies some rows of a column at a time, out of the block that the next file overwrites. All copies share one piece of
 * memory: for the few hundred rows of most exports, one of its own costs more than the values in it.
 */
function copierOf(rows: Rows, blockRows: number, columns: number): (column: Float64Array) => Float64Array {
  const kept = new Float64Array(rows.length * columns);
  const isAll = isWhole(rows, blockRows);
  let at = 0;
  return (column) => {
    const copy = kept.subarray(at, at + rows.length);
    at += rows.length;
    if (isAll) copy.set(column);
    else for (let i = 0; i < rows.length; i++) copy[i] = column[rows[i]];
    return copy;
  };
}

/** Whether a group of columns gives a modulus. */
export function hasModulus(group: Group): boolean {
  return holdsAny(group, moduli);
}

const moduli: ReadonlySet<Quantity> = new Set([...modulusQuantities, ...complianceQuantities]);

function bySample(block: Block, rows: Rows): Map<string | null, Rows> {
  if (block.samples === null) return new Map(rows.length === 0 ? [] : [[null, rows]]);
  const groups = new Map<string | null, number[]>();
  for (const row of rows) {
    const name = block.samples[row] === "" ? null : block.samples[row];
    const members = groups.get(name);
    if (members === undefined) groups.set(name, [row]);
    else members.push(row);
  }
  return groups;
}
