import { mapFalling, mapInterval, type ValueInterval } from "../../numeric/statistics/value-interval.js";
import { answerOf, surely } from "./decide.js";
import type { Decision } from "./decision.js";
import { type Candidate, meets, standingOf } from "./judge.js";
import type { LeverChange, Levers, Trade } from "./lever-schema.js";
import { leverCaution, leverRemark, loadWords, nothingSaysIt, tradeSentence } from "./lever-words.js";
import { changeBetween, type LoadMember, loadReaching, type Reading, readingAt } from "./load-series.js";
import type { Requirement } from "./requirement.js";

/** A filler series as the study states it, with what was read of its members' networks. */
export interface StatedSeries {
  name: string;
  members: StatedMember[];
}

export interface StatedMember {
  compound: string;
  /** Null where the study does not state it; 0 of the gum. */
  phr: number | null;
  volumeFraction: number | null;
  particleSize_nm: number | null;
}

/** A quantity that a lever is followed in: a requirement, or the same without limits. */
type Followed = Requirement & { isAsked: boolean };

/** A requirement that a compound fails, the k-th. */
interface Failure {
  name: string;
  k: number;
  requirement: Requirement;
  value: number | null;
}

/** Compounds that differ in one thing: the load of one filler, or the size of its particles at one load. */
interface Line {
  name: string;
  loadUnit: Levers["series"][number]["loadUnit"];
  members: { compound: string; load: number; particleSize_nm: number | null }[];
}

interface Followable extends Omit<Line, "members"> {
  members: (Line["members"][number] & LoadMember)[];
  quantities: Followed[];
}

/** Loads nearer than this are the same, by volume. */
const sameVolumeFraction = 0.005;

/**
 * What a change of filler would do to each compound that fails a requirement, from the study's own filler series only:
 * on straight lines between measured compounds, draw against draw, and nowhere outside them. For a compound without such
 * a series it is said that nothing in the study says it.
 *
 * @param candidates every compound of the study; what else was measured of them is a property
 */
export function leversOf(
  { requirements, compounds }: Pick<Decision, "requirements" | "compounds">,
  candidates: Candidate[],
  series: StatedSeries[],
): Levers {
  const lines = series
    .flatMap((one) => linesOf(one, candidates))
    .map((line) => followable(line, requirements, candidates));
  return {
    series: lines.map((line) => ({
      name: line.name,
      loadUnit: line.loadUnit,
      members: line.members.map(({ compound, load }) => ({ compound, load })),
      steps: stepsOf(line),
    })),
    trades: compounds.flatMap(({ name, meets: judged }) =>
      judged.flatMap(({ answer, value }, k) =>
        answer === "fails" ? tradesOf(lines, { name, k, requirement: requirements[k], value }) : [],
      ),
    ),
    remark: leverRemark,
    caution: leverCaution,
  };
}

/** The series over its load, and over particle size where sizes differ at one load; members without data are left out. */
function linesOf({ name, members }: StatedSeries, candidates: Candidate[]): Line[] {
  const known = members.filter(
    ({ compound, phr, volumeFraction }) =>
      (phr !== null || volumeFraction !== null) && candidates.some((one) => one.name === compound),
  );
  const inPhr = known.every(({ phr }) => phr !== null);
  const ascending = (line: Line): Line => ({
    ...line,
    members: line.members.toSorted((a, b) => a.load - b.load),
  });
  const overLoad = known.flatMap(({ compound, phr, volumeFraction, particleSize_nm }) => {
    const load = inPhr ? phr : volumeFraction === null ? null : 100 * volumeFraction;
    return load === null ? [] : [{ compound, load, particleSize_nm }];
  });
  const loadUnit = inPhr ? "phr" : "% by volume";
  const sized = known.filter(
    (one) => one.particleSize_nm !== null && one.phr !== 0 && one.volumeFraction !== 0,
  );
  const groups: StatedMember[][] = [];
  for (const one of sized) {
    const alike = groups.find(([first]) => hasSameLoad(first, one));
    if (alike === undefined) groups.push([one]);
    else alike.push(one);
  }
  return [
    ascending({ name, loadUnit, members: overLoad }),
    ...groups
      .filter((group) => new Set(group.map(({ particleSize_nm }) => particleSize_nm)).size > 1)
      .map((group) => {
        const { load } = overLoad.find(({ compound }) => compound === group[0].compound)!;
        return ascending({
          name: `${name}, particle size at ${loadWords(load, loadUnit)}`,
          loadUnit: "nm",
          members: group.map(({ compound, particleSize_nm }) => ({
            ...{ compound, load: particleSize_nm!, particleSize_nm: null },
          })),
        });
      }),
  ];
}

