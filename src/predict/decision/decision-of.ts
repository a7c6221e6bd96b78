import { decide } from "./decide.js";
import type { Decision, StandingCompound } from "./decision.js";
import { type Candidate, standingOf } from "./judge.js";
import type { Requirement } from "./requirement.js";

/** A compound to choose among. */
export interface Choosable extends Omit<Candidate, "reference"> {
  isReference: boolean;
  /** Whether its shift constants are assumed. */
  isAssumed: boolean;
}

/** Which compound meets what is asked, judged draw by draw; null where nothing is asked. */
export function decisionOf(requirements: Requirement[], compounds: Choosable[]): Decision | null {
  if (requirements.length === 0) return null;
  const reference = compounds.find(({ isReference }) => isReference)?.outlooks ?? null;
  const standing = compounds.map((compound): StandingCompound => {
    const candidate = { ...compound, reference };
    return {
      name: compound.name,
      standings: requirements.map((requirement) => standingOf(requirement, candidate)),
      isAssumed: compound.isAssumed,
      verdictMissing: missingIn(compound, "verdictMissing"),
      predictionMissing: missingIn(compound, "predictionMissing"),
    };
  });
  return decide(requirements, standing);
}

function missingIn(
  { outlooks }: Choosable,
  what: "verdictMissing" | "predictionMissing",
): ReadonlyMap<string, string> {
  return new Map(
    outlooks.flatMap(({ outlook }) => {
      const reason = outlook[what];
      return reason === undefined ? [] : [[outlook.use, reason] as const];
    }),
  );
}
