import { exp10 } from "../../../numeric/elementary/exponential.js";
import { type Code, problem } from "../../../words/codes/codes.js";
import type { Block } from "../../table/block.js";
import type { Quantity } from "../../vocabulary/quantities.js";
import { Rejection } from "../rejection.js";
import { shownNumber } from "./choose-unit.js";

/** A loss that reads a little below zero now and then is noise of a stiff specimen; more than this share is not. */
const toleratedShare = 0.05;
/** A small loss written with few decimals reads zero all through the glass; beyond half the rows nothing is left to trust. */
const toleratedZeros = 0.5;

/** What the values of a quantity must be, and what to say of one that is not. */
interface Bound {
  isSound: (value: number) => boolean;
  /** Share of unsound values that go out row by row instead of ending the reading. */
  tolerated: number;
  /** The same for values that are exactly zero; as `tolerated` where absent. */
  toleratedZeros?: number;
  code: Code;
  describe: (written: string) => string;
}

/** Null where any number will do. */
function boundOf(quantity: Quantity): Bound | null {
  switch (quantity) {
    case "temperature":
    case "set temperature":
      return {
        isSound: (value) => value >= -273.15,
        tolerated: 0,
        code: "io.below-absolute-zero",
        describe: (written) =>
          `${written} lies below absolute zero (−273.15 °C). Check the unit of the temperature column and this row.`,
      };
    case "storage modulus":
    case "complex modulus":
    case "loss modulus":
    case "tan delta":
    case "phase angle":
      return {
        isSound: (value) => value > 0,
        ...(quantity === "storage modulus" || quantity === "complex modulus"
          ? { tolerated: 0 }
          : { tolerated: toleratedShare, toleratedZeros }),
        code: "io.modulus-not-positive",
        describe: (written) =>
          `The ${quantity} ${written} is zero or negative; expected a positive value. If the specimen slipped or broke ` +
          "there, take the row out of the export.",
      };
    case "frequency":
    case "angular frequency":
      return {
        isSound: (value) => value > 0,
        tolerated: 0,
        code: "io.frequency-not-positive",
        describe: (written) => `The frequency ${written} is not above zero. Correct this row or the unit.`,
      };
    case "strain amplitude":
    case "double strain amplitude":
      return {
        isSound: (value) => value > 0,
        // Instruments write zero where they did not measure it; only a strain sweep needs it.
        tolerated: 1,
        code: "io.modulus-not-positive",
        describe: (written) => `The strain ${written} is not above zero.`,
      };
    default:
      return null;
  }
}

/**
 * What matter at hand can have, with orders of magnitude to spare: an instrument that writes more or less has
 * written a code, or the unit is wrong. SI, °C, degrees, fractions.
 */
const extents: Partial<Record<Quantity, [least: number, greatest: number]>> = {
  temperature: [-273.15, 3000],
  "set temperature": [-273.15, 3000],
  frequency: [1e-9, 1e12],
  "angular frequency": [1e-9, 1e12],
  "storage modulus": [1e-3, 1e14],
  "loss modulus": [1e-6, 1e14],
  "complex modulus": [1e-3, 1e14],
  "tan delta": [1e-7, 1e5],
  "phase angle": [1e-6, 90],
  "strain amplitude": [1e-12, 1e3],
  "double strain amplitude": [1e-12, 1e3],
};

/** Shift factors reach over some twenty decades (common practice), with room to spare. */
const reducedFrequency_Hz: [least: number, greatest: number] = [1e-40, 1e40];

/**
 * Holds the SI values of a slot against what its quantity can be: a value of the wrong sign ends the reading, one
 * of an impossible size goes out with its row.
 * @returns the values as they are where all are sound, else a copy without those that are not
 */
export function checkedRange(block: Block, slot: number, si: Float64Array): Float64Array {
  const { column, power, quantity } = block.layout.slots[slot];
  const extent = column.reading.isReduced ? reducedFrequency_Hz : extents[quantity];
  if (extent === undefined || areWithin(si, extent)) return si;
  const values = si.slice();
  const written = (row: number) => shownNumber(block.data[slot][row] / exp10(power));
  const bound = boundOf(quantity);
  if (bound !== null) checkSign(block, slot, values, bound, written, column.reading.unitText);
  const [least, greatest] = extent;
  for (let row = 0; row < values.length; row++) {
    if (Number.isNaN(values[row]) || (values[row] >= least && values[row] <= greatest)) continue;
    block.gaps.push({ row, slot, cell: written(row), kind: "over-range" });
    values[row] = Number.NaN;
  }
  return values;
}

/** NaN is not. */
function areWithin(values: Float64Array, [least, greatest]: [number, number]): boolean {
  for (let row = 0; row < values.length; row++) {
    if (!(values[row] >= least && values[row] <= greatest)) return false;
  }
  return true;
}

function checkSign(
  block: Block,
  slot: number,
  values: Float64Array,
  { isSound, tolerated, toleratedZeros = tolerated, code, describe }: Bound,
  written: (row: number) => string,
  unitText: string,
): void {
  const bad: number[] = [];
  for (let row = 0; row < values.length; row++) {
    if (!Number.isNaN(values[row]) && !isSound(values[row])) bad.push(row);
  }
  if (bad.length === 0) return;
  const nonZero = bad.filter((row) => values[row] !== 0);
  const isTooMany =
    nonZero.length > tolerated * values.length ||
    bad.length > Math.max(tolerated, toleratedZeros) * values.length;
  if (isTooMany) {
    const unit = unitText === "" || unitText === "-" ? "" : ` ${unitText}`;
    const place = block.layout.slots[slot].column.position + 1;
    throw new Rejection(problem(code, describe(`${written(bad[0])}${unit}`), block.lines[bad[0]], place));
  }
  for (const row of bad) {
    block.gaps.push({ row, slot, cell: written(row), kind: "not positive" });
    values[row] = Number.NaN;
  }
}
