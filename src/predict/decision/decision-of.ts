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
      verdictMissing: new Map(
        compound.outlooks.flatMap(({ outlook }) =>
          outlook.verdictMissing === undefined ? [] : [[outlook.use, outlook.verdictMissing] as const],
        ),
      ),
    };
  });
  return decide(requirements, standing);
}
