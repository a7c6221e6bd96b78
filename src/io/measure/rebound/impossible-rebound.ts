import { notice, problem } from "../../../words/codes/codes.js";
import { quoted } from "../../../words/quoted.js";
import type { Column } from "../../table/header/column.js";
import { Rejection } from "../rejection.js";
import type { Told } from "../told.js";
import { shownNumber } from "../units/choose-unit.js";

/** A row's rebound of less than nothing or more than all of the energy; null where all values are possible. */
export interface JudgedRow {
  line: number;
  impossible: { column: Column; written: number; fraction: number } | null;
}

/** Rows of rebound under headers that read alike, by those headers. */
export type JudgedRows = Map<string, JudgedRow[]>;

/** As many rows tell a column that is wrong throughout from one reading that is. */
const fewestOfColumn = 2;
const mostNamed = 5;

/** The place, what stands there, what it comes to and what was expected. */
export function whyImpossible({ column, written, fraction }: NonNullable<JudgedRow["impossible"]>): string {
  const unit = column.reading.unit === null ? "" : ` ${column.reading.unitText}`;
  return (
    `column ${column.position + 1} (${quoted(column.reading.text, 40)}) holds ${shownNumber(written)}${unit}, a rebound ` +
    `resilience of ${shownNumber(Number((100 * fraction).toPrecision(4)))} %; expected 0 to 100 %`
  );
}

/**
 * Rows of an impossible rebound are left out and named. Where half of a file's rows or of a column's are impossible, the
 * unit or the column is in doubt and with it the other half: that ends the reading.
 */
export function checkRebound(judged: JudgedRows, told: Told): void {
  const columns = [...judged.values()];
  for (const rows of [columns.flat(), ...columns.filter(({ length }) => length >= fewestOfColumn)]) {
    const bad = impossibleOf(rows);
    if (bad.length === 0 || 2 * bad.length < rows.length) continue;
    const [{ line, impossible }] = bad;
    throw new Rejection(
      problem(
        "io.resilience-out-of-range",
        `Line ${line}: ${whyImpossible(impossible)}; so it is with ${bad.length} of ${rows.length} rows. Check the column and its unit, or heights and angles.`,
        line,
        impossible.column.position + 1,
      ),
    );
  }
  const bad = impossibleOf(columns.flat()).sort((a, b) => a.line - b.line);
  if (bad.length === 0) return;
  const list = bad
    .slice(0, mostNamed)
    .map(({ line, impossible }) => `line ${line}, ${whyImpossible(impossible)}`);
  if (bad.length > mostNamed) list.push(`and ${bad.length - mostNamed} more`);
  told.notices.push(
    notice(
      "io.rebound-left-out",
      `${bad.length === 1 ? "A row of rebound was" : `${bad.length} rows of rebound were`} left out: ${list.join("; ")}. Correct ` +
        `${bad.length === 1 ? "it" : "them"} in the export.`,
    ),
  );
}

function impossibleOf(rows: JudgedRow[]) {
  return rows.flatMap(({ line, impossible }) => (impossible === null ? [] : [{ line, impossible }]));
}
