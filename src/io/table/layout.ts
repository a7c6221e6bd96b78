import type { Notice, Problem } from "../problem.js";
import { notice, problem, quoted } from "../problem-codes.js";
import {
  dimensionsOf,
  isResponse,
  isText,
  modulusQuantities,
  type Quantity,
  reboundQuantities,
} from "../vocabulary/quantities.js";
import type { Tag } from "../vocabulary/read-header.js";
import type { Column } from "./column.js";

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
  /** Slots by quantity; several for the repeats of a rebound value. */
  slots: Map<Quantity, number[]>;
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
  notices: Notice[];
}

const read = new Set<Quantity>([
  "temperature",
  "set temperature",
  "frequency",
  "angular frequency",
  "time",
  "strain amplitude",
  "double strain amplitude",
  ...modulusQuantities,
  ...reboundQuantities,
]);

/** Columns without which a table can still be used. */
const optional = new Set<Quantity>([
  "time",
  "strain amplitude",
  "double strain amplitude",
  "set temperature",
]);

/** Settles what each column of a table is for; a problem names the first column that cannot be settled. */
export function layoutOf(columns: Column[], headerLine: number): Layout | Problem {
  const notices: Notice[] = [];
  for (const column of columns) {
    const trouble = unitTrouble(column, headerLine);
    if (trouble === null) continue;
    if (!optional.has(column.quantity!)) return trouble;
    column.setAside = "its unit is not known";
    notices.push(notice("caution", "io.column-not-unique", `Not used: ${trouble.message}`));
  }
  setTwinsAside(columns, notices);
  const used = columns.filter(
    ({ quantity, setAside }) => quantity !== null && read.has(quantity) && setAside === null,
  );
  const groups: Group[] = [];
  for (const [, members] of groupedByTag(used)) {
    const group = groupOf(members, headerLine, notices);
    if ("code" in group) return group;
    groups.push(group);
  }
  const kept = used.filter(({ setAside }) => setAside === null);
  const slots = kept.map((column): Slot => {
    const { unit, logarithm } = column.reading;
    const scaled = unit !== null && logarithm === 0 && unit.before === 0;
    return { column, quantity: column.quantity!, power: scaled ? unit.power : 0 };
  });
  const slotOf = new Int16Array(columns.length).fill(-1);
  slots.forEach(({ column }, slot) => {
    slotOf[column.position] = slot;
  });
  const position = new Map(slots.map(({ column }, slot) => [column, slot]));
  return {
    columns,
    headerLine,
    slots,
    slotOf,
    groups: groups.map((group) => ({
      ...group,
      slots: new Map(
        [...group.slots].map(([quantity, members]) => [
          quantity,
          members.map((member) => position.get(used[member])!).filter((slot) => slot !== undefined),
        ]),
      ),
    })),
    sampleColumn: sampleColumnOf(columns),
    notices,
  };

  /** Shared columns belong to every group; groups hold places in `used` until the slots are known. */
  function groupOf(members: Column[], line: number, said: Notice[]): Group | Problem {
    const slots = new Map<Quantity, number[]>();
    const [{ reading, sample }] = members.filter(isTagged).concat(members);
    for (const column of members) {
      const quantity = column.quantity!;
      const others = slots.get(quantity) ?? [];
      const twin = others.map((i) => used[i]).find((other) => !isRepeat(quantity, other, column));
      if (twin === undefined) {
        slots.set(quantity, [...others, used.indexOf(column)]);
        continue;
      }
      // A column of the group's own stands before one that all groups share.
      if (isTagged(twin) !== isTagged(column)) {
        if (isTagged(column)) slots.set(quantity, [used.indexOf(column)]);
        continue;
      }
      if (optional.has(quantity)) {
        column.setAside = `${quoted(twin.reading.text)} is used`;
        said.push(
          notice(
            "info",
            "io.column-not-unique",
            `Columns ${twin.position + 1} and ${column.position + 1} both hold the ${quantity}; ${quoted(twin.reading.text)} is used.`,
          ),
        );
        continue;
      }
      return problem(
        "io.duplicate-quantity",
        `Columns ${twin.position + 1} (${quoted(twin.reading.text)}) and ${column.position + 1} (${quoted(column.reading.text)}) ` +
          `both claim the ${quantity}; expected one. State under "columns" in study.yaml which to use, ` +
          `for example ${quoted(column.reading.text)}: ignore.`,
        line,
        column.position + 1,
      );
    }
    return { tag: reading.tag, sample, slots };
  }
}

function isTagged({ reading: { tag }, sample }: Column): boolean {
  return tag.frequency_Hz !== undefined || tag.temperature_C !== undefined || sample !== null;
}

/** Rebound values of one row are repeats; everything else is there once. */
function isRepeat(quantity: Quantity, one: Column, other: Column): boolean {
  return reboundQuantities.includes(quantity) && one.reading.mean === other.reading.mean;
}

