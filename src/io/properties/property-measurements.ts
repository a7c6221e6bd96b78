import { pushTo } from "../../numeric/push-to.js";
import { notice } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { quoted } from "../../words/quoted.js";
import { columnReadings } from "../measure/provenance.js";
import { statedSample } from "../measure/stated-sample.js";
import { hardnessScale } from "../measure/units/choose-unit.js";
import { type ChosenUnits, siColumn } from "../measure/units/si-columns.js";
import { type PropertyMeasurement, type PropertyName, propertyUnits } from "../measurement.js";
import type { ReadOptions } from "../read-options.js";
import { columnInStudy } from "../study-example.js";
import type { Block } from "../table/block.js";
import { type Group, holdsAny } from "../table/header/layout.js";
import { wordsThatDiffer } from "../table/header/words-that-differ.js";
import { isProperty, propertyQuantities, type Quantity } from "../vocabulary/quantities.js";

/** Where a table of properties stands. */
export interface PropertyPlace {
  sheet: string | null;
  fileName: string;
  fallbackSample: string | null;
}

/** Whether a group of columns holds a property. */
export function hasProperty(group: Group): boolean {
  return holdsAny(group, propertyNames);
}

const propertyNames: ReadonlySet<Quantity> = new Set(propertyQuantities);

/** What the SI or base value of a property is divided by to stand in its unit. */
const divisors: Record<PropertyName, number> = {
  hardness: 1,
  "abrasion loss": 1,
  "abrasion resistance index": 0.01,
  "tensile strength": 1e6,
  "elongation at break": 0.01,
  "stress at 50 %": 1e6,
  "stress at 100 %": 1e6,
  "stress at 200 %": 1e6,
  "stress at 300 %": 1e6,
  "tear strength": 1,
  "compression set": 0.01,
  density: 1,
  "flex cracking": 1,
};

/** What a value can be at all, in its unit: others are slips of a unit or of a column (common practice). */
const extents: Record<PropertyName, [least: number, greatest: number]> = {
  hardness: [0, 100],
  "abrasion loss": [0, 3000],
  "abrasion resistance index": [0, 2000],
  "tensile strength": [0, 100],
  "elongation at break": [0, 2000],
  "stress at 50 %": [0, 100],
  "stress at 100 %": [0, 100],
  "stress at 200 %": [0, 100],
  "stress at 300 %": [0, 100],
  "tear strength": [0, 500],
  "compression set": [-5, 120],
  density: [0.3, 3],
  "flex cracking": [0, 1e5],
};

/** One value of a row. */
interface PropertyValue {
  value: number;
  line: number;
}

/**
 * The properties that a table holds, one per sample, property, unit and method: repeats in rows or in columns are the
 * values of one. A column of means stands for its single values only where there are none.
 */
