import { doubtsOf } from "../../doubts.js";
import type { JudgedCompound } from "../../results/results.js";
import { shortCaution } from "../cautions-section.js";
import { compoundIds } from "../compound-ids.js";
import { type Html, html } from "../html.js";
import { folderNotices, noticeList } from "../notices.js";
import type { ReportContext } from "../report-context.js";
import { flagSentences } from "./flag-sentences.js";
import { limitLines } from "./own-limits.js";
import { contactWords, verdictLegend, verdictMatrix } from "./verdict-matrix.js";

function contactLine(context: ReportContext): Html {
  const seen = new Map<string, boolean>();
  for (const use of context.assessment.uses) seen.set(contactWords(use), use.assumed);
  if (seen.size === 0) return html``;
  const words = [...seen.keys()];
  const shown = words.slice(0, 3).join(" · ");
  const assumed = [...seen.values()].some(Boolean);
  return html`<p class="small contact-line">Contact: ${shown}${words.length > 3 && ` and ${words.length - 3} more`}.${assumed && " Assumed, because the study states none."} <a class="source" href="#settings">settings</a> <a class="source" href="#method-cold">method</a></p>`;
}

/** Sentences on the compounds that are glassy, may be, or are not determined, worst first; beyond a dozen they fold. */
export function flagList(compounds: JudgedCompound[], order: number[]): Html {
  const ids = compoundIds(compounds.map(({ name }) => name));
  const sentences = order.flatMap((index) => flagSentences(compounds[index], ids[index]));
  if (sentences.length === 0) return html``;
  const shown = sentences.slice(0, 12);
  return html`<h2>What to look at</h2><ul class="flags">${shown}</ul>${
    sentences.length > shown.length &&
    html`<details class="more"><summary>${sentences.length - shown.length} more to look at</summary><ul class="flags">${sentences.slice(shown.length)}</ul></details>`
  }`;
}

/** The first screen: the answer, the matrix, one sentence per flagged compound, and the caution beside them. */
export function summarySection(context: ReportContext, order: number[]): Html {
  const { results, compounds } = context.assessment;
  const rejected = results.inputs.filter((input) => input.status === "rejected").length;
  const rejectedLine =
    rejected === 0
      ? html``
      : html`<p class="small"><a href="#inputs">${rejected === 1 ? "1 file was rejected" : `${rejected} files were rejected`}</a>; the reason and the remedy stand with each.</p>`;
  return html`<section id="verdicts" class="first-screen">
${shortCaution()}
<div class="matrix-side"><h2>Verdict at each use temperature</h2><div id="matrix-tools" class="matrix-tools"></div>
<div id="matrix">${
    results.compounds.length > 0 &&
    verdictMatrix(
      results.compounds,
      order,
      compounds.map((c) => c.isReference),
    )
  }</div>
<p class="small">Worst first. The figure: K above (+) or below (−) the glassy border at the contact’s frequency; beside two words, the interval of the distance from the border that they straddle.</p>
${contactLine(context)}
${rejectedLine}
${noticeList(folderNotices(results), context)}</div>
<div class="answer-side">
<div id="flags">${flagList(results.compounds, order)}</div>
<div id="limits">${limitLines(results.compounds, context.limits)}</div>
${verdictLegend(
  context.borders,
  results.compounds.some((compound) =>
    compound.outlooks.some((outlook) => doubtsOf(compound, outlook).length > 0),
  ),
)}
</div></section>`;
}