function hasSameLoad(a: StatedMember, b: StatedMember): boolean {
  if (a.volumeFraction === null || b.volumeFraction === null) return a.phr === b.phr;
  return Math.abs(a.volumeFraction - b.volumeFraction) <= sameVolumeFraction;
}

function followable(line: Line, requirements: Requirement[], candidates: Candidate[]): Followable {
  const own = line.members.map(({ compound }) => candidates.find(({ name }) => name === compound)!);
  const quantities = followedQuantities(requirements, own);
  const members = line.members.map((member, i) => ({ ...member, readings: readingsOf(own[i], quantities) }));
  return { ...line, members, quantities };
}

/** One for each line of the compound that reaches the limit, else for the first that says something. */
function tradesOf(lines: Followable[], failure: Failure): Trade[] {
  const own = lines.filter(({ members }) => members.some(({ compound }) => compound === failure.name));
  const found = own.flatMap((line) => tradeOf(line, failure) ?? []);
  const reaching = found.filter(({ reaches }) => reaches !== null);
  if (reaching.length > 0) return reaching;
  return [found[0] ?? unsaid(failure, own[0]?.name ?? null)];
}

/** All that is asked; then what nobody asked for in any form, so that a trade does not hide its cost. */
function followedQuantities(requirements: Requirement[], members: Candidate[]): Followed[] {
  const asks = (...names: string[]) => requirements.some(({ quantity }) => names.includes(quantity));
  const use = requirements.find((one) => one.use !== null)?.use ?? coldestUse(members);
  const unasked = (quantity: string, unit: string, of: string | null): Followed => ({
    ...{ name: quantity, quantity, use: of, unit, isAsked: false },
  });
  const predicted = [
    ...(asks("grip", "grip relative to reference") ? [] : [unasked("grip", "1", use)]),
    ...(asks("rebound") ? [] : [unasked("rebound", "1", use)]),
    ...(asks("verdict", "lowest rubbery temperature")
      ? []
      : [unasked("lowest rubbery temperature", "°C", use)]),
    ...(asks("peak force", "peak deceleration") ? [] : [unasked("peak force", "N", use)]),
  ].filter((one) => one.use !== null);
  const measured = new Map<string, Followed>();
  for (const { quantity, unit } of members.flatMap(({ properties }) => properties)) {
    const isAsked = requirements.some((one) => one.quantity === quantity && one.unit === unit);
    if (!isAsked) measured.set(`${quantity} ${unit}`, unasked(quantity, unit, null));
  }
  return [...requirements.map((one) => ({ ...one, isAsked: true })), ...predicted, ...measured.values()];
}

function coldestUse(members: Candidate[]): string | null {
  const outlooks = members.flatMap((one) => one.outlooks.map(({ outlook }) => outlook));
  return outlooks.sort((a, b) => a.temperature_C - b.temperature_C)[0]?.use ?? null;
}

function readingsOf(candidate: Candidate, quantities: Followed[]): (Reading | null)[] {
  return quantities.map((followed) => {
    const { value, drawn, isUpperBound } = standingOf(followed, candidate);
    // A verdict without a border has no distance from it that could be followed.
    if (value === null || (followed.quantity === "verdict" && drawn === undefined)) return null;
    return { value, drawn: drawn ?? null, isUpperBound };
  });
}

/** Those that differ from one compound in their load only: particles of its size, and the gum; of one load the first. */
function sameFiller(members: Followable["members"], compound: string): Followable["members"] {
  const own = members.find((one) => one.compound === compound)!;
  const size =
    own.load > 0 ? own.particleSize_nm : (members.find(({ load }) => load > 0) ?? own).particleSize_nm;
  const alike = members.filter((one) => one.load === 0 || one.particleSize_nm === size);
  return alike.filter(
    (one) => one === own || (one.load !== own.load && alike.find(({ load }) => load === one.load) === one),
  );
}

