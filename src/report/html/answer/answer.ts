import type { DecidedCompound, Decision } from "../../../predict/decision/decision.js";
import type { CompoundProperty } from "../../../predict/decision/decision-schema.js";
import type { Outlook } from "../../../predict/outlook.js";
import type { Use } from "../../../predict/use.js";
import { doubtsOf } from "../../doubts.js";
import type { JudgedCompound, Results } from "../../results/results.js";
import { composedOutlook, frost_C, startingUse } from "./composed-use.js";
import { glassyMargin } from "./margin.js";
import { severity } from "./verdict.js";

/** A compound with its outlooks in the uses of the study, and what was measured of it. */
export interface AnsweredCompound extends JudgedCompound {
  isReference: boolean;
  properties: CompoundProperty[];
}

/** What the first screen is written from, on the command line and in the page: one state. */
export interface Answer {
  /** As set; null where nothing is predicted in any use. */
  use: Use | null;
  compounds: AnsweredCompound[];
  /** Of each compound in that use. */
  outlooks: (Outlook | undefined)[];
  decision: Decision | null;
  /** Whether the limits are not the study's own any more. */
  areLimitsMoved: boolean;
}

/** The answer as the report opens: in the use it starts with, by the study's own limits. */
export function answerOfStudy(results: Pick<Results, "compounds" | "decision">, uses: Use[]): Answer {
  const start = startingUse(results, uses);
  return {
    use: start?.use ?? null,
    compounds: results.compounds,
    outlooks: results.compounds.map((compound) =>
      start === null ? undefined : composedOutlook(compound, start),
    ),
    decision: results.decision,
    areLimitsMoved: false,
  };
}

/** Whether the answer is about a temperature at which grip must not rank compounds. */
export function isFrost({ use }: Pick<Answer, "use">): boolean {
  return use !== null && use.temperature_C < frost_C;
}

function countOf(compound: DecidedCompound, answer: DecidedCompound["meets"][number]["answer"]) {
  return compound.meets.filter((one) => one.answer === answer).length;
}

/**
 * Indices of the compounds, the ones to choose first: those that fail least of what is asked, and meet all most
 * probably; then the better state; then more grip, or in frost, where grip must not rank, the wider margin.
 */
export function bestFirst(answer: Answer): number[] {
  const { compounds, outlooks, decision } = answer;
  const rank = (index: number): number[] => {
    const decided = decision?.compounds[index];
    const outlook = outlooks[index];
    const cold = outlook?.cold ?? null;
    const asked =
      decided === undefined
        ? []
        : [
            countOf(decided, "fails"),
            -(decided.meetsAllProbability ?? 0),
            countOf(decided, "open") + countOf(decided, "unknown"),
          ];
    const last = isFrost(answer) ? cold && glassyMargin(cold)?.value : outlook?.grip?.frictionCoefficient;
    return [
      ...asked,
      -severity(cold?.verdict ?? null),
      outlook !== undefined && doubtsOf(compounds[index], outlook).length > 0 ? 1 : 0,
      -(last ?? Number.NEGATIVE_INFINITY),
    ];
  };
  const ranks = compounds.map((_, index) => rank(index));
  return compounds
    .map((_, index) => index)
    .sort((a, b) => {
      const k = ranks[a].findIndex((value, i) => value !== ranks[b][i]);
      if (k >= 0) return ranks[a][k] < ranks[b][k] ? -1 : 1;
      return compounds[a].name < compounds[b].name ? -1 : 1;
    });
}

/** What casts doubt on a compound in the use that is set, two or three words each. */
export function doubtWords({ compounds, outlooks }: Answer, index: number): string[] {
  const outlook = outlooks[index];
  return outlook === undefined ? [] : doubtsOf(compounds[index], outlook).map(({ words }) => words);
}

/** What casts doubt on a compound's answers to what is asked: its own doubts in the uses that are asked about. */
export function doubtsOfChoice({ compounds, decision }: Answer, index: number): string[] {
  if (decision === null) return [];
  const compound = compounds[index];
  const words = decision.requirements.flatMap(({ use }) => {
    const outlook = compound.outlooks.find((one) => one.use === use);
    return outlook === undefined ? [] : doubtsOf(compound, outlook).map((doubt) => doubt.words);
  });
  return [...new Set(words)];
}
