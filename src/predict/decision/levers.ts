import { mapFalling, mapInterval, type ValueInterval } from "../../numeric/value-interval.js";
import { answerOf, surely } from "./decide.js";
import type { Decision } from "./decision.js";
import { type Candidate, meets, standingOf } from "./judge.js";
import type { LeverChange, Levers, Trade } from "./lever-schema.js";
import { leverCaution, leverRemark, nothingSaysIt, tradeSentence } from "./lever-words.js";
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

interface Loaded {
  name: string;
  loadUnit: "phr" | "% by volume";
  members: (LoadMember & { particleSize_nm: number | null })[];
}

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
  const loaded = series.map((one) => withLoads(one, candidates));
  const quantities = loaded.map(({ members }) =>
    followedQuantities(
      requirements,
      candidates.filter(({ name }) => members.some(({ compound }) => compound === name)),
    ),
  );
  const filled = loaded.map(
    (one, s): Loaded => ({
      ...one,
      members: one.members.map((member) => ({
        ...member,
        readings: readingsOf(candidates.find(({ name }) => name === member.compound)!, quantities[s]),
      })),
    }),
  );
  return {
    series: filled.map(({ name, loadUnit, members }, s) => ({
      name,
      loadUnit,
      members: members.map(({ compound, load }) => ({ compound, load })),
      steps: stepsOf(members, quantities[s]),
    })),
    trades: compounds.flatMap(({ name, meets: judged }) =>
      judged.flatMap(({ answer, value }, k) => {
        if (answer !== "fails") return [];
        const failure = { name, k, requirement: requirements[k], value };
        const own = filled.filter(({ members }) => members.some(({ compound }) => compound === name));
        const found = own.flatMap((one) => tradeOf(one, quantities[filled.indexOf(one)], failure) ?? []);
        const best = found.find(({ reaches }) => reaches !== null) ?? found[0];
        return [best ?? unsaid(failure, own[0]?.name ?? null)];
      }),
    ),
    remark: leverRemark,
    caution: leverCaution,
  };
}

/** Loads in phr where every member states it, else in per cent by volume; members without a load or data are left out. */
function withLoads({ name, members }: StatedSeries, candidates: Candidate[]): Loaded {
  const known = members.filter(
    ({ compound, phr, volumeFraction }) =>
      (phr !== null || volumeFraction !== null) && candidates.some((one) => one.name === compound),
  );
  const inPhr = known.every(({ phr }) => phr !== null);
  const loads = known.flatMap(({ compound, phr, volumeFraction, particleSize_nm }) => {
    const load = inPhr ? phr : volumeFraction === null ? null : 100 * volumeFraction;
    return load === null ? [] : [{ compound, load, particleSize_nm, readings: [] }];
  });
  loads.sort((a, b) => a.load - b.load);
  return { name, loadUnit: inPhr ? "phr" : "% by volume", members: loads };
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
    const { value, drawn } = standingOf(followed, candidate);
    // A verdict without a border has no distance from it that could be followed.
    if (value === null || (followed.quantity === "verdict" && drawn === undefined)) return null;
    return { value, drawn: drawn ?? null };
  });
}

/** Those that differ from one compound in their load only: particles of its size, and the gum; of one load the first. */
function sameFiller(members: Loaded["members"], compound: string): Loaded["members"] {
  const own = members.find((one) => one.compound === compound)!;
  const size =
    own.load > 0 ? own.particleSize_nm : (members.find(({ load }) => load > 0) ?? own).particleSize_nm;
  const alike = members.filter((one) => one.load === 0 || one.particleSize_nm === size);
  return alike.filter(
    (one) => one === own || (one.load !== own.load && alike.find(({ load }) => load === one.load) === one),
  );
}

function stepsOf(members: Loaded["members"], quantities: Followed[]): Levers["series"][number]["steps"] {
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

function tradeOf(
  series: Loaded,
  quantities: Followed[],
  { name, k, requirement, value }: Failure,
): Trade | null {
  const members = sameFiller(series.members, name);
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
    ...{ compound: name, requirement: requirement.name, series: series.name, load: own.load },
    reaches: reached?.load ?? null,
    between: reached?.between ?? null,
    changedLoad,
    changes:
      by === 0
        ? []
        : quantities.flatMap((followed, q) =>
            changeOf(followed, own.readings[q], readingAt(members, q, changedLoad), by),
          ),
  };
  const range = [measured[0].compound, measured[measured.length - 1].compound] as const;
  return { ...trade, sentence: tradeSentence(trade, requirement, value, series.loadUnit, range) };
}

/** How far a value is past the limit that its compound missed. */
function gapOf({ quantity, atLeast, atMost }: Followed, missed: number): (value: number) => number {
  const least = quantity === "verdict" ? 0 : atLeast;
  return least !== undefined && (atMost === undefined || missed < least)
    ? (value) => value - least
    : (value) => atMost! - value;
}

function changeOf(followed: Followed, from: Reading | null, to: Reading | null, by: number): LeverChange[] {
  if (from === null || to === null) return [];
  const { quantity, use, unit, name, isAsked } = followed;
  const change = changeBetween(from, to);
  const judged = isAsked ? judgedAt(followed, to) : { probability: null, answer: null };
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
  { value, drawn }: Reading,
): Pick<LeverChange, "probability" | "answer"> {
  const limits = requirement.quantity === "verdict" ? { atLeast: 0 } : requirement;
  const met = Uint8Array.from(drawn ?? [value], (one) => (meets(limits, one) ? 1 : 0));
  const { probability, answer } = answerOf({ met });
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
