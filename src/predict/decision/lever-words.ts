import type { ValueInterval } from "../../numeric/statistics/value-interval.js";
import { fixed, percentText, significant } from "../../words/quantity-text.js";
import { faultWords, valueWords } from "./decision-words.js";
import type { LeverChange, Trade } from "./lever-schema.js";
import type { Requirement } from "./requirement.js";

export const leverRemark =
  "Common practice, not of this study: carbon black or silica raises the modulus up to two or three times, more than 30 % by volume gains no further strength, and finer particles reinforce more.";

export const leverCaution =
  "Straight lines between compounds of this study: what bends between them, and how mixes scatter, is in no interval. Mix the compound and test it. Slip, impact and cold safety need the product’s own tests, the limits that local codes ask for, and a qualified person.";

/** "61 phr": in three digits. */
export function loadWords(load: number, unit: string): string {
  return `${significant(load).replace(/\.0+$/, "")} ${unit}`;
}

/** What a change of filler would do to a failed requirement, and what else that changes. */
export function tradeSentence(
  trade: Omit<Trade, "sentence">,
  requirement: Requirement,
  value: number | null,
  loadUnit: string,
  range: readonly [string, string],
): string {
  const { compound, series, load, reaches, between, changedLoad, changes } = trade;
  const fault = `${compound} ${faultWords(requirement, value)}`;
  if (reaches === null || between === null) {
    const nearest = changes.find((change) => change.requirement === requirement.name);
    const best =
      nearest === undefined
        ? "none comes nearer than it does"
        : `the nearest, at ${loadWords(changedLoad!, loadUnit)}, has ${changeValue(nearest.to, nearest)}`;
    return `${fault}. ${loadUnit === "nm" ? "No particle size" : "No load"} of the series "${series}" reaches the limit, measured between ${range.join(" and ")}; ${best}. Nothing in this study says what lies outside them.`;
  }
  const ends =
    reaches.low === null && reaches.high === null
      ? "as stated, without an interval"
      : `${endWords(reaches.low)} to ${endWords(reaches.high)}`;
  const sought =
    reaches.low === null && reaches.high === null
      ? loadWords(reaches.value, loadUnit)
      : `${significant(reaches.value)} ${loadUnit}`;
  const isMore = changedLoad! > load!;
  const way =
    loadUnit === "nm"
      ? `${isMore ? "Coarser" : "Finer"} particles of the same load`
      : `${isMore ? "More" : "Less"} filler`;
  const head = `${fault}. ${way} would reach the limit: ${sought} (${ends}) in place of ${loadWords(load!, loadUnit)}, measured between ${between[0]} and ${between[1]}`;
  return `${head}. ${othersSentence(trade, requirement, loadUnit)}`;
}

const endWords = (end: number | null) => (end === null ? "beyond what was measured" : significant(end));

/** What the requirements are at the changed load. */
function othersSentence(
  { changes, changedLoad }: Omit<Trade, "sentence">,
  requirement: Requirement,
  unit: string,
): string {
  const own = changes.find((change) => change.requirement === requirement.name);
  const others = changes.filter((change) => change.requirement !== null && change !== own);
  const said = (["fails", "open"] as const).flatMap((word) => {
    const which = others.filter(({ answer }) => answer === word).map((one) => `"${one.requirement}"`);
    if (which.length === 0) return [];
    const then =
      word === "fails"
        ? which.length === 1
          ? "fails"
          : "fail"
        : which.length === 1
          ? "is open"
          : "are open";
    return [`${which.join(", ")} ${then}`];
  });
  const rest =
    others.length === 0
      ? "nothing else that is asked is known on both sides"
      : said.length === 0
        ? "what else is asked and known on both sides is met too"
        : said.join("; ");
  const probability = own?.probability ?? null;
  const met =
    probability === null
      ? ""
      : `it is met with a probability of ${probability > 0.99 ? "more than 0.99" : probability.toFixed(2)}, and `;
  const unsure =
    own !== undefined && own.answer !== "meets"
      ? ` No measured ${unit === "nm" ? "size" : "load"} makes it sure.`
      : "";
  return `At ${loadWords(changedLoad!, unit)} ${met}${rest}.${unsure}${costsSentence(changes.filter((change) => change !== own))}`;
}

/** What else changes, as far as it is told from no change. */
function costsSentence(changes: LeverChange[]): string {
  const told = changes.filter(({ change }) => isTold(change) && change.value !== 0);
  const words = told.map((one) => {
    const value = Number(one.change.value.toPrecision(2));
    return `${marginWords(one)} ${changeValue(value, one, true)}`;
  });
  return words.length === 0 ? "" : ` It also changes: ${words.join(", ")}.`;
}

/** Whether a change is told from none: its interval leaves zero out, or it is of values without scatter. */
export function isTold({ low, high }: ValueInterval): boolean {
  return low === null || high === null || low > 0 || high < 0;
}

const marginWords = (one: LeverChange) =>
  one.quantity === "verdict" ? `the margin of "${one.requirement}"` : one.quantity;

/** A value or a signed change in its unit; of a verdict kelvins. */
export function changeValue(
  value: number,
  { quantity, unit }: Pick<LeverChange, "quantity" | "unit">,
  isChange = quantity === "verdict",
): string {
  const sign = value < 0 ? "−" : isChange ? "+" : "";
  const size = Math.abs(value);
  // A difference of percentages is not a percentage of either.
  if (isChange && quantity === "rebound") return `${sign}${fixed(100 * size, 1)} percentage points`;
  if (isChange && unit === "%") return `${sign}${valueWords(size, { quantity, unit: "percentage points" })}`;
  if (quantity === "rebound") return `${sign}${percentText(size, 0)}`;
  return `${sign}${valueWords(size, { quantity, unit })}`;
}

/** For all compounds at once of which no series says anything; null where there are none. */
export function unsaidSentence(names: string[]): string | null {
  const all = [...new Set(names)];
  if (all.length === 0) return null;
  const list = all.length === 1 ? all[0] : `${all.slice(0, -1).join(", ")} and ${all.at(-1)}`;
  return `Nothing in this study says what filler would change for ${list}: no filler series was measured around ${all.length === 1 ? "it" : "them"}.`;
}

export function nothingSaysIt(
  compound: string,
  requirement: Requirement,
  value: number | null,
  series: string | null,
): string {
  const why =
    series === null
      ? "it is in no filler series"
      : `in the series "${series}" no other compound has a value of it`;
  return `${compound} ${faultWords(requirement, value)}. Nothing in this study says what filler would change: ${why}.`;
}
