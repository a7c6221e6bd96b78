import type { Outlook } from "../../predict/outlook.js";
import { type Html, html, nameHtml } from "./html.js";
import type { JudgedCompound } from "./judged-compound.js";
import { fixed } from "./numbers.js";

/** The limits a study states for itself; without them nothing is called a pass or a fail. */
export interface OwnLimits {
  reboundMinimum: number | null;
  frictionMinimum: number | null;
}

export type LimitWord = "meets" | "may miss" | "misses";

export function ownLimits(settings: Record<string, unknown>): OwnLimits {
  const limits = (settings.limits ?? {}) as Record<string, unknown>;
  const number = (value: unknown) => (typeof value === "number" ? value : null);
  return { reboundMinimum: number(limits.reboundMinimum), frictionMinimum: number(limits.frictionMinimum) };
}

/** How an interval stands to a least value: all of it above, all below, or the limit inside. */
export function againstMinimum(low: number, high: number, minimum: number): LimitWord {
  if (low >= minimum) return "meets";
  return high < minimum ? "misses" : "may miss";
}

/** The word beside a number, or nothing where the study states no limit. */
export function limitNote(low: number, high: number, minimum: number | null, shown: string): Html {
  if (minimum === null) return html``;
  const word = againstMinimum(low, high, minimum);
  return html`<span class="limit ${word.replace(" ", "-")}">${word} ${shown}</span>`;
}

function worstOf(outlooks: Outlook[], limits: OwnLimits, what: "rebound" | "grip"): LimitWord | null {
  const words = outlooks.flatMap(({ rebound, grip }): LimitWord[] => {
    if (what === "rebound")
      return rebound && limits.reboundMinimum !== null
        ? [againstMinimum(rebound.low, rebound.high, limits.reboundMinimum)]
        : [];
    return grip && limits.frictionMinimum !== null
      ? [againstMinimum(grip.low, grip.high, limits.frictionMinimum)]
      : [];
  });
  return (["misses", "may miss", "meets"] as const).find((word) => words.includes(word)) ?? null;
}

/** One line for each limit of the study: which compounds miss it in some use. */
export function limitLines(compounds: JudgedCompound[], limits: OwnLimits): Html {
  const line = (what: "rebound" | "grip", label: string) => {
    const judged = compounds.map((compound, index) => ({
      compound,
      index,
      word: worstOf(compound.outlooks, limits, what),
    }));
    const known = judged.filter(({ word }) => word !== null);
    if (known.length === 0) return html``;
    const missing = judged.filter(({ word }) => word === "misses");
    const perhaps = judged.filter(({ word }) => word === "may miss").length;
    const names = missing
      .slice(0, 6)
      .map(
        ({ compound, index }, k) =>
          html`${k > 0 && ", "}<a href="#compound-${index + 1}">${nameHtml(compound.name)}</a>`,
      );
    return html`<p class="small"><b>Your limit, ${label}:</b> ${
      missing.length === 0
        ? "missed in no use"
        : html`missed in some use by ${missing.length} of ${known.length} compounds (${names}${missing.length > 6 && ` and ${missing.length - 6} more`})`
    }${perhaps > 0 && `; ${perhaps} more may miss it`}.</p>`;
  };
  return html`${limits.reboundMinimum !== null && line("rebound", `rebound of at least ${fixed(100 * limits.reboundMinimum, 0)} %`)}${
    limits.frictionMinimum !== null && line("grip", `grip µ of at least ${fixed(limits.frictionMinimum, 2)}`)
  }`;
}