function stepsOf({ members, quantities }: Followable): Levers["series"][number]["steps"] {
  const sizes = new Set(members.filter(({ load }) => load > 0).map((one) => one.particleSize_nm));
  return [...sizes].flatMap((size) => {
    const first = members.find((one) => one.load > 0 && one.particleSize_nm === size)!;
    const alike = sameFiller(members, first.compound);
    return alike.slice(1).map((to, i) => {
      const from = alike[i];
      return {
        ...{ from: from.compound, to: to.compound, fromLoad: from.load, toLoad: to.load },
        changes: quantities.flatMap((followed, k) =>
          changeOf(followed, from.readings[k], to.readings[k], to.load - from.load),
        ),
      };
    });
  });
}

function tradeOf(line: Followable, { name, k, requirement, value }: Failure): Trade | null {
  const { quantities } = line;
  const members = sameFiller(line.members, name);
  const measured = members.filter(({ readings }) => readings[k] !== null);
  const at = measured.findIndex(({ compound }) => compound === name);
  if (at < 0 || measured.length < 2) return null;
  const own = measured[at];
  const gap = gapOf(quantities[k], own.readings[k]!.value);
  const reached = loadReaching(measured, at, k, gap, surely);
  const nearest = () =>
    measured.reduce((a, b) => (gap(b.readings[k]!.value) > gap(a.readings[k]!.value) ? b : a));
  const changedLoad = reached?.surelyAt ?? reached?.load.value ?? nearest().load;
  const by = changedLoad - own.load;
  const trade = {
    ...{ compound: name, requirement: requirement.name, series: line.name, load: own.load },
    reaches: reached?.load ?? null,
    between: reached?.between ?? null,
    changedLoad,
    changes:
      by === 0
        ? []
        : quantities.flatMap((followed, q) =>
            changeOf(
              followed,
              own.readings[q],
              readingAt(members, q, changedLoad),
              by,
              q === k && reached !== null,
            ),
          ),
  };
  const range = [measured[0].compound, measured[measured.length - 1].compound] as const;
  return { ...trade, sentence: tradeSentence(trade, requirement, value, line.loadUnit, range) };
}

/** How far a value is past the limit that its compound missed. */
function gapOf({ quantity, atLeast, atMost }: Followed, missed: number): (value: number) => number {
  const least = quantity === "verdict" ? 0 : atLeast;
  return least !== undefined && (atMost === undefined || missed < least)
    ? (value) => value - least
    : (value) => atMost! - value;
}

/** @param isReached whether the load was chosen so that this quantity reaches its limit */
function changeOf(
  followed: Followed,
  from: Reading | null,
  to: Reading | null,
  by: number,
  isReached = false,
): LeverChange[] {
  if (from === null || to === null) return [];
  const { quantity, use, unit, name, isAsked } = followed;
  const change = changeBetween(from, to);
  // Without scatter the value that was sought stands on its limit, to the last bit.
  const judged = !isAsked
    ? { probability: null, answer: null }
    : isReached && to.drawn === null
      ? { probability: null, answer: "meets" as const }
      : judgedAt(followed, to);
  return [
    {
      ...{ quantity, use, unit: quantity === "verdict" ? "K" : unit, requirement: isAsked ? name : null },
      ...{ from: from.value, to: to.value, change, slope: over(change, by), ...judged },
    },
  ];
}

/** By a load that rises or falls: dividing by a fall turns the interval round. */
function over(change: ValueInterval, by: number): ValueInterval {
  return by > 0 ? mapInterval(change, (one) => one / by) : mapFalling(change, (one) => one / by);
}

function judgedAt(
  requirement: Followed,
  { value, drawn, isUpperBound }: Reading,
): Pick<LeverChange, "probability" | "answer"> {
  const limits = requirement.quantity === "verdict" ? { atLeast: 0 } : requirement;
  const met = Uint8Array.from(drawn ?? [value], (one) => (meets(limits, one) ? 1 : 0));
  const { probability, answer } = answerOf({ met, isUpperBound });
  return { probability, answer: answer === "unknown" ? null : answer };
}

/** Why no trade can be said. */
function unsaid({ name, requirement, value }: Failure, series: string | null): Trade {
  return {
    ...{ compound: name, requirement: requirement.name, series: null, load: null },
    ...{ reaches: null, between: null, changedLoad: null, changes: [] },
    sentence: nothingSaysIt(name, requirement, value, series),
  };
}
