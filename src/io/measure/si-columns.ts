import type { Notice } from "../problem.js";
import { notice, problem, quoted, type ReaderCode } from "../problem-codes.js";
import type { Block } from "../table/block.js";
import type { Column } from "../table/column.js";
import type { Quantity } from "../vocabulary/quantities.js";
import { toSI, type Unit } from "../vocabulary/units.js";
import { type ChosenUnit, chooseUnit, type Extent, shownNumber } from "./choose-unit.js";
import { pushTo } from "./push-to.js";
import { Rejection } from "./rejection.js";

/** Units settled for columns that state none, by column. */
export type ChosenUnits = Map<Column, ChosenUnit | null>;

/** Settles the units of all columns without one, each over all blocks that share its header. */
export function chooseUnits(blocks: Block[], notices: Notice[]): ChosenUnits {
  const chosen: ChosenUnits = new Map();
  const columns = new Map<Column, [Block, number][]>();
  for (const block of blocks) {
    block.layout.slots.forEach(({ column }, slot) => {
      if (column.reading.unit !== null) return;
      pushTo(columns, column, [block, slot]);
    });
  }
  const said = new Set<string>();
  for (const [column, places] of columns) {
    const extent = extentOf(places, column.reading.logarithm);
    if (extent === null) continue;
    const choice = chooseUnit(column, extent, places[0][0].layout.headerLine);
    chosen.set(column, choice);
    const message = choice === null ? unusable(column) : choice.notice;
    // The same header again in the next section says nothing new.
    if (message !== null && !said.has(message.message)) {
      said.add(message.message);
      notices.push(message);
    }
  }
  return chosen;
}

function unusable({ position, reading, quantity }: Column): Notice {
  const header = `Column ${position + 1} (${quoted(reading.text)}), the ${quantity},`;
  return notice("info", "io.unit-assumed", `${header} states no unit and is not used.`);
}

function extentOf(places: [Block, number][], logarithm: number): Extent | null {
  const values: number[] = [];
  for (const [block, slot] of places) {
    const stride = Math.max(1, Math.floor(block.rows / 2000));
    for (let row = 0; row < block.rows; row += stride) {
      const value = block.data[slot][row];
      if (!Number.isNaN(value)) values.push(logarithm === 0 ? value : logarithm ** value);
    }
  }
  if (values.length === 0) return null;
  values.sort((a, b) => a - b);
  return { least: values[0], middle: values[values.length >> 1], greatest: values[values.length - 1] };
}

/**
 * A slot's values in SI (°C, Hz, Pa, fraction, degrees, s, m), NaN for gaps; null where the column cannot be
 * used. A value that no specimen can have ends the reading.
 */
export function siColumn(block: Block, slot: number, chosen: ChosenUnits): Float64Array | null {
  const { column, power, quantity } = block.layout.slots[slot];
  const unit = column.reading.unit ?? chosen.get(column)?.unit ?? null;
  if (unit === null) return null;
  const written = block.data[slot].subarray(0, block.rows);
  const values = converted(written, unit, power, column.reading.logarithm);
  if (quantity === "double strain amplitude") for (let i = 0; i < values.length; i++) values[i] /= 2;
  const bound = boundOf(quantity);
  if (bound !== null) checkRange(block, slot, values, bound);
  return values;
}

function converted(written: Float64Array, unit: Unit, power: number, logarithm: number): Float64Array {
  const left: Unit = { ...unit, power: unit.power - power };
  if (logarithm !== 0) return written.map((value) => toSI(logarithm ** value, left));
  if (left.power === 0 && left.factor === 1 && left.before === 0) return written.slice();
  if (left.power === 0 && left.before === 0) return written.map((value) => value * left.factor);
  return written.map((value) => toSI(value, left));
}

/** A loss that reads a little below zero now and then is noise of a stiff specimen; more than this share is not. */
const toleratedShare = 0.05;

/** What the values of a quantity must be, and what to say of one that is not. */
interface Bound {
  isSound: (value: number) => boolean;
  /** Share of unsound values that go out row by row instead of ending the reading. */
  tolerated: number;
  code: ReaderCode;
  describe: (written: string) => string;
}

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
        tolerated: quantity === "storage modulus" || quantity === "complex modulus" ? 0 : toleratedShare,
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
    case "rebound resilience":
      return {
        isSound: (value) => value >= 0 && value <= 1,
        tolerated: 0,
        code: "io.resilience-out-of-range",
        describe: (written) =>
          `The rebound resilience ${written} is not between 0 and 100 %. Check this row and the unit.`,
      };
    default:
      return null;
  }
}

function checkRange(block: Block, slot: number, values: Float64Array, bound: Bound): void {
  const { isSound, tolerated, code, describe } = bound;
  const bad: number[] = [];
  for (let row = 0; row < values.length; row++) {
    if (!Number.isNaN(values[row]) && !isSound(values[row])) bad.push(row);
  }
  if (bad.length === 0) return;
  const { column, power } = block.layout.slots[slot];
  const written = (row: number) => shownNumber(block.data[slot][row] / 10 ** power);
  if (bad.length > tolerated * values.length) {
    const { unitText } = column.reading;
    const unit = unitText === "" || unitText === "-" ? "" : ` ${unitText}`;
    const message = describe(`${written(bad[0])}${unit}`);
    throw new Rejection(problem(code, message, block.lines[bad[0]], column.position + 1));
  }
  for (const row of bad) {
    block.gaps.push({ row, slot, cell: written(row), kind: "not positive" });
    values[row] = Number.NaN;
  }
}
