import { cos } from "../../../numeric/elementary/angle.js";
import { exp10 } from "../../../numeric/elementary/exponential.js";
import { pushTo } from "../../../numeric/push-to.js";
import { notice, problem } from "../../../words/codes/codes.js";
import type { Notice } from "../../../words/notice.js";
import { quoted } from "../../../words/quoted.js";
import type { ReboundMeasurement } from "../../measurement.js";
import type { ReadOptions } from "../../read-options.js";
import { columnInStudy } from "../../study-example.js";
import type { Block } from "../../table/block.js";
import { whyOf } from "../../table/data-cell.js";
import { type Group, holdsAny } from "../../table/header/layout.js";
import { type Quantity, reboundQuantities } from "../../vocabulary/quantities.js";
import { statedTemperature_C } from "../group-columns.js";
import { columnReadings } from "../provenance.js";
import { Rejection } from "../rejection.js";
import { statedSample } from "../stated-sample.js";
import type { Told } from "../told.js";
import { type ChosenUnits, siColumn } from "../units/si-columns.js";
import { rowText } from "../usable-rows.js";
import { type JudgedRows, whyImpossible } from "./impossible-rebound.js";
import { type ReboundRow, reboundTests } from "./rebound-tests.js";

/** Whether a group of columns gives rebound. */
export function hasRebound(group: Group): boolean {
  return holdsAny(group, rebounds);
}

const rebounds: ReadonlySet<Quantity> = new Set(reboundQuantities);

interface Impact extends ReboundRow {
  sample: string | null;
  method: string | null;
}

/**
 * The rebound measurements of a table, one per sample and method: R as stated, h_rebound/h_drop, or
 * (1 − cos α_rebound)/(1 − cos α_drop) (ISO 4662), one reading a test.
 * @param judged where each row is noted as possible or not; `checkRebound` says what follows
 */
export function reboundMeasurements(
  block: Block,
  sheet: string | null,
  fileName: string,
  options: ReadOptions,
  chosen: ChosenUnits,
  told: Told,
  fallbackSample: string | null,
  judged: JudgedRows,
): ReboundMeasurement[] {
  const impacts = block.layout.groups
    .filter(hasRebound)
    .flatMap((group) => impactsOf(block, group, options, chosen, told, fallbackSample, judged));
  const members = new Map<string, Impact[]>();
  for (const impact of impacts) pushTo(members, JSON.stringify([impact.sample, impact.method]), impact);
  const joined: number[][] = [];
  const list = [...members.values()].map((rows): ReboundMeasurement => {
    const tests = reboundTests(rows);
    for (const lines of tests.joined) joined.push(lines);
    return {
      kind: "rebound",
      sample: rows[0].sample,
      method: rows[0].method,
      readings: tests.readings,
      provenance: {
        file: fileName,
        sheet,
        section: block.section,
        firstLine: rows.reduce((line, { reading }) => Math.min(line, reading.line), Number.POSITIVE_INFINITY),
        lastLine: rows.reduce((line, { reading }) => Math.max(line, reading.line), 0),
        columns: columnReadings(block.layout, chosen),
      },
    };
  });
  if (joined.length > 0) told.notices.push(joinedNotice(joined));
  if (list.some(({ readings }) => readings.some(({ temperature_C }) => Number.isNaN(temperature_C)))) {
    told.notices.push(
      notice(
        "io.temperature-unstated",
        "Rebound values without a temperature: neither a column nor a line states it.",
      ),
    );
  }
  const doubt = smallValues(block, list);
  if (doubt !== null) told.notices.push(doubt);
  return list;
}

/** The deadest rubber gives back a few per cent; a whole column below this is more likely one of fractions. */
const smallestRebound = 0.01;

/** What is said of a column in % whose values are all like 0.52; null where there is none. */
function smallValues(block: Block, list: ReboundMeasurement[]): Notice | null {
  const all = list.flatMap(({ readings }) => readings.flatMap(({ fractions }) => [...fractions]));
  const greatest = all.reduce((most, fraction) => Math.max(most, fraction), 0);
  const column = block.layout.slots.find(({ quantity }) => quantity === "rebound resilience")?.column;
  if (column?.reading.unit?.power !== -2 || greatest === 0 || greatest > smallestRebound) return null;
  return notice(
    "io.rebound-below-one-percent",
    `Column ${column.position + 1} (${quoted(column.reading.text)}), the rebound resilience, is in % and holds no value above ${Number((100 * greatest).toPrecision(4))} %, as it was read; no rubber is ` +
      `that dead at all of these. If the values are fractions, state it in study.yaml: ${columnInStudy(column.reading.text, "rebound resilience as a fraction")}`,
  );
}

function joinedNotice(joined: number[][]) {
  const rows = joined.reduce((sum, lines) => sum + lines.length, 0);
  const [first] = joined;
  return notice(
    "io.rebound-rows-joined",
    `${rows} rows of one rebound value each were put together as the impacts of ${joined.length} ${joined.length === 1 ? "test" : "tests"} ` +
      `(${joined.length === 1 ? "" : "the first: "}lines ${first.slice(0, 6).join(", ")}${first.length > 6 ? ", …" : ""}), as nothing in them tells tests apart. If they are tests ` +
      "of their own, add a column for the laboratory, specimen, operator or date.",
  );
}

