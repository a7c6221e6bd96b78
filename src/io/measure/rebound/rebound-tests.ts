import { pushTo } from "../../../numeric/push-to.js";
import type { ReboundImpacts } from "../../measurement.js";

/** One row's rebound values and what the row says of the test they belong to. */
export interface ReboundRow {
  reading: ReboundImpacts;
  /** Specimen, operator, date and batch, as one text; rows of unlike texts are no impacts of one test. */
  test: string;
  /** The impact's number where the table has a column for it. */
  impact: number | null;
}

/**
 * The tests of one sample by one method. A row of two or more values is a test of its own; rows of one value are
 * put together as the impacts of one test where temperature, laboratory, specimen, operator, date and batch are
 * the same: by the impact's number where a column gives it, else in the order of the rows. `joined` holds the
 * lines of each test made of several rows.
 */
export function reboundTests(rows: ReboundRow[]): { readings: ReboundImpacts[]; joined: number[][] } {
  const readings: ReboundImpacts[] = [];
  const singles = new Map<string, ReboundRow[]>();
  for (const row of rows) {
    if (row.reading.fractions.length > 1) {
      readings.push(row.reading);
      continue;
    }
    const { temperature_C, laboratory } = row.reading;
    pushTo(singles, JSON.stringify([String(temperature_C), laboratory ?? null, row.test]), row);
  }
  const joined: number[][] = [];
  for (const members of singles.values()) {
    for (const impacts of testsByImpactNumber(members)) {
      const lines = impacts.map(({ reading }) => reading.line);
      if (impacts.length > 1) joined.push(lines);
      readings.push({
        ...impacts[0].reading,
        fractions: impacts.map(({ reading }) => reading.fractions[0]),
        line: lines.reduce((first, line) => Math.min(first, line)),
      });
    }
  }
  readings.sort((a, b) => a.line - b.line);
  return { readings, joined };
}

/** An impact's number that comes again belongs to the next test. */
function testsByImpactNumber(rows: ReboundRow[]): ReboundRow[][] {
  if (rows.some(({ impact }) => impact === null)) return [rows];
  const tests = new Map<number, ReboundRow[]>();
  const met = new Map<number, number>();
  for (const row of rows) {
    const turn = met.get(row.impact!) ?? 0;
    met.set(row.impact!, turn + 1);
    pushTo(tests, turn, row);
  }
  return [...tests.values()].map((test) => test.sort((a, b) => a.impact! - b.impact!));
}
