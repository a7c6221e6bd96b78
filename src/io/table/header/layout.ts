import { pushTo } from "../../../numeric/push-to.js";
import { notice, problem } from "../../../words/codes/codes.js";
import type { Notice, Problem } from "../../../words/notice.js";
import { quoted } from "../../../words/quoted.js";
import { columnInStudy } from "../../study-example.js";
import type { Tag } from "../../vocabulary/header-meaning.js";
import {
  complianceQuantities,
  isLabel,
  isProperty,
  isRepeatable,
  isResponse,
  isText,
  modulusQuantities,
  propertyQuantities,
  type Quantity,
  reboundQuantities,
} from "../../vocabulary/quantities.js";
import { markOf } from "../lines/cell-mark.js";
import { looksNumeric } from "../lines/looks-numeric.js";
import type { Column } from "./column.js";
import { setTwinsAside } from "./set-twins-aside.js";
import { unitTrouble } from "./unit-trouble.js";
import { wordsThatDiffer } from "./words-that-differ.js";

/** A numeric column that is read, and the power of ten that its numbers are scaled by while they are parsed. */
export interface Slot {
  column: Column;
  quantity: Quantity;
  power: number;
}

/** Columns that make up one row of results: all of a plain table, or those of one frequency of a wide one. */
export interface Group {
  tag: Tag;
  sample: string | null;
  /** Which of several runs side by side it is; null where there is one. */
  run: string | null;
  /** Slots by quantity; several for the repeats of a rebound value. */
  slots: Map<Quantity, number[]>;
}

/** Whether a group has a column of one of some quantities. */
export function holdsAny({ slots }: Group, quantities: ReadonlySet<Quantity>): boolean {
  for (const quantity of slots.keys()) if (quantities.has(quantity)) return true;
  return false;
}

/** How the rows under a header are read. */
export interface Layout {
  columns: Column[];
  headerLine: number;
  slots: Slot[];
  /** Slot of each position, −1 where the column is not read. */
  slotOf: Int16Array;
  groups: Group[];
  sampleColumn: number | null;
  /** For rebound tables whose rows name their method. */
  methodColumn: number | null;
  /** For rebound tables: columns that tell tests, and the impacts of one test, apart. */
  labelColumns: LabelColumn[];
  notices: Notice[];
}

/** A column whose cells name the laboratory, specimen, operator, date, batch or impact of a rebound value. */
export interface LabelColumn {
  position: number;
  kind: "laboratory" | "specimen" | "operator" | "date" | "batch" | "impact number";
}

const read = new Set<Quantity>([
  "temperature",
  "set temperature",
  "frequency",
  "angular frequency",
  "time",
  "strain amplitude",
  "double strain amplitude",
  "displacement amplitude",
  ...modulusQuantities,
  ...complianceQuantities,
  ...reboundQuantities,
  ...propertyQuantities,
]);

/** Columns without which a table can still be used. */
const optional = new Set<Quantity>([
  "time",
  "strain amplitude",
  "double strain amplitude",
  "displacement amplitude",
  "set temperature",
]);

/** Settles layouts, and remembers the last one of each header that many files share. */
export class SettledLayouts {
  private readonly known = new WeakMap<readonly Column[], Layout>();

  /**
   * Settles what each column of a table is for; a problem names the first column that cannot be settled.
   * @param firstRow the row right under the header; null where none came
   */
  of(columns: readonly Column[], headerLine: number, firstRow: string[] | null): Layout | Problem {
    const known = this.known.get(columns);
    if (known?.headerLine === headerLine) return known;
    const layout = layoutOf(
      columns.map((column) => ({ ...column })),
      headerLine,
      firstRow,
    );
    if (!("code" in layout) && isOfHeaderAlone(layout)) this.known.set(columns, layout);
    return layout;
  }
}

/** Whether no row under the header had or will have a say: none names the samples' column or adds a unit. */
function isOfHeaderAlone({ slots }: Layout): boolean {
  return (
    slots.some(({ quantity }) => isResponse(quantity) && !isRepeatable(quantity)) &&
    slots.every(({ column }) => column.reading.unit !== null)
  );
}