function impactsOf(
  block: Block,
  group: Group,
  options: ReadOptions,
  chosen: ChosenUnits,
  told: Told,
  fallbackSample: string | null,
  judged: JudgedRows,
): Impact[] {
  const columns = (quantity: Quantity) =>
    (group.slots.get(quantity) ?? []).map((slot) => ({ slot, values: siColumn(block, slot, chosen) }));
  const fractionColumns = resilience(block, group, columns);
  const temperatureSlot = (group.slots.get("temperature") ?? group.slots.get("set temperature"))?.[0];
  const temperature = temperatureSlot === undefined ? null : siColumn(block, temperatureSlot, chosen);
  const stated =
    temperature !== null
      ? Number.NaN
      : (group.tag.temperature_C ?? statedTemperature_C(block.facts, options, told) ?? Number.NaN);
  const laboratories = laboratoriesOf(block);
  const headers = JSON.stringify(
    fractionColumns.map(({ slot }) => {
      const { position, reading } = block.layout.slots[slot].column;
      return [position, reading.text, reading.unitText];
    }),
  );
  const impacts: Impact[] = [];
  for (let row = 0; row < block.rows; row++) {
    const temperature_C = temperature === null ? stated : temperature[row];
    const fractions = fractionColumns
      .map(({ values }) => values[row])
      .filter((value) => Number.isFinite(value));
    const gap = block.gapsOf(row)[0];
    if (fractions.length === 0 || (temperature !== null && Number.isNaN(temperature_C))) {
      const why = gap === undefined ? "no rebound value in the row" : whyOf(gap, block.layout);
      told.skipped.add(block.lines[row], rowText(block, row), why);
      continue;
    }
    const wrong = fractionColumns.find(({ values }) => values[row] < 0 || values[row] > 1);
    const impossible = wrong === undefined ? null : impossibleIn(block, row, wrong);
    pushTo(judged, headers, { line: block.lines[row], impossible });
    if (impossible !== null) {
      told.skipped.add(block.lines[row], rowText(block, row), whyImpossible(impossible));
      continue;
    }
    const name = block.samples === null || block.samples[row] === "" ? null : block.samples[row];
    impacts.push({
      sample: options.sample ?? name ?? group.sample ?? statedSample(block.facts) ?? fallbackSample,
      method: block.methods?.[row] || block.facts.method,
      ...labelsOf(block, row),
      reading: {
        temperature_C,
        fractions,
        line: block.lines[row],
        laboratory: laboratories?.[row] || block.facts.laboratory,
      },
    });
  }
  return impacts;
}

function impossibleIn(block: Block, row: number, { slot, values }: FractionColumn) {
  const { column, power } = block.layout.slots[slot];
  return { column, written: block.data[slot][row] / exp10(power), fraction: values[row] };
}

/** The laboratory of each row; a blank cell under a name stands for it, as merged cells do. */
function laboratoriesOf({ labels, layout, rows }: Block): string[] | null {
  const at = layout.labelColumns.findIndex(({ kind }) => kind === "laboratory");
  if (labels === null || at < 0) return null;
  let name = "";
  return Array.from({ length: rows }, (_, row) => {
    name = labels[row][at] || name;
    return name;
  });
}

function labelsOf({ labels, layout }: Block, row: number): Pick<ReboundRow, "test" | "impact"> {
  const cells: string[] = [];
  let impact: number | null = null;
  layout.labelColumns.forEach(({ kind }, i) => {
    const cell = labels?.[row][i] ?? "";
    const number = /\d+/.exec(cell);
    if (kind === "impact number" && number !== null) impact = Number(number[0]);
    else if (kind !== "laboratory") cells.push(cell);
  });
  return { test: JSON.stringify(cells), impact };
}

type Columns = (quantity: Quantity) => { slot: number; values: Float64Array | null }[];

const radianPerDegree = Math.PI / 180;

/** A column of rebound, whichever way it is written, as fractions of the energy. */
interface FractionColumn {
  slot: number;
  values: Float64Array;
}

/** Energy fractions by column. */
function resilience(block: Block, group: Group, columns: Columns): FractionColumn[] {
  const usable = (quantity: Quantity) =>
    columns(quantity).flatMap(({ slot, values }) => (values === null ? [] : [{ slot, values }]));
  const direct = usable("rebound resilience");
  if (direct.length > 0) return direct;
  const { facts, layout } = block;
  const rises = usable("rebound height");
  if (rises.length > 0) {
    const [drop] = usable("drop height");
    const dropUnit = group.slots.get("drop height") !== undefined;
    if (drop === undefined && facts.dropHeight_m === null) {
      throw new Rejection(missingDrop("drop height", "Drop height: 40 cm", layout.headerLine, dropUnit));
    }
    return rises.map(({ slot, values }) => ({
      slot,
      values: values.map((rise, row) => rise / (drop?.values[row] ?? facts.dropHeight_m!)),
    }));
  }
  const swings = usable("rebound angle");
  if (swings.length > 0) {
    const [drop] = usable("drop angle");
    if (drop === undefined && facts.dropAngle_deg === null) {
      throw new Rejection(missingDrop("drop angle", "Drop angle: 90°", layout.headerLine, false));
    }
    const energy = (angle_deg: number) => 1 - cos(angle_deg * radianPerDegree);
    return swings.map(({ slot, values }) => ({
      slot,
      values: values.map((swing, row) => energy(swing) / energy(drop?.values[row] ?? facts.dropAngle_deg!)),
    }));
  }
  throw new Rejection(
    problem(
      "io.missing-modulus",
      "The table has drop heights or angles but no rebound; expected a rebound resilience, height or angle. Export that column too.",
      layout.headerLine,
    ),
  );
}

function missingDrop(what: string, example: string, line: number, unread: boolean) {
  return problem(
    "io.missing-modulus",
    `The table gives the rebound but no ${what}${unread ? " that can be read" : ""}; expected a column for it or a line such as ` +
      `"${example}". Add one or the other.`,
    line,
  );
}
