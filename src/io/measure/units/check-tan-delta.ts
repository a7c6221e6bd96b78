import { problem } from "../../../words/codes/codes.js";
import { columnInStudy } from "../../study-example.js";
import type { Block } from "../../table/block.js";
import type { Group } from "../../table/header/layout.js";
import { Rejection } from "../rejection.js";
import type { ModulusPair } from "./complex-modulus.js";

/**
 * What tan δ of a polymer can be, with room to spare: a glass dissipates little (its tan δ lies below 0.2; from memory), a
 * solid of 0.3 MPa or more less than five times what it stores, and no rubber comes through its glass transition with less
 * than a hundredth. A narrow transition passes 0.3 GPa with more than 1.5, so the glass is what is stiffer than half of the
 * stiffest row: swapped columns have their greatest tan δ there, a transition its least.
 */
const glass_Pa = 3e8;
const glassOfStiffest = 0.5;
const greatestInGlass = 1.5;
const solid_Pa = 3e5;
const greatestInSolid = 5;
const leastSomewhere = 0.002;
const fewestRows = 4;

/**
 * Rejects a table whose tan δ is what no polymer has: the headers of storage and loss modulus are swapped then, or the
 * scale of one of the columns is wrong. What the study states of the columns stands.
 */
export function checkTanDelta(
  { storageModulus_Pa, lossModulus_Pa }: ModulusPair,
  block: Block,
  group: Group,
): void {
  if (isOrdinary(storageModulus_Pa, lossModulus_Pa, block.rows)) return;
  const columns = [...group.slots.values()].flat().map((slot) => block.layout.slots[slot].column);
  if (columns.some(({ fromStudy }) => fromStudy)) return;
  let rows = 0;
  let glassRows = 0;
  let inGlass = -1;
  let countInGlass = 0;
  let inSolid = -1;
  let countInSolid = 0;
  let greatest = 0;
  let stiffest_Pa = 0;
  for (let row = 0; row < block.rows; row++) {
    stiffest_Pa = Math.max(stiffest_Pa, finite(storageModulus_Pa[row]), finite(lossModulus_Pa[row]));
  }
  const leastOfGlass_Pa = Math.max(glass_Pa, glassOfStiffest * stiffest_Pa);
  for (let row = 0; row < block.rows; row++) {
    const tangent = lossModulus_Pa[row] / storageModulus_Pa[row];
    if (!(tangent > 0) || !Number.isFinite(tangent)) continue;
    rows++;
    if (tangent > greatest) greatest = tangent;
    const magnitude_Pa = Math.max(storageModulus_Pa[row], lossModulus_Pa[row]);
    if (magnitude_Pa >= leastOfGlass_Pa) {
      glassRows++;
      if (tangent > greatestInGlass) {
        countInGlass++;
        if (inGlass < 0) inGlass = row;
      }
    }
    if (magnitude_Pa >= solid_Pa && tangent > greatestInSolid) {
      countInSolid++;
      if (inSolid < 0) inSolid = row;
    }
  }
  if (rows < fewestRows) return;
  const tangentOf = (row: number) => Number((lossModulus_Pa[row] / storageModulus_Pa[row]).toPrecision(3));
  const swapped =
    "Check whether the headers of storage and loss modulus are swapped, and the unit of each, or state the columns";
  if (countInGlass >= 2 && countInGlass >= 0.2 * glassRows) {
    throw impossible(
      `tan δ comes to ${tangentOf(inGlass)} where the modulus is that of a glass (${countInGlass} of ${glassRows} such rows); expected below ${greatestInGlass}. ${swapped}`,
      block.lines[inGlass],
    );
  }
  if (countInSolid >= 0.5 * rows) {
    throw impossible(
      `tan δ comes to ${tangentOf(inSolid)} where the modulus is that of a solid (${countInSolid} of ${rows} rows); expected below ${greatestInSolid}. ${swapped}`,
      block.lines[inSolid],
    );
  }
  if (greatest < leastSomewhere) {
    throw impossible(
      `tan δ is nowhere above ${Number(greatest.toPrecision(3))}; no rubber dissipates so little. Check the units and scales of the columns, or state them`,
      block.lines[0],
    );
  }
}

/**
 * Whether no row comes near what would be rejected, as in nearly all tables. Without a division in each row, so the
 * limits stand on the safe side of rounding; false says nothing.
 */
function isOrdinary(storageModulus_Pa: Float64Array, lossModulus_Pa: Float64Array, rows: number): boolean {
  let isSomewhere = false;
  for (let row = 0; row < rows; row++) {
    const storage = storageModulus_Pa[row];
    const loss = lossModulus_Pa[row];
    if (loss > 0.9 * greatestInGlass * storage) {
      if (loss >= glass_Pa || loss > 0.9 * greatestInSolid * storage) return false;
    }
    if (!isSomewhere) isSomewhere = storage > 0 && loss > 1.1 * leastSomewhere * storage;
  }
  return isSomewhere;
}

const finite = (value: number) => (Number.isFinite(value) ? value : 0);

function impossible(text: string, line: number): Rejection {
  return new Rejection(
    problem(
      "io.tan-delta-impossible",
      `${text} in study.yaml, as in ${columnInStudy(3, "storage modulus in MPa")}`,
      line,
    ),
  );
}
