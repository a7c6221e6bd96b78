import {
  type Area,
  type Beside,
  type Box,
  conflict,
  doOverlap,
  isInside,
  type MapPoint,
  type Place,
  placesAtLeaders,
  placesBeside,
} from "./label-places.js";

export interface PlacedLabel {
  box: Box;
  /** Null: farther off, to be joined to its point by a thin line. */
  beside: Beside | null;
}

/** A place that costs more is left where another can be had; one that costs more than `bad`, at any price. */
const worthMoving = 45;
const bad = 140;
/** What an optional name's place may cost. */
const mostForOptional = 60;

const mostPasses = 8;
const triedForBetter = 40;
const triedForAny = 120;

/**
 * Finds a place for each name: beside its point, or farther off at the end of a thin line, where it covers no
 * other name, no shape, as few interval lines as may be, and stays inside. Each name in turn takes its best
 * place among the others until none moves; one that still has a bad place tries each of its good ones and
 * sends away who stands there, where that is better for all. Where two names overlap in the end, or one does
 * not fit in, the later one in the list gets no place (null). Optional names follow, one after the other, each
 * beside its point where that place is a good one.
 */
export function placeLabels(points: MapPoint[], area: Area): (PlacedLabel | null)[] {
  const named = points.flatMap((point, k) => (point.labelWidth === null ? [] : [k]));
  const required = named.filter((k) => !points[k].isOptional);
  const besideOnly = required.map((k) => placesBeside(points[k], points, area));
  let placed = settled(besideOnly);
  if (placed.some((place, i) => costAmong(placed, i, place) >= worthMoving)) {
    placed = settled(
      besideOnly.map((places, i) => [...places, ...placesAtLeaders(points[required[i]], points, area)]),
    );
  }
  const labels: (PlacedLabel | null)[] = points.map(() => null);
  for (const [i, k] of required.entries()) {
    const { box, beside } = placed[i];
    const isCovered = required
      .slice(0, i)
      .some((other) => labels[other] && doOverlap(labels[other].box, box));
    if (!isCovered && isInside(box, area)) labels[k] = { box, beside };
  }
  for (const k of named) {
    if (!points[k].isOptional) continue;
    const good = placesBeside(points[k], points, area).find(
      (place) => costAmong(placed, -1, place) < mostForOptional,
    );
    if (good === undefined) continue;
    placed.push(good);
    labels[k] = { box: good.box, beside: good.beside };
  }
  return labels;
}

/** What a place costs among the others' places; infinite where that is more than `most`. */
function costAmong(placed: Place[], own: number, place: Place, most = Number.POSITIVE_INFINITY): number {
  let sum = place.own;
  for (let i = 0; i < placed.length; i++) {
    if (i !== own) sum += conflict(place, placed[i]);
    if (sum >= most) return Number.POSITIVE_INFINITY;
  }
  return sum;
}

function costOfAll(placed: Place[]): number {
  let sum = 0;
  for (let i = 0; i < placed.length; i++) {
    sum += placed[i].own;
    for (let k = 0; k < i; k++) sum += conflict(placed[i], placed[k]);
  }
  return sum;
}

/** A place for each from its candidates. */
function settled(unsorted: Place[][]): Place[] {
  const candidates = unsorted.map((places) => [...places].sort((a, b) => a.own - b.own));
  const placed = candidates.map(([first]) => first);
  const best = (i: number): Place => {
    let chosen = placed[i];
    let least = costAmong(placed, i, chosen);
    for (const place of candidates[i]) {
      // The others only add to a place's own cost.
      if (place.own >= least) break;
      const sum = costAmong(placed, i, place, least);
      if (sum < least) [chosen, least] = [place, sum];
    }
    return chosen;
  };
  const everyBest = () => {
    for (let pass = 0; pass < mostPasses; pass++) {
      let isChanged = false;
      for (let i = 0; i < placed.length; i++) {
        const chosen = best(i);
        if (chosen !== placed[i]) isChanged = true;
        placed[i] = chosen;
      }
      if (!isChanged) return;
    }
  };
  /** Takes a place and lets those it disturbs find another; undone where that makes it worse for all. */
  const tryToTake = (i: number, place: Place): boolean => {
    const before = [...placed];
    const costBefore = costOfAll(placed);
    placed[i] = place;
    for (let k = 0; k < placed.length; k++) {
      if (k !== i && conflict(place, placed[k]) > 0) placed[k] = best(k);
    }
    if (costOfAll(placed) < costBefore - 1e-6) return true;
    placed.splice(0, placed.length, ...before);
    return false;
  };
  everyBest();
  for (let pass = 0; pass < mostPasses; pass++) {
    let isChanged = false;
    for (let i = 0; i < placed.length; i++) {
      const now = costAmong(placed, i, placed[i]);
      if (now < worthMoving) continue;
      const tried = candidates[i].slice(0, now < bad ? triedForBetter : triedForAny);
      if (tried.some((place) => place !== placed[i] && tryToTake(i, place))) isChanged = true;
    }
    if (!isChanged) break;
    everyBest();
  }
  return placed;
}
