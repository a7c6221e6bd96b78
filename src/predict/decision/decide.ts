import type { DecidedCompound, Decision, StandingCompound } from "./decision.js";
import { choiceSentence } from "./decision-words.js";
import type { Standing } from "./judge.js";
import { nextTest } from "./next-test.js";
import type { Requirement } from "./requirement.js";

/** Above the one a requirement counts as met, below the other as failed. */
export const surely = 0.95;
const hardly = 0.05;

/** Probabilities nearer than this are a tie. */
const tie = 0.01;

/**
 * Which compound meets what a study asks: for each requirement the probability and a word, the probability of all
 * together draw by draw, the frontier, the choice and the test that would settle most. No score adds up unlike things.
 *
 * @param requirements one or more
 */
export function decide(requirements: Requirement[], compounds: StandingCompound[]): Decision {
  const values = compounds.map(({ standings }) =>
    standings.map(({ value }, k) => (value === null ? null : better(requirements[k]) * value)),
  );
  const decided: DecidedCompound[] = compounds.map(({ name, standings }, i) => ({
    name,
    meets: standings.map((standing, k) => ({
      requirement: requirements[k].name,
      value: standing.value,
      ...answerOf(standing),
      asStated: standing.asStated,
    })),
    meetsAllProbability: probabilityOfAll(standings),
    onFrontier: isOnFrontier(values, i),
  }));
  const names = bestNames(decided);
  return {
    requirements,
    compounds: decided,
    choice: { names, sentence: choiceSentence(requirements, decided, names, boundedAmong(compounds, names)) },
    nextTest: nextTest(requirements, compounds, decided),
  };
}

/** The probability of a requirement and the word for it: an upper bound leaves open what it may meet. */
export function answerOf({
  met,
  isUpperBound,
}: Pick<Standing, "met"> & { isUpperBound?: boolean }): Pick<
  DecidedCompound["meets"][number],
  "probability" | "answer"
> {
  if (met === null) return { probability: null, answer: "unknown" };
  const probability = share(met);
  if (probability > surely) return { probability, answer: isUpperBound ? "open" : "meets" };
  return { probability, answer: probability < hardly ? "fails" : "open" };
}

function share(met: Uint8Array): number {
  return met.reduce((sum, one) => sum + one, 0) / met.length;
}

/** Share of the draws that meet all; null where something is unknown, unless no draw meets what is known. */
function probabilityOfAll(standings: Standing[]): number | null {
  const known = standings.flatMap(({ met }) => (met === null ? [] : [met]));
  if (known.length === 0) return null;
  const all = share(Uint8Array.from(known[0], (_, i) => (known.every((met) => met[i] === 1) ? 1 : 0)));
  return known.length === standings.length || all === 0 ? all : null;
}

/** Whether one of these would meet what is asked by an upper bound of its rebound only. */
function boundedAmong(compounds: StandingCompound[], names: string[]): boolean {
  return compounds.some(
    ({ name, standings }) => names.includes(name) && standings.some(({ isUpperBound }) => isUpperBound),
  );
}

/** +1 where more is better, −1 where less is. */
function better({ atMost, atLeast }: Requirement): number {
  return atMost !== undefined && atLeast === undefined ? -1 : 1;
}

/** Beaten by none: no other is as good in all and better in one. What is not known in all cannot be placed. */
function isOnFrontier(values: (number | null)[][], i: number): boolean {
  const own = values[i];
  if (own.some((value) => value === null)) return false;
  return !values.some(
    (other, j) =>
      j !== i &&
      other.every((value, k) => value !== null && value >= own[k]!) &&
      other.some((value, k) => value! > own[k]!),
  );
}

/** Those that most probably meet all, ties together; none where no compound can. */
function bestNames(compounds: DecidedCompound[]): string[] {
  const best = Math.max(...compounds.map(({ meetsAllProbability }) => meetsAllProbability ?? 0));
  if (!(best >= hardly)) return [];
  return compounds
    .filter(({ meetsAllProbability }) => (meetsAllProbability ?? 0) >= best - tie)
    .map(({ name }) => name);
}