function groupedByTag(columns: Column[]): Map<string, Column[]> {
  const key = ({ reading: { tag }, sample }: Column) =>
    `${tag.frequency_Hz ?? ""}|${tag.temperature_C ?? ""}|${sample ?? ""}`;
  const groups = new Map<string, Column[]>();
  for (const column of columns) {
    if (!isTagged(column)) continue;
    groups.set(key(column), [...(groups.get(key(column)) ?? []), column]);
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

/** Logarithms beside their plain column, ω beside f, means beside their single values: one of the two is enough. */
function setTwinsAside(columns: Column[], notices: Notice[]): void {
  const alike = (one: Column, other: Column) =>
    one.quantity === other.quantity && JSON.stringify(one.reading.tag) === JSON.stringify(other.reading.tag);
  for (const column of columns) {
    const { quantity, reading, setAside } = column;
    if (quantity === null || setAside !== null) continue;
    if (
      reading.logarithm !== 0 &&
      columns.some((other) => other.reading.logarithm === 0 && alike(column, other))
    ) {
      column.setAside = "the plain column beside it is used";
    }
    if (reboundQuantities.includes(quantity) && reading.mean) {
      const single = columns.some((other) => other.quantity === quantity && !other.reading.mean);
      if (single) column.setAside = "a mean; the single values are used";
    }
    if (quantity === "angular frequency" && columns.some((other) => other.quantity === "frequency")) {
      column.setAside = "the frequency column is used";
    }
    if (
      quantity === "rebound height" ||
      quantity === "drop height" ||
      quantity === "rebound angle" ||
      quantity === "drop angle"
    ) {
      if (columns.some((other) => other.quantity === "rebound resilience")) {
        column.setAside = "the resilience column is used";
      }
    }
    if (quantity === "set temperature" && columns.some((other) => other.quantity === "temperature")) {
      column.setAside = "the measured temperature is used";
    }
    if (
      column.setAside !== null &&
      setAside === null &&
      reading.logarithm === 0 &&
      quantity === "angular frequency"
    ) {
      notices.push(
        notice(
          "info",
          "io.column-not-unique",
          `Column ${column.position + 1} (${quoted(reading.text)}) is not used: ${column.setAside}.`,
        ),
      );
    }
  }
}

function unitTrouble({ quantity, reading, position, setAside }: Column, line: number): Problem | null {
  if (quantity === null || setAside !== null || !read.has(quantity)) return null;
  const expected = expectedUnits(quantity);
  const at = reading.unitLine ?? line;
  if (reading.unit === null) {
    if (reading.unknownUnit === null || dimensionsOf[quantity].includes("ratio")) return null;
    return problem(
      "io.unknown-unit",
      `The header ${quoted(reading.text)} (${quantity}) gives ${quoted(reading.unknownUnit)} where a unit should be, and no such ` +
        `unit is known; expected ${expected}. Correct it, or state the column under "columns" in study.yaml.`,
      at,
      position + 1,
    );
  }
  if (dimensionsOf[quantity].includes(reading.unit.dimension)) return null;
  return problem(
    "io.unit-does-not-fit",
    `The header ${quoted(reading.text)} gives the unit ${quoted(reading.unitText)}, which a ${quantity} cannot have; expected ` +
      `${expected}. Correct it, or state the column under "columns" in study.yaml.`,
    at,
    position + 1,
  );
}

function expectedUnits(quantity: Quantity): string {
  switch (dimensionsOf[quantity][0]) {
    case "temperature":
      return "°C, K or °F";
    case "stress":
      return "a unit such as Pa, kPa, MPa, GPa, N/mm², psi or dyn/cm²";
    case "frequency":
    case "angular frequency":
      return "Hz or rad/s";
    case "time":
      return "s, min or h";
    case "length":
      return "mm, cm or m";
    case "angle":
      return "degrees or rad";
    default:
      return "% or a fraction";
  }
}

/** The column that tells samples apart: one that says so, else a plain "name" or "material". */
function sampleColumnOf(columns: Column[]): number | null {
  const of = (quantity: Quantity) =>
    columns.find((column) => column.quantity === quantity && isText(quantity) && column.setAside === null);
  return (of("sample") ?? of("name"))?.position ?? null;
}

/** The words "rows of numbers" need to make a complex modulus; null where the group can make one. */
export function modulusTrouble(group: Group, layout: Layout): Problem | null {
  const has = (quantity: Quantity) => (group.slots.get(quantity)?.length ?? 0) > 0;
  const absolute = (["storage modulus", "loss modulus", "complex modulus"] as Quantity[]).filter(has);
  const angles = (["tan delta", "phase angle"] as Quantity[]).filter(has);
  if (absolute.length >= 2 || (absolute.length === 1 && angles.length > 0)) return null;
  const found = [...absolute, ...angles];
  const unread = layout.columns.filter(({ quantity, reading }) => quantity === null && reading.text !== "");
  const others =
    unread.length > 0
      ? ` Columns not understood: ${unread
          .slice(0, 6)
          .map(({ reading }) => quoted(reading.text, 30))
          .join(", ")}.`
      : "";
  const where =
    found.length > 0 ? layout.columns.find(({ quantity }) => quantity === found[0])?.position : undefined;
  return problem(
    "io.missing-modulus",
    `Storage and loss modulus do not follow from the columns: found ${found.length > 0 ? `only ${found.join(" and ")}` : "neither"}; ` +
      `expected any two of storage modulus, loss modulus, complex modulus, tan delta and phase angle, one of them a modulus.${others} ` +
      `Export one more of them, or state the columns under "columns" in study.yaml.`,
    layout.headerLine,
    where === undefined ? undefined : where + 1,
  );
}
