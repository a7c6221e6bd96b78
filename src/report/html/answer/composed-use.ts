import type { Outlook } from "../../../predict/outlook.js";
import type { Use } from "../../../predict/use.js";
import type { JudgedCompound, Results } from "../../results/results.js";
import { severity } from "./verdict.js";

/** Below this ice and snow usually govern grip (common practice), and hysteresis friction must not rank compounds. */
export const frost_C = 0;

/** A sliding and an impact contact at one temperature: one use of the study that has both, or two of them. */
export interface ComposedUse {
  use: Use;
  /** Names of the study's uses it is made of. */
  from: string[];
}

/** Each temperature of the study once, coldest first, with a sliding and an impact contact where there are any. */
export function composedUses(uses: Use[]): ComposedUse[] {
  const temperatures = [...new Set(uses.map((use) => use.temperature_C))].sort((a, b) => a - b);
  return temperatures.map((temperature_C) => {
    const there = uses.filter((use) => use.temperature_C === temperature_C);
    const whole = there.find((use) => use.sliding !== null && use.impact !== null);
    if (whole !== undefined) return { use: whole, from: [whole.name] };
    const sliding = there.find((use) => use.sliding !== null);
    const impact = there.find((use) => use.impact !== null);
    const first = sliding ?? impact ?? there[0];
    return {
      use: { ...first, sliding: sliding?.sliding ?? null, impact: impact?.impact ?? null },
      from: [...new Set([first, impact ?? first].map((use) => use.name))],
    };
  });
}

/** What results.json says of a compound in a composed use: grip of the one, rebound of the other, the worse verdict. */
export function composedOutlook(compound: JudgedCompound, composed: ComposedUse): Outlook | undefined {
  const parts = compound.outlooks.filter(
    (outlook) => outlook.temperature_C === composed.use.temperature_C && composed.from.includes(outlook.use),
  );
  if (parts.length < 2) return parts[0];
  const judged = parts.filter((outlook) => outlook.cold !== null);
  const worst = judged.sort((a, b) => severity(a.cold!.verdict) - severity(b.cold!.verdict))[0];
  return {
    use: composed.from.join(", "),
    temperature_C: composed.use.temperature_C,
    rebound: parts.find((outlook) => outlook.rebound !== null)?.rebound ?? null,
    grip: parts.find((outlook) => outlook.grip !== null)?.grip ?? null,
    cushioning: parts.find((outlook) => outlook.cushioning !== null)?.cushioning ?? null,
    cold: worst?.cold ?? null,
    flags: [...new Set(parts.flatMap(({ flags }) => flags))],
    nearestMeasurement:
      parts.find((outlook) => outlook.nearestMeasurement !== null)?.nearestMeasurement ?? null,
  };
}

/**
 * The use the page opens with. Where the study asks something of a use, the coldest such use in which compounds answer
 * differently; else the coldest at 0 °C or above, for below it ice and snow govern grip and its numbers must not rank;
 * else, where all uses are colder, the coldest in which some compound is still rubbery and not all are. Where nothing is
 * predicted in any use, the warmest if a temperature set on the page could answer; else null.
 */
export function startingUse(
  { compounds, decision }: Pick<Results, "compounds" | "decision">,
  uses: Use[],
): ComposedUse | null {
  const all = composedUses(uses);
  const predictsElsewhere = compounds.some(({ outlooks }) =>
    outlooks.some(({ predictsOnlyAt_C }) => predictsOnlyAt_C !== undefined),
  );
  const known = all.filter((composed) =>
    compounds.some((compound) => {
      const outlook = composedOutlook(compound, composed);
      return outlook && (outlook.cold ?? outlook.grip ?? outlook.rebound ?? outlook.cushioning) !== null;
    }),
  );
  const verdicts = (composed: ComposedUse) =>
    compounds.map((compound) => composedOutlook(compound, composed)?.cold?.verdict ?? null);
  const asked = ({ use, from }: ComposedUse) =>
    (decision?.requirements ?? []).flatMap((requirement, k) => {
      const mayRank = use.temperature_C >= frost_C || !requirement.quantity.startsWith("grip");
      return requirement.use !== null && from.includes(requirement.use) && mayRank ? [k] : [];
    });
  const isDecided = (composed: ComposedUse) =>
    asked(composed).some((k) => new Set(decision!.compounds.map(({ meets }) => meets[k].answer)).size > 1);
  const separates = (composed: ComposedUse) =>
    verdicts(composed).includes("rubbery") && new Set(verdicts(composed)).size > 1;
  return (
    known.find(isDecided) ??
    known.find((composed) => asked(composed).length > 0) ??
    known.find(({ use }) => use.temperature_C >= frost_C) ??
    known.find(separates) ??
    known.at(-1) ??
    (predictsElsewhere ? all.at(-1) : null) ??
    null
  );
}
