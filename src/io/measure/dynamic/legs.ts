import type { Direction } from "../../measurement.js";
/** Temperatures first … end − 1 of a sequence. */
export interface Leg {
  first: number;
  end: number;
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
 * @example legsOf([-20, -10, 0, 10, 0, -10, -20]) // [{ first: 0, end: 4, direction: "heating" }, { first: 4, end: 7, direction: "cooling" }]
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
  const legs: { first: number; end: number }[] = [];
  let first = 0;
  for (const last of [...turningPoints(temperatures, threshold), count - 1]) {
    const end = last + 1;
    if (end === first) continue;
    const previous = legs.at(-1);
    const isShort = end - first < fewestRows;
    // A single step back to the start is no leg: its row opens the next one.
    const isStepBack = previous === undefined || isJump(temperatures, first, threshold);
    if (isShort && end < count && isStepBack) continue;
    if (isShort && previous !== undefined) previous.end = end;
    else legs.push({ first, end });
    first = end;
  }
  return legs.map((leg) => ({ ...leg, direction: directionOf(temperatures, leg) }));
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

function directionOf(
  temperatures: ArrayLike<number>,
  { first, end }: { first: number; end: number },
): Direction | null {
  const change = temperatures[end - 1] - temperatures[first];
  if (Math.abs(change) < turn_K) return null;
  return change > 0 ? "heating" : "cooling";
}
