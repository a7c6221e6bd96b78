import {
  hasContact,
  measuredQuantities,
  predictedQuantities,
  type Requirement,
  requirementName,
} from "../../../predict/decision/requirement.js";
import type { PageData } from "../../page-data.js";

/** A quantity that can be asked of the compounds of this report. */
export interface Askable {
  quantity: string;
  unit: string;
  /** The uses of the study in which it is predicted; null where it is of the compound, as measured. */
  uses: string[] | null;
}

/** All that can be asked: what is predicted in a use of the study, and what was measured of some compound. */
export function askables({ uses, compounds }: PageData): Askable[] {
  const hasReference = compounds.some(({ isReference }) => isReference);
  const predicted = Object.entries(predictedQuantities).flatMap(([quantity, unit]) => {
    const own = uses.filter((use) => hasContact(quantity, use)).map(({ name }) => name);
    const isKnown = own.length > 0 && (hasReference || quantity !== "grip relative to reference");
    return isKnown ? [{ quantity, unit, uses: own }] : [];
  });
  const measured = Object.entries(measuredQuantities).flatMap(([quantity, unit]) => {
    const isKnown =
      quantity === "softening temperature"
        ? compounds.some(({ softening }) => softening !== null)
        : compounds.some(({ properties }) =>
            properties.some((one) => one.quantity === quantity && one.unit === unit),
          );
    return isKnown ? [{ quantity, unit, uses: null }] : [];
  });
  return [...predicted, ...measured];
}

/** The requirement as a study file states it, under the name that it gives where none is stated. */
export function requirementFor(
  { quantity, unit }: Askable,
  use: string | null,
  limits: Pick<Requirement, "atLeast" | "atMost" | "verdict">,
): Requirement {
  const made = requirementName({ quantity, ...limits });
  return { name: use === null ? made : `${made} (${use})`, quantity, use, unit, ...limits };
}