export function propertyMeasurements(
  block: Block,
  { sheet, fileName, fallbackSample }: PropertyPlace,
  options: ReadOptions,
  chosen: ChosenUnits,
  notices: Notice[],
): PropertyMeasurement[] {
  const values = new Map<string, PropertyValue[]>();
  const heads = new Map<string, Omit<PropertyMeasurement, "values" | "lines" | "provenance">>();
  const conditions = new Map(
    block.layout.groups.flatMap(({ slots }) =>
      propertyQuantities.flatMap((property) => [
        ...wordsThatDiffer((slots.get(property) ?? []).map((slot) => block.layout.slots[slot].column)),
      ]),
    ),
  );
  const pooled = pooledRows(block, options.sample);
  if (pooled !== null) notices.push(pooled);
  const odd = cellsWithoutOneNumber(block);
  if (odd !== null) notices.push(odd);
  block.layout.slots.forEach(({ column, quantity }, slot) => {
    if (!isProperty(quantity)) return;
    const base = siColumn(block, slot, chosen);
    if (base === null) return;
    const divisor = divisors[quantity];
    const unit =
      quantity === "hardness"
        ? (hardnessScale(column) ?? chosen.get(column)?.text ?? propertyUnits[quantity])
        : propertyUnits[quantity];
    const [least, greatest] = extents[quantity];
    let beyond = 0;
    for (let row = 0; row < block.rows; row++) {
      const value = plain(base[row] / divisor);
      if (Number.isNaN(value)) continue;
      if (value < least || value > greatest) {
        beyond++;
        continue;
      }
      const name = block.samples === null || block.samples[row] === "" ? null : block.samples[row];
      const sample = options.sample ?? name ?? column.sample ?? statedSample(block.facts) ?? fallbackSample;
      const stated = block.methods?.[row] || block.facts.method;
      const method = conditionedMethod(
        column.reading.standard ?? (isReboundOnly(stated) ? null : stated),
        column.reading.tag.temperature_C,
        conditions.get(column) ?? null,
      );
      const key = JSON.stringify([sample, quantity, unit, method, column.reading.mean]);
      if (!heads.has(key))
        heads.set(key, { property: quantity, unit, sample, method, areMeans: column.reading.mean });
      pushTo(values, key, { value, line: block.lines[row] });
    }
    if (beyond > 0) {
      const message = `Column ${column.position + 1} (${quoted(column.reading.text)}), the ${quantity}: ${beyond} of ${block.rows} values lie outside ${least} to ${greatest} ${unit} and were left out. Check the unit.`;
      notices.push(notice("io.property-out-of-range", message));
    }
  });
  return [...heads].map(([key, head]) => {
    const own = values.get(key)!;
    const lines = own.map(({ line }) => line);
    return {
      ...head,
      values: own.map(({ value }) => value),
      lines,
      provenance: {
        file: fileName,
        sheet,
        section: block.section,
        firstLine: lines.reduce((first, line) => Math.min(first, line)),
        lastLine: lines.reduce((last, line) => Math.max(last, line)),
        columns: columnReadings(block.layout, chosen),
      },
    };
  });
}

/** Rows that no column tells apart are the repeats of one sample, and whoever reads the result should know. */
function pooledRows({ rows, samples, layout }: Block, stated: string | undefined): Notice | null {
  const other = layout.columns.find(
    ({ quantity, setAside, reading }) =>
      (quantity === null || quantity === "not used") && setAside === null && reading.text !== "",
  );
  if (rows < 2 || samples !== null || stated !== undefined || other === undefined) return null;
  const name = other.reading.text;
  return notice(
    "io.rows-pooled",
    `${rows} rows of properties have no sample's name and were taken as the repeats of one sample. If column ${other.position + 1} ` +
      `(${quoted(name, 40)}) names samples, state in study.yaml: ${columnInStudy(name, "sample")}`,
  );
}

/** Ranges, limits and several numbers in a cell of a property: none is a value, and none is taken in silence. */
function cellsWithoutOneNumber({ gaps, layout, lines }: Block): Notice | null {
  const odd = gaps.filter(
    ({ kind, slot, cell }) =>
      isProperty(layout.slots[slot].quantity) && kind !== "blank" && /^[^#]*\d/.test(cell),
  );
  if (odd.length === 0) return null;
  const list = odd
    .slice(0, 3)
    .map(
      ({ cell, row, slot }) =>
        `${quoted(cell, 30)} under ${quoted(layout.slots[slot].column.reading.text, 40)} (line ${lines[row]})`,
    )
    .join("; ");
  const more = odd.length > 3 ? `; and ${odd.length - 3} more` : "";
  return notice(
    "io.cell-not-one-number",
    `${odd.length === 1 ? "A cell holds" : `${odd.length} cells hold`} a range, a limit or several numbers and no one value, and ${odd.length === 1 ? "was" : "were"} left out: ${list}${more}.`,
  );
}

/** Takes the noise of a conversion off: 4.52 · 100 is 452. */
function plain(value: number): number {
  return Number(value.toPrecision(12));
}

/**
 * A temperature in a header ("Compression set 22 h 70 °C"), and words that tell it from another header of the same
 * property ("trouser", "3 s"), are conditions of the test, and a part of its method.
 */
function conditionedMethod(
  method: string | null,
  temperature_C: number | undefined,
  words: string | null,
): string | null {
  const state = temperature_C === undefined ? null : `at ${Number(temperature_C.toPrecision(6))} °C`;
  const parts = [method, words, state].filter((part) => part !== null);
  return parts.length === 0 ? null : parts.join(", ");
}

/** The method of the rebound beside it is none of a hardness. */
function isReboundOnly(method: string | null): boolean {
  return (
    method !== null && /4662|7121|2632|1054|53512|6255|1681|rebound|rückprall|pendul|pendel/i.test(method)
  );
}
