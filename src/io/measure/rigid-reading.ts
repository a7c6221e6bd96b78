import { notice, problem } from "../../words/codes/codes.js";
import { pascalText, percentText } from "../../words/quantity-text.js";
import { specimenModulus } from "../specimen-modulus.js";
import type { Block } from "../table/block.js";
import type { GroupColumns } from "./group-columns.js";
import type { Rows } from "./pool.js";
import { Rejection } from "./rejection.js";
import type { Told } from "./told.js";
import { rowText } from "./usable-rows.js";

/** A row of which the instrument makes up more than this share of the deflection says too little of the specimen. */
const largestShare = 0.75;

/**
 * Moduli without the give of the machine and its clamps (`specimenModulus`).
 *
 * @param rigid_MPa what a bar that does not give reads in the specimen's place, above every modulus that was read
 * @returns the columns with the moduli corrected, and the rows that are kept
 * @throws Rejection where a row reads as much as the rigid bar or more
 */
export function withoutGive(
  block: Block,
  columns: GroupColumns,
  rows: Rows,
  rigid_MPa: number,
  told: Told,
): { columns: GroupColumns; rows: Rows } {
  const rigid_Pa = rigid_MPa * 1e6;
  const storageModulus_Pa = columns.storageModulus_Pa.slice();
  const lossModulus_Pa = columns.lossModulus_Pa.slice();
  const kept: number[] = [];
  let most = 0;
  for (const row of rows) {
    const line = block.lines[row];
    const specimen = specimenModulus(storageModulus_Pa[row], lossModulus_Pa[row], rigid_Pa);
    if (specimen === null) throw new Rejection(beyondRigid(line, storageModulus_Pa[row], rigid_Pa));
    const { instrumentShare } = specimen;
    if (instrumentShare > largestShare) {
      const why = `${percentText(instrumentShare)} of the deflection is the instrument's, by the rigidReading_MPa that the study states`;
      told.skipped.add(line, rowText(block, row), why);
      continue;
    }
    most = Math.max(most, instrumentShare);
    storageModulus_Pa[row] = specimen.storageModulus_Pa;
    lossModulus_Pa[row] = specimen.lossModulus_Pa;
    kept.push(row);
  }
  const message = `The give of the instrument was taken off the moduli (a rigid bar reads ${pascalText(rigid_Pa)}, as the study states); it was up to ${percentText(most)} of a row's deflection.`;
  told.notices.push(notice("io.give-taken-off", message));
  return { columns: { ...columns, storageModulus_Pa, lossModulus_Pa }, rows: kept };
}

const beyondRigid = (line: number, storage_Pa: number, rigid_Pa: number) =>
  problem(
    "io.beyond-rigid-reading",
    `The storage modulus is ${pascalText(storage_Pa)}; expected less than ${pascalText(rigid_Pa)}, which a rigid bar reads there by the rigidReading_MPa that the study states. Measure the bar at the specimen's size and mode again, or correct the study.`,
    line,
  );
