import type { Direction } from "../../measurement.js";
import { rowsBetween } from "../pool.js";

export interface Leg {
  /** Places in the sequence, ascending. */
  rows: number[];
  direction: Direction | null;
}

/** A leg is at least so many rows long; less is wobble or a jump back to the start of the next run. */
const fewestRows = 3;
/** The temperature has to turn back by this much, and by this share of its range, for a new leg. */
const turn_K = 3;
const turnShare = 0.05;

/**
 * Heating and cooling legs of temperatures in the order in which they were measured. The row at a turning
 * point ends its leg.
 * @example legsOf([-20, -10, 0, 10, 0, -10, -20]) // 4 rows of heating, 3 of cooling
 */
export function legsOf(temperatures: ArrayLike<number>): Leg[] {
  const count = temperatures.length;
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < count; i++) {
    if (temperatures[i] < least) least = temperatures[i];
    if (temperatures[i] > greatest) greatest = temperatures[i];
  }
  const threshold = Math.max(turn_K, turnShare * (greatest - least));
  const ends = turningPoints(temperatures, threshold);
  const legs: number[][] = [];
  let first = 0;
  for (const end of [...ends, count - 1]) {
    const rows = rowsBetween(first, end + 1);
    const previous = legs[legs.length - 1];
    // A single step back to the start is no leg: its row opens the next one.
    if (rows.length > 0 && rows.length < fewestRows && end !== count - 1) {
      first = previous === undefined || isJump(temperatures, first, threshold) ? first : end + 1;
      if (first === end + 1) previous!.push(...rows);
      continue;
    }
    if (rows.length === 0) continue;
    if (rows.length < fewestRows && previous !== undefined) previous.push(...rows);
    else legs.push(rows);
    first = end + 1;
  }
  return legs.map((rows) => ({ rows, direction: directionOf(temperatures, rows) }));
}

function isJump(temperatures: ArrayLike<number>, first: number, threshold: number): boolean {
  return first > 0 && Math.abs(temperatures[first] - temperatures[first - 1]) >= threshold;
}

/** Places of the extremes between which the temperature moves by the threshold or more. */
function turningPoints(temperatures: ArrayLike<number>, threshold: number): number[] {
  const points: number[] = [];
  let up = 0;
  let extreme = 0;
  let low = 0;
  let high = 0;
  for (let i = 1; i < temperatures.length; i++) {
    const value = temperatures[i];
    if (up === 0) {
      if (value < temperatures[low]) low = i;
      if (value > temperatures[high]) high = i;
      if (value - temperatures[low] >= threshold) {
        up = 1;
        extreme = i;
      } else if (temperatures[high] - value >= threshold) {
        up = -1;
        extreme = i;
      }
      continue;
    }
    if (up * (value - temperatures[extreme]) >= 0) {
      extreme = i;
      continue;
    }
    if (up * (temperatures[extreme] - value) >= threshold) {
      points.push(extreme);
      up = -up;
      extreme = i;
    }
  }
  return points;
}

function directionOf(temperatures: ArrayLike<number>, rows: number[]): Direction | null {
  const change = temperatures[rows[rows.length - 1]] - temperatures[rows[0]];
  if (Math.abs(change) < turn_K) return null;
  return change > 0 ? "heating" : "cooling";
}
