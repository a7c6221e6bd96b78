import type { ColdOutlook, GripOutlook, Outlook, ReboundOutlook } from "../../../predict/outlook.js";
import type { JudgedCompound } from "../../results/results.js";
import type { StudySettings } from "../../results/study-file-schema.js";
import { frostCaution } from "../cautions-section.js";
import { compoundIds } from "../compound-ids.js";
import { type Html, html, joinHtml, nameHtml } from "../html.js";
import { fixed } from "../numbers.js";

/** The limits a study states for itself; without them nothing is called a pass or a fail. */
export interface OwnLimits {
  reboundMinimum: number | null;
  frictionMinimum: number | null;
}

export type LimitWord = "meets" | "may miss" | "misses";

/** The least and the greatest value that a number may have; null where an end is not known. */
interface Bounds {
  low: number | null;
  high: number | null;
}

/** The least rebound (fraction) and friction that a study asks for; null where it asks for none. */
export function ownLimits({ limits = {} }: StudySettings): OwnLimits {
  return { reboundMinimum: limits.reboundMinimum ?? null, frictionMinimum: limits.frictionMinimum ?? null };
}

/** How an interval stands to a least value: all of it above, all below, or the limit inside. */
export function againstMinimum({ low, high }: Bounds, minimum: number): LimitWord {
  if (low !== null && low >= minimum) return "meets";
  return high !== null && high < minimum ? "misses" : "may miss";
}

/**
 * The friction coefficient's interval with the values at half and twice the cut-off, which is a free choice of the model
 * and moves the number more than the data's own scatter does.
 */
export function gripBounds({ low, high, cutOffSensitivity: { halved, doubled } }: GripOutlook): Bounds {
  return {
    low: low === null ? null : Math.min(low, halved, doubled),
    high: high === null ? null : Math.max(high, halved, doubled),
  };
}

/** A limit against a number and the state in which it would be met. */
export interface LimitJudgement {
  word: LimitWord;
  /** What takes the plain "meets" back: the state is not surely rubbery; null where it is, or where it does not meet. */
  but: string | null;
}

function judged(bounds: Bounds, minimum: number, cold: ColdOutlook | null): LimitJudgement {
  const word = againstMinimum(bounds, minimum);
  if (word !== "meets" || cold?.verdict === "rubbery") return { word, but: null };
  if (cold === null) return { word, but: "its state there is not determined" };
  return {
    word,
    but: cold.verdict === "leathery or rubbery" ? "may be leathery there" : `is ${cold.verdict} there`,
  };
}

/** Grip against the study’s least friction coefficient; null where it states none. */
export function gripJudgement(
  grip: GripOutlook,
  minimum: number | null,
  cold: ColdOutlook | null,
): LimitJudgement | null {
  return minimum === null ? null : judged(gripBounds(grip), minimum, cold);
}

/** Rebound (fraction) against the study’s least one; null where it states none. */
export function reboundJudgement(
  rebound: ReboundOutlook,
  minimum: number | null,
  cold: ColdOutlook | null,
): LimitJudgement | null {
  if (minimum === null) return null;
  const judgement = judged(rebound, minimum, cold);
  // Small strain alone says an upper bound in tendency: no limit counts as met by it.
  return judgement.word === "meets" && judgement.but === null && rebound.strainBasis === "small strain"
    ? { word: "meets", but: "from data at small strain only" }
    : judgement;
}

/** The word beside a number, or nothing where the study states no limit. */
export function limitNote(judgement: LimitJudgement | null, limit: string): Html {
  if (judgement === null) return html``;
  const { word, but } = judgement;
  return html`<span class="limit ${but === null ? word.replace(" ", "-") : "but"}">${word} your ${limit}${but !== null && `, but ${but}`}</span>`;
}

type Standing = "misses" | "may miss" | "but" | "meets";
const worstStandings: Standing[] = ["misses", "may miss", "but", "meets"];

function worstOf(outlooks: Outlook[], limits: OwnLimits, what: "rebound" | "grip"): Standing | null {
  const standings = outlooks.flatMap(({ rebound, grip, cold }): Standing[] => {
    const judgement =
      what === "rebound"
        ? rebound && reboundJudgement(rebound, limits.reboundMinimum, cold)
        : grip && gripJudgement(grip, limits.frictionMinimum, cold);
    if (judgement === null) return [];
    return [judgement.but === null ? judgement.word : "but"];
  });
  return worstStandings.find((standing) => standings.includes(standing)) ?? null;
}

/** One line for each limit of the study: which compounds miss it in some use, and which only seem to meet it. */
export function limitLines(compounds: JudgedCompound[], limits: OwnLimits): Html {
  const ids = compoundIds(compounds.map(({ name }) => name));
  const line = (what: "rebound" | "grip", label: string, how: string) => {
    const all = compounds.map((compound, index) => ({
      compound,
      index,
      standing: worstOf(compound.outlooks, limits, what),
    }));
    const known = all.filter(({ standing }) => standing !== null);
    if (known.length === 0) return html``;
    const group = (standing: Standing) => all.filter((one) => one.standing === standing);
    const names = (members: typeof all) =>
      html`${joinHtml(
        members
          .slice(0, 6)
          .map(
            ({ compound, index }) =>
              html`<a href="#${encodeURIComponent(ids[index])}">${nameHtml(compound.name)}</a>`,
          ),
        ", ",
      )}${members.length > 6 && ` and ${members.length - 6} more`}`;
    const missing = group("misses");
    const perhaps = group("may miss");
    const apparent = group("but");
    const unknown = all.length - known.length;
    return html`<p class="small"><b>Your limit, ${label}:</b> ${
      missing.length === 0
        ? "surely missed in no use"
        : html`missed in some use by ${missing.length} of ${known.length} compounds (${names(missing)})`
    }${perhaps.length > 0 && html`; ${perhaps.length}${missing.length > 0 && " more"} may miss it (${names(perhaps)})`}${
      apparent.length > 0 &&
      html`; ${apparent.length} ${apparent.length === 1 ? "meets" : "meet"} it, but not as rubber in every use (${names(apparent)})`
    }${unknown > 0 && html`; of ${unknown} it is not known`}. ${how}</p>`;
  };
  const frost =
    limits.frictionMinimum !== null &&
    compounds.some(({ outlooks }) => outlooks.some(({ grip, temperature_C }) => grip && temperature_C < 0));
  return html`${
    limits.reboundMinimum !== null &&
    line(
      "rebound",
      `rebound of at least ${fixed(100 * limits.reboundMinimum, 0)} %`,
      "Judged by the whole interval.",
    )
  }${
    limits.frictionMinimum !== null &&
    line(
      "grip",
      `grip µ of at least ${fixed(limits.frictionMinimum, 2)}`,
      "Judged by the whole interval and by the values with the cut-off halved and doubled.",
    )
  }${frost && frostCaution()}`;
}
