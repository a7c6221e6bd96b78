import type { Outlook } from "../../../predict/outlook.js";
import { commonDoubts, type Doubt, doubtsOf, ownDoubts } from "../../doubts.js";
import type { JudgedCompound } from "../../results/results.js";
import { type Html, html } from "../html.js";

/** What weakens every verdict of a compound, in two or three words each, to stand wherever its predictions do. */
export function standingTags(compound: JudgedCompound): Html {
  return tags(commonDoubts(compound));
}

function tags(doubts: Doubt[]): Html {
  return html`${doubts.map(
    ({ code, words }) => html` <span class="tag warn" title="${code}">${words}</span>`,
  )}`;
}

/**
 * The mark beside a verdict that a notice casts doubt on. What holds for the whole compound is named by the tag
 * beside its name; what holds for this verdict alone is named here.
 */
export function doubtMark(compound: JudgedCompound, outlook: Outlook | undefined): Html {
  if (outlook === undefined) return html``;
  const all = doubtsOf(compound, outlook);
  if (all.length === 0) return html``;
  const own = ownDoubts(compound, outlook);
  const title = all.map(({ words, code }) => `${words} (${code})`).join("; ");
  return html`<span class="doubt" title="${title}">${own.length === 0 ? "in doubt" : `in doubt: ${own.map(({ words }) => words).join(", ")}`}</span>`;
}