/** The same for columns of the layout's own, which are settled in place. */
function layoutOf(columns: Column[], headerLine: number, firstRow: string[] | null): Layout | Problem {
  const notices: Notice[] = [];
  let propertyTrouble: Problem | null = null;
  shareUnits(columns);
  for (const column of columns) {
    if (column.contradiction !== undefined) {
      const name = complianceName(column.quantity);
      return problem(
        "io.bad-override",
        `The study states a ${column.quantity} for column ${column.position + 1}, but ${column.contradiction}; a modulus is one over it. State in ` +
          `study.yaml what it is: ${columnInStudy(column.reading.text, `${name} in 1/MPa`)}`,
        headerLine,
        column.position + 1,
      );
    }
    if (column.setAside !== null || column.quantity === null || !read.has(column.quantity)) continue;
    const trouble = unitTrouble(column, headerLine);
    if (trouble === null) continue;
    if (!optional.has(column.quantity) && !isProperty(column.quantity)) return trouble;
    if (isProperty(column.quantity)) propertyTrouble ??= trouble;
    column.setAside = "its unit is not known";
    notices.push(notice("io.column-unit-unknown", `Not used: ${trouble.message}`));
  }
  setTwinsAside(columns, notices);
  tellRunsApart(columns);
  const used = columns.filter(
    ({ quantity, setAside }) => quantity !== null && read.has(quantity) && setAside === null,
  );
  if (propertyTrouble !== null && !used.some(({ quantity }) => isResponse(quantity!))) return propertyTrouble;
  const members: Omit<Group, "slots">[] = [];
  const membersColumns: Map<Quantity, Column[]>[] = [];
  for (const candidates of groupedByTag(used).values()) {
    const settled = settledColumns(candidates, headerLine, notices);
    if ("code" in settled) return settled;
    const named = candidates.find(isTagged);
    noteJoined(settled.get("rebound resilience") ?? [], notices);
    members.push({ tag: named?.reading.tag ?? {}, sample: named?.sample ?? null, run: named?.run ?? null });
    membersColumns.push(settled);
  }
  const slots = used.filter(({ setAside }) => setAside === null).map(slotOfColumn);
  const place = new Map(slots.map(({ column }, slot) => [column, slot]));
  const slotOf = new Int16Array(columns.length).fill(-1);
  for (const [{ position }, slot] of place) slotOf[position] = slot;
  const groups = members.map((member, i): Group => {
    const places = [...membersColumns[i]].map(([quantity, list]): [Quantity, number[]] => [
      quantity,
      list.flatMap((column) => place.get(column) ?? []),
    ]);
    return { ...member, slots: new Map(places.filter(([, list]) => list.length > 0)) };
  });
  const sampleColumn = sampleColumnOf(columns) ?? assumedSampleColumn(columns, slots, firstRow, notices);
  const methodColumn = columns.find(({ quantity, setAside }) => quantity === "method" && setAside === null);
  return {
    columns,
    headerLine,
    slots,
    slotOf,
    groups,
    sampleColumn,
    methodColumn: methodColumn?.position ?? null,
    labelColumns: slots.some(({ quantity }) => isRepeatable(quantity))
      ? labelColumnsOf(columns, sampleColumn)
      : [],
    notices,
  };
}

/** Columns of unlike names are the impacts of one test only as far as can be told. */
function noteJoined(columns: Column[], notices: Notice[]): void {
  if (wordsThatDiffer(columns).size < 2) return;
  const names = columns
    .map(({ position, reading }) => `${position + 1} (${quoted(reading.text, 40)})`)
    .join(", ");
  const last = columns[columns.length - 1].reading.text;
  notices.push(
    notice(
      "io.rebound-columns-joined",
      `Columns ${names} were taken for the impacts of one test. If they are tests of different kinds, leave all but one out: ` +
        columnInStudy(last, "ignore"),
    ),
  );
}

function complianceName(quantity: Quantity | null): string {
  return `${quantity ?? "storage modulus"}`.replace("modulus", "compliance");
}

function slotOfColumn(column: Column): Slot {
  const { unit, logarithm } = column.reading;
  const isScaled = unit !== null && logarithm === 0 && unit.before === 0;
  return { column, quantity: column.quantity!, power: isScaled ? unit.power : 0 };
}

