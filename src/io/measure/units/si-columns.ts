import { exp10 } from "../../../numeric/elementary/exponential.js";
import { power } from "../../../numeric/elementary/power.js";
import { pushTo } from "../../../numeric/push-to.js";
import { notice } from "../../../words/codes/codes.js";
import type { Notice } from "../../../words/notice.js";
import { quoted } from "../../../words/quoted.js";
import type { Block } from "../../table/block.js";
import type { Column } from "../../table/header/column.js";
import { toSI, type Unit } from "../../vocabulary/units.js";
import { checkedRange } from "./check-range.js";
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
  return notice("io.column-without-unit", `${header} states no unit and is not used.`);
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
 * used. A value that no specimen can have ends the reading. The values may be the block's own, which the next file
 * overwrites: not to be changed, and to be copied by whoever keeps them.
 */
export function siColumn(block: Block, slot: number, chosen: ChosenUnits): Float64Array | null {
  const { column, power, quantity } = block.layout.slots[slot];
  const unit = chosen.get(column)?.unit ?? column.reading.unit ?? null;
  if (unit === null) return null;
  const written = block.data[slot].subarray(0, block.rows);
  const values = converted(written, unit, power, column.reading.logarithm);
  return checkedRange(
    block,
    slot,
    quantity === "double strain amplitude" ? values.map((value) => value / 2) : values,
  );
}

function converted(written: Float64Array, unit: Unit, decimal: number, logarithm: number): Float64Array {
  const isPlain = logarithm === 0 && unit.power === decimal && unit.before === 0;
  if (isPlain && unit.factor === 1) return written;
  const left: Unit = { ...unit, power: unit.power - decimal };
  if (logarithm !== 0) return written.map((value) => toSI(power(logarithm, value), left));
  return isPlain ? written.map((value) => value * left.factor) : written.map((value) => toSI(value, left));
}
