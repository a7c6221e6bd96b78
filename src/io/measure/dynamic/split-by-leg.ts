import type { Direction } from "../../measurement.js";
import { joinedRows, type Pool, picked, type Rows } from "../pool.js";
import { type Leg, legsOf } from "./legs.js";
import { distinct } from "./stretches.js";

export interface LegRows {
  rows: Rows;
  direction: Direction | null;
  /** Turns of the temperature, where it turns so often that the rows stand in no order; else 0. */
  turns: number;
}

/** A leg is longer than this on the average; rows whose temperature turns more often stand in no order. */
const rowsPerLeg = 5;
const fewestTurns = 4;

/**
 * The rows of temperature sweeps by heating and cooling leg. Legs are found at each frequency by itself; those
 * of one direction and number belong together. A second run over the same range is a leg of its own.
 * @param rows in the order of the file, as those of each leg are
 */
export function splitByLeg(pool: Pool, rows: Rows): LegRows[] {
  if (rows.length === 0) return [];
  const legs = new Map<string, { parts: Rows[]; direction: Direction | null; turns: number }>();
  for (const own of byFrequency(pool, rows)) {
    const counts = new Map<Direction | null, number>();
    for (const leg of legsInOrder(picked(pool.temperature_C, own))) {
      const isAll = leg.end - leg.first === own.length;
      const members = isAll ? own : own.slice(leg.first, leg.end);
      const direction = isBackwards(pool, members) ? reversed(leg.direction) : leg.direction;
      const number = (counts.get(direction) ?? 0) + 1;
      counts.set(direction, number);
      const key = `${direction} ${number}`;
      const found = legs.get(key);
      if (found === undefined) legs.set(key, { parts: [members], direction, turns: leg.turns });
      else {
        found.parts.push(members);
        found.turns = Math.max(found.turns, leg.turns);
      }
    }
  }
  const split = Array.from(legs.values(), ({ parts, direction, turns }) => ({
    rows: parts.length === 1 ? parts[0] : sortedByLine(pool, joinedRows(parts)),
    direction,
    turns,
  }));
  return withoutStrays(pool, split);
}

/** Heating and cooling legs; one leg without a direction where rows sorted by anything else would be cut to pieces. */
function legsInOrder(temperatures: Float64Array): (Leg & { turns: number })[] {
  const legs = legsOf(temperatures);
  const turns = legs.length - 1;
  return turns >= fewestTurns && temperatures.length < rowsPerLeg * legs.length
    ? [{ first: 0, end: temperatures.length, direction: null, turns }]
    : legs.map((leg) => ({ ...leg, turns: 0 }));
}

function byFrequency(pool: Pool, rows: Rows): Rows[] {
  const frequencies = distinct(pool.frequency_Hz, rows);
  if (frequencies.length === 1) return [rows];
  const groups: number[][] = frequencies.map(() => []);
  for (const row of rows) groups[placeOf(frequencies, pool.frequency_Hz[row])].push(row);
  return groups;
}

/** The last of ascending values that is not above this one. */
function placeOf(ascending: number[], value: number): number {
  let low = 0;
  let high = ascending.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (ascending[middle] <= value) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** A frequency with too few points for a leg of its own goes with the longest leg. */
function withoutStrays(pool: Pool, legs: LegRows[]): LegRows[] {
  const directed = legs.filter(({ direction }) => direction !== null);
  if (directed.length === 0 || directed.length === legs.length) return legs;
  const longest = directed.reduce((a, b) => (b.rows.length > a.rows.length ? b : a));
  const strays = legs.filter(({ direction }) => direction === null).map(({ rows }) => rows);
  longest.rows = sortedByLine(pool, joinedRows([longest.rows, ...strays]));
  return directed;
}

/** Order of the file; rows of one line (a wide table) keep the order of its columns. */
export function sortedByLine({ lines }: Pool, rows: Rows): Rows {
  for (let i = 1; i < rows.length; i++) {
    if (lines[rows[i]] < lines[rows[i - 1]]) return [...rows].sort((a, b) => lines[a] - lines[b] || a - b);
  }
  return rows;
}

/** A table sorted against its own time column was measured the other way. */
function isBackwards({ series, time_s }: Pool, rows: Rows): boolean {
  if (series.length > 1 || time_s === null) return false;
  return time_s[rows[rows.length - 1]] < time_s[rows[0]];
}

function reversed(direction: Direction | null): Direction | null {
  if (direction === null) return null;
  return direction === "heating" ? "cooling" : "heating";
}
