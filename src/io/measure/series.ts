import type { ReadOptions } from "../read-options.js";
import type { Block } from "../table/block.js";
import type { Group } from "../table/header/layout.js";
import { modulusTrouble } from "../table/header/modulus-trouble.js";
import { complianceQuantities, modulusQuantities } from "../vocabulary/quantities.js";
import { deformationOf } from "./deformation-of.js";
import { groupColumns } from "./group-columns.js";
import { isWhole, picked, type Series } from "./pool.js";
import { Rejection } from "./rejection.js";
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
  for (const group of block.layout.groups) {
    if (!hasModulus(group)) continue;
    const trouble = modulusTrouble(group, block.layout);
    if (trouble !== null) throw new Rejection(trouble);
    const columns = groupColumns(block, group, options, chosen, told);
    const rows = usableRows(block, group, columns, missing);
    const { storageModulus_Pa, lossModulus_Pa } = columns;
    for (const [name, members] of bySample(block, rows)) {
      const pick = (values: Float64Array) => picked(values, members);
      const sample = options.sample ?? name ?? group.sample ?? statedSample(block.facts) ?? fallbackSample;
      found.push({
        block,
        sheet,
        sample,
        run: group.run,
        deformation: deformationOf(block, group, options, told),
        facts: block.facts,
        temperature_C: pick(columns.temperature_C),
        isFrequencyUnstated: columns.isFrequencyUnstated,
        frequency_Hz: columns.isFrequencyUnstated
          ? new Float64Array(members.length).fill(1)
          : pick(columns.frequency_Hz),
        storageModulus_Pa: pick(storageModulus_Pa),
        lossModulus_Pa: pick(lossModulus_Pa),
        strain: columns.strain === null ? null : pick(columns.strain),
        isDisplacement: columns.isDisplacement,
        time_s: columns.time_s === null ? null : pick(columns.time_s),
        lines: isWhole(members, block.rows)
          ? block.lines.subarray(0, block.rows)
          : Int32Array.from(members, (row) => block.lines[row]),
      });
    }
  }
  for (const [row, why] of missing) {
    told.skipped.add(block.lines[row], rowText(block, row), why);
  }
  return found;
}

/** Whether a group of columns gives a modulus. */
export function hasModulus(group: Group): boolean {
  return [...modulusQuantities, ...complianceQuantities].some(
    (quantity) => (group.slots.get(quantity)?.length ?? 0) > 0,
  );
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
