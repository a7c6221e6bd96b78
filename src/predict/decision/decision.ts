import type { z } from "zod";
import type { decisionSchema } from "./decision-schema.js";
import type { Standing } from "./judge.js";

export type Decision = z.infer<typeof decisionSchema>;
export type DecidedCompound = Decision["compounds"][number];

/** One compound's standings, one a requirement, in their order. */
export interface StandingCompound {
  name: string;
  standings: Standing[];
  /** Whether its shift constants are assumed. */
  isAssumed: boolean;
  /** Why a verdict is missing in a use, by the name of the use. */
  verdictMissing: ReadonlyMap<string, string>;
  /** Why grip or rebound is, likewise. */
  predictionMissing: ReadonlyMap<string, string>;
}
