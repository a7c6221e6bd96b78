import type { Assessment } from "../../../report/assessment.js";
import { printable } from "../../../report/terminal/terminal-summary.js";
import { type FailOn, failOnWords } from "./fail-on-words.js";

/** Those of the words that occur in an assessment, in the order of the table above. */
export function occurredOf({ results }: Assessment, failOn: FailOn[]): FailOn[] {
  const occurs: Record<FailOn, boolean> = {
    // Where glassy is among the words left open, or all are, the gate closes: it is there to stop what is not known to be safe.
    glassy: results.compounds.some(({ outlooks }) =>
      outlooks.some(({ cold }) => cold === null || cold.verdict.includes("glassy")),
    ),
    undetermined: results.compounds.some(({ outlooks }) => outlooks.some(({ cold }) => cold === null)),
    rejected: results.inputs.some(({ status }) => status === "rejected"),
    // A gate on requirements opens only where a compound surely meets all of them.
    requirement: !(
      results.decision?.compounds.some(
        ({ meets }) => meets.length > 0 && meets.every(({ answer }) => answer === "meets"),
      ) ?? false
    ),
  };
  return failOnWords.filter((what) => failOn.includes(what) && occurs[what]);
}

/** A gate on "glassy" stops on what has no verdict too; why must not go unsaid. Null where there is nothing to say. */
export function undeterminedWarning({ results }: Assessment, failOn: FailOn[]): string | null {
  if (!failOn.includes("glassy")) return null;
  const unknown = results.compounds.flatMap(({ name, outlooks }) => {
    const uses = outlooks.filter(({ cold }) => cold === null).map(({ use }) => use);
    return uses.length === 0 ? [] : [`${printable(name)} (${uses.map(printable).join(", ")})`];
  });
  if (unknown.length === 0) return null;
  const many = results.compounds.length;
  return `--fail-on glassy: ${unknown.length} of ${many} ${many === 1 ? "compound" : "compounds"} could not be judged in every use and may be glassy there: ${unknown.join("; ")}.`;
}