/** Repeats side by side, of which the first alone states its unit and method: "Hardness 1 (Shore A)", "Hardness 2". */
function shareUnits(columns: Column[]): void {
  for (const column of columns) {
    const { quantity, reading } = column;
    if (quantity === null || !isRepeatable(quantity) || reading.repeat === null) continue;
    const first = columns.find((other) => other.quantity === quantity && other.reading.repeat !== null);
    if (first === undefined || first === column) continue;
    column.reading = {
      ...reading,
      standard: reading.standard ?? first.reading.standard,
      ...(reading.unit === null && reading.unknownUnit === null
        ? { unit: first.reading.unit, unitText: first.reading.unitText }
        : {}),
    };
  }
}

/** The columns of a group by quantity, or the problem of two that claim the same one. */
function settledColumns(
  candidates: Column[],
  line: number,
  notices: Notice[],
): Map<Quantity, Column[]> | Problem {
  const settled = new Map<Quantity, Column[]>();
  for (const column of candidates) {
    const quantity = column.quantity!;
    const others = settled.get(quantity) ?? [];
    const twin = isRepeatable(quantity) ? undefined : others[0];
    if (twin === undefined) {
      others.push(column);
      settled.set(quantity, others);
    } else if (isTagged(twin) !== isTagged(column)) {
      // A column of the group's own stands before one that all groups share.
      if (isTagged(column)) settled.set(quantity, [column]);
    } else if (optional.has(quantity)) {
      column.setAside = `${quoted(twin.reading.text)} is used`;
      const both = `Columns ${twin.position + 1} and ${column.position + 1} both hold the ${quantity}`;
      notices.push(notice("io.column-not-unique", `${both}; ${column.setAside}.`));
    } else return duplicate(twin, column, line);
  }
  return settled;
}

function duplicate(twin: Column, column: Column, line: number): Problem {
  const [one, other] = [twin, column].map(
    ({ position, reading }) => `${position + 1} (${quoted(reading.text)})`,
  );
  return problem(
    "io.duplicate-quantity",
    `Columns ${one} and ${other} both claim the ${column.quantity}; expected one. State in study.yaml ` +
      `which to leave out: ${columnInStudy(twin.reading.text === column.reading.text ? column.position + 1 : column.reading.text, "ignore")}`,
    line,
    column.position + 1,
  );
}

function isTagged({ reading: { tag }, sample, run }: Column): boolean {
  return (
    tag.frequency_Hz !== undefined || tag.temperature_C !== undefined || sample !== null || run !== undefined
  );
}

/**
 * Moduli that stand there several times are runs of one test: by the number that each header ends with, or, where the
 * whole header repeats itself from left to right, by their turn.
 */
function tellRunsApart(columns: Column[]): void {
  const moduli = columns.filter(
    ({ quantity, setAside }) =>
      quantity !== null && setAside === null && !isRepeatable(quantity) && isResponse(quantity),
  );
  const key = (column: Column) =>
    `${column.quantity} ${JSON.stringify(column.reading.tag)} ${column.sample ?? ""} ${column.run ?? ""}`;
  const counts = new Map<string, Column[]>();
  for (const column of moduli) pushTo(counts, key(column), column);
  const repeated = [...counts.values()].filter((list) => list.length > 1);
  if (repeated.length === 0) return;
  if (repeated.every((list) => areNumbered(list))) {
    for (const list of repeated) for (const column of list) column.run = `#${column.reading.repeat}`;
    return;
  }
  const turns = turnsOf(columns);
  if (turns === null) return;
  turns.forEach((turn, i) => {
    for (const column of turn) column.run = `#${i + 1}`;
  });
}

function areNumbered(list: Column[]): boolean {
  const numbers = list.map(({ reading }) => reading.repeat);
  return numbers.every((number) => number !== null) && new Set(numbers).size === list.length;
}

