import { intervalAround, type ValueInterval } from "../../numeric/statistics/value-interval.js";

/** One quantity of one compound, with its draws where it has scatter. */
export interface Reading {
  value: number;
  drawn: Float64Array | null;
  /** As of a standing: no least value counts as met by it. */
  isUpperBound?: boolean;
}

/** A compound of a filler series; one reading a quantity, null where it was not measured or predicted. */
export interface LoadMember {
  compound: string;
  /** In the series' unit. */
  load: number;
  readings: (Reading | null)[];
}

/** Draws of every reading with scatter. */
export const leverDraws = 600;

/** A reading in draw i; without a draw, or of a reading without scatter, its value. */
const inDraw = ({ value, drawn }: Reading, i: number | null): number =>
  i === null || drawn === null ? value : drawn[i % drawn.length];

/**
 * A quantity at a load, on the straight line between the nearest compounds on either side in which it was
 * measured, with its draws. Null outside them.
 * @param members ascending in load
 */
export function readingAt(members: LoadMember[], k: number, load: number): Reading | null {
  const measured = members.flatMap(({ load: at, readings }) => {
    const reading = readings[k];
    return reading === null ? [] : [{ load: at, reading }];
  });
  const exact = measured.find((one) => one.load === load);
  if (exact !== undefined) return exact.reading;
  const above = measured.findIndex((one) => one.load > load);
  if (above < 1) return null;
  const [low, high] = [measured[above - 1].reading, measured[above].reading];
  const share = (load - measured[above - 1].load) / (measured[above].load - measured[above - 1].load);
  const at = (i: number | null) => inDraw(low, i) + share * (inDraw(high, i) - inDraw(low, i));
  return {
    value: at(null),
    drawn: low.drawn === null || high.drawn === null ? null : drawsOf(at),
    isUpperBound: low.isUpperBound || high.isUpperBound,
  };
}

/** to − from, draw against draw, so that what both share cancels; null ends where one of them has no scatter. */
export function changeBetween(from: Reading, to: Reading): ValueInterval {
  const value = to.value - from.value;
  if (from.drawn === null || to.drawn === null) return { value, low: null, high: null };
  return {
    value,
    ...intervalAround(
      value,
      drawsOf((i) => inDraw(to, i) - inDraw(from, i)),
    ),
  };
}

/** Where a quantity first reaches a limit on the way from one member outwards. */
export interface Reached {
  load: ValueInterval;
  /** The nearest load at which more than `surely` of the draws have reached it; null: none that was measured. */
  surelyAt: number | null;
  between: [string, string];
}

/**
 * The load nearest to a member's own at which a quantity reaches a limit, on straight lines between measured compounds;
 * its interval from the same lines through each draw, where both have scatter. Null where none does on either side.
 *
 * @param members ascending in load, all with a reading of the quantity
 * @param own place of the member among them
 * @param gap of the quantity beyond its limit: 0 and more where it is met
 * @param surely share of the draws, such as 0.95
 */
export function loadReaching(
  members: LoadMember[],
  own: number,
  k: number,
  gap: (value: number) => number,
  surely: number,
): Reached | null {
  const outwards = [members.slice(own), members.slice(0, own + 1).reverse()];
  const found = outwards.flatMap((way) => {
    const distance = distanceReaching(way, k, gap, null);
    return Number.isFinite(distance) && distance > 0 ? [{ way, distance }] : [];
  });
  const [nearest] = found.sort((a, b) => a.distance - b.distance);
  if (nearest === undefined) return null;
  const { way, distance } = nearest;
  const sign = way[way.length - 1].load > way[0].load ? 1 : -1;
  const at = (one: number) => way[0].load + sign * one;
  const last = way.findIndex(({ load }) => Math.abs(load - way[0].load) >= distance);
  const between = [way[last - 1], way[last]].sort((a, b) => a.load - b.load);
  const hasScatter = between.every(({ readings }) => readings[k]!.drawn !== null);
  const drawn = hasScatter ? drawsOf((i) => distanceReaching(way, k, gap, i)).sort() : null;
  const ends = drawn === null ? [null, null] : [rank(drawn, 0.025), rank(drawn, 0.975)].map(finite);
  const [near, far] = ends.map((one, e) =>
    one === null ? null : at(e === 0 ? Math.min(one, distance) : Math.max(one, distance)),
  );
  const sure = drawn === null ? distance : finite(drawn[Math.floor(surely * drawn.length)]);
  return {
    load: { value: at(distance), low: sign > 0 ? near : far, high: sign > 0 ? far : near },
    // Half the draws at most have reached it where the value has; the surer load lies farther out.
    surelyAt: sure === null ? null : at(Math.max(sure, distance)),
    between: [between[0].compound, between[1].compound],
  };
}

/** How far outwards the limit is first reached; infinite where it is not. */
function distanceReaching(
  way: LoadMember[],
  k: number,
  gap: (value: number) => number,
  draw: number | null,
): number {
  for (const [m, member] of way.entries()) {
    const here = gap(inDraw(member.readings[k]!, draw));
    if (here < 0) continue;
    const distance = Math.abs(member.load - way[0].load);
    if (m === 0) return 0;
    const before = gap(inDraw(way[m - 1].readings[k]!, draw));
    return distance - (here / (here - before)) * Math.abs(member.load - way[m - 1].load);
  }
  return Number.POSITIVE_INFINITY;
}

const drawsOf = (at: (i: number) => number) => Float64Array.from({ length: leverDraws }, (_, i) => at(i));
const rank = (sorted: Float64Array, share: number) => sorted[Math.round(share * (sorted.length - 1))];
const finite = (value: number) => (Number.isFinite(value) ? value : null);
