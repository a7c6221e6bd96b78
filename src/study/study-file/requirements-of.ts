import {
  hasContact,
  isPredicted,
  measuredQuantities,
  predictedQuantities,
  type Requirement,
  requirementName,
} from "../../predict/decision/requirement.js";
import { isSameUse } from "../../predict/default-uses.js";
import type { Use } from "../../predict/use.js";
import type { StudyFile } from "../../report/results/study-file-schema.js";

type Stated = StudyFile["requirements"][number];

/**
 * What a study asks: its requirements, and its limits, which are their short form. One that names no use asks the same
 * of every use that has the contact its quantity needs.
 */
export function requirementsOf({ requirements, limits }: StudyFile, uses: Use[]): Requirement[] {
  const short: Stated[] = [];
  if (limits.frictionMinimum !== undefined) short.push({ quantity: "grip", atLeast: limits.frictionMinimum });
  if (limits.reboundMinimum !== undefined)
    short.push({ quantity: "rebound", atLeast: limits.reboundMinimum });
  return [...requirements, ...short].flatMap((stated) => inUses(stated, uses));
}

function inUses(stated: Stated, uses: Use[]): Requirement[] {
  const { quantity, use, atLeast, atMost, verdict } = stated;
  const name = stated.name ?? requirementName(stated);
  const bounds = {
    ...(atLeast !== undefined && { atLeast }),
    ...(atMost !== undefined && { atMost }),
    ...(verdict !== undefined && { verdict }),
  };
  if (!isPredicted(quantity)) {
    return [{ name, quantity, use: null, unit: measuredQuantities[quantity], ...bounds }];
  }
  const unit = predictedQuantities[quantity];
  if (use !== undefined) {
    const own = stated.name ?? `${name} (${use})`;
    const known = uses.find((one) => isSameUse(one.name, use))?.name ?? use;
    return [{ name: own, quantity, use: known, unit, ...bounds }];
  }
  return uses
    .filter((one) => hasContact(quantity, one))
    .map((one) => ({ name: `${name} (${one.name})`, quantity, use: one.name, unit, ...bounds }));
}