/** The blocks of a header that repeats itself, each with its own columns; null where it does not, or is a single row of moduli. */
function turnsOf(columns: Column[]): Column[][] | null {
  const used = columns.filter(
    ({ quantity, setAside }) => quantity !== null && setAside === null && quantity !== "not used",
  );
  const header = (column: Column) => `${column.quantity} ${column.reading.text}`;
  for (let first = 0; first < used.length; first++) {
    const rest = used.slice(first);
    // What stands once, in front, is shared by all.
    if (first > 0 && rest.some((column) => header(column) === header(used[first - 1]))) return null;
    for (let length = 2; length <= rest.length / 2; length++) {
      if (
        rest.length % length !== 0 ||
        !rest.every((column, i) => header(column) === header(rest[i % length]))
      )
        continue;
      return Array.from({ length: rest.length / length }, (_, turn) =>
        rest.slice(turn * length, (turn + 1) * length),
      );
    }
  }
  return null;
}

function groupedByTag(columns: Column[]): Map<string, Column[]> {
  if (!columns.some(isTagged)) return new Map([["", columns]]);
  const key = ({ reading: { tag }, sample, run }: Column) =>
    `${tag.frequency_Hz ?? ""}|${tag.temperature_C ?? ""}|${sample ?? ""}|${run ?? ""}`;
  const groups = new Map<string, Column[]>();
  for (const column of columns) {
    if (!isTagged(column)) continue;
    const members = groups.get(key(column));
    if (members === undefined) groups.set(key(column), [column]);
    else members.push(column);
  }
  const shared = columns.filter((column) => !isTagged(column));
  for (const [name, members] of groups) {
    if (!members.some(({ quantity }) => isResponse(quantity!))) groups.delete(name);
    else groups.set(name, [...shared, ...members]);
  }
  // Untagged responses beside tagged ones are a table of their own.
  if (groups.size === 0 || shared.some(({ quantity }) => isResponse(quantity!))) groups.set("", shared);
  return groups;
}

/** The column that tells samples apart: one that says so, else a plain "name" or "material". */
function sampleColumnOf(columns: Column[]): number | null {
  const of = (quantity: Quantity) =>
    columns.find((column) => column.quantity === quantity && isText(quantity) && column.setAside === null);
  return (of("sample") ?? of("name"))?.position ?? null;
}

/**
 * In a table of rebound or properties the first column in front of the values whose name is not known, and that holds
 * words, names the samples: without it, the rows of unlike compounds would be the repeats of one.
 */
function assumedSampleColumn(
  columns: Column[],
  slots: Slot[],
  firstRow: string[] | null,
  notices: Notice[],
): number | null {
  if (firstRow === null || slots.some(({ quantity }) => isResponse(quantity) && !isRepeatable(quantity)))
    return null;
  const firstValue = columns.findIndex(({ quantity }) => quantity !== null && isRepeatable(quantity));
  const isNameless = ({ position, quantity, setAside, reading }: Column) =>
    position < firstValue && quantity === null && setAside === null && reading.unit === null;
  const found = columns.find((column) => isNameless(column) && isNameCell(firstRow[column.position] ?? ""));
  if (found === undefined) return null;
  const { text } = found.reading;
  const name = text === "" ? "which has no header" : quoted(text, 40);
  const key = text === "" ? String(found.position + 1) : text;
  notices.push(
    notice(
      "io.sample-column-assumed",
      `Column ${found.position + 1} (${name}) was taken for the samples' names, as no header says which column names them. ` +
        `If it is not, state in study.yaml: ${columnInStudy(key, "ignore")}`,
    ),
  );
  return found.position;
}

/** Words, and not the number of a row. */
function isNameCell(cell: string): boolean {
  return (
    /\p{L}/u.test(cell) &&
    !looksNumeric(cell) &&
    markOf(cell) === "text" &&
    !/^(?:row|r)?[ _.#]?\d+$/i.test(cell)
  );
}

function labelColumnsOf(columns: Column[], sampleColumn: number | null): LabelColumn[] {
  return columns.flatMap(({ quantity, position, setAside }): LabelColumn[] => {
    if (quantity === null || setAside !== null || position === sampleColumn) return [];
    if (quantity === "sample" || quantity === "name") return [{ position, kind: "specimen" }];
    return isLabel(quantity) || quantity === "impact number"
      ? [{ position, kind: quantity as LabelColumn["kind"] }]
      : [];
  });
}
