import { exp10 } from "../../../numeric/elementary/exponential.js";
import { power } from "../../../numeric/elementary/power.js";
import { pushTo } from "../../../numeric/push-to.js";
import type { Notice } from "../../../words/notice.js";
import { notice, quoted } from "../../problem-codes.js";
import type { Block } from "../../table/block.js";
import type { Column } from "../../table/header/column.js";
import { toSI, type Unit } from "../../vocabulary/units.js";
import { checkRange } from "./check-range.js";
import { type ChosenUnit, chooseUnit, type Extent } from "./choose-unit.js";
import { scaledUnit } from "./scaled-unit.js";

/** Units settled for columns that state none, by column. */
export type ChosenUnits = Map<Column, ChosenUnit | null>;

/** Settles the units of all columns without one, each over all blocks that share its header. */
export function chooseUnits(blocks: Block[], notices: Notice[]): ChosenUnits {
  const chosen: ChosenUnits = new Map();
  const columns = new Map<Column, [Block, number][]>();
  for (const block of blocks) {
    block.layout.slots.forEach(({ column }, slot) => {
      if (column.reading.unit !== null && column.reading.factor === null) return;
      pushTo(columns, column, [block, slot]);
    });
  }
  const said = new Set<string>();
  for (const [column, places] of columns) {
    const extent = extentOf(places, column.reading.logarithm);
    if (extent === null) continue;
    const { headerLine } = places[0][0].layout;
    const choice =
      column.reading.factor === null
        ? chooseUnit(column, extent, headerLine)
        : scaledUnit(column, extent, headerLine);
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
    const scale = exp10(-block.layout.slots[slot].power);
    const stride = Math.max(1, Math.floor(block.rows / 2000));
    for (let row = 0; row < block.rows; row += stride) {
      const value = block.data[slot][row];
      if (!Number.isNaN(value)) values.push(logarithm === 0 ? value * scale : power(logarithm, value));
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
  const unit = chosen.get(column)?.unit ?? column.reading.unit ?? null;
  if (unit === null) return null;
  const written = block.data[slot].subarray(0, block.rows);
  const values = converted(written, unit, power, column.reading.logarithm);
  if (quantity === "double strain amplitude") for (let i = 0; i < values.length; i++) values[i] /= 2;
  checkRange(block, slot, values);
  return values;
}

function converted(written: Float64Array, unit: Unit, decimal: number, logarithm: number): Float64Array {
  const left: Unit = { ...unit, power: unit.power - decimal };
  if (logarithm !== 0) return written.map((value) => toSI(power(logarithm, value), left));
  const values = written.slice();
  if (left.power !== 0 || left.before !== 0) {
    for (let row = 0; row < values.length; row++) values[row] = toSI(values[row], left);
  } else if (left.factor !== 1) {
    for (let row = 0; row < values.length; row++) values[row] *= left.factor;
  }
  return values;
}
