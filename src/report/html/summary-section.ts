import { shortCaution } from "./cautions.js";
import { contrastSentence } from "./contrast-sentence.js";
import { flagSentence } from "./flag-sentences.js";
import { type Html, html } from "./html.js";
import type { JudgedCompound } from "./judged-compound.js";
import { noticeList } from "./notices.js";
import { statedTemperature } from "./numbers.js";
import { limitLines } from "./own-limits.js";
import type { ReportContext, SourceContext } from "./report-context.js";
import { contactWords, useColumns, verdictLegend, verdictMatrix } from "./verdict-matrix.js";

function countWord(count: number, all: number): string {
  return count === all
    ? all === 1
      ? "the compound is"
      : `all ${all} compounds are`
    : `${count} of ${all} compounds ${count === 1 ? "is" : "are"}`;
}

/** The answer in one sentence: how many are glassy at the coldest use, and from where on none is. */
export function answerSentence(compounds: JudgedCompound[]): Html {
  const columns = useColumns(compounds);
  const judged = compounds.filter((compound) => compound.outlooks.some((outlook) => outlook.cold !== null));
  if (compounds.length === 0) return html`No compound could be read. The inputs below say why, file by file.`;
  if (judged.length === 0) {
    return html`No verdict on cold weather: the measurements do not reach the frequency of a contact. The glass transitions as measured, and what to run next, stand with each compound.`;
  }
  const glassyAt = (use: string, temperature_C: number) =>
    judged.filter((compound) =>
      compound.outlooks.some(
        (outlook) =>
          outlook.use === use &&
          outlook.temperature_C === temperature_C &&
          (outlook.cold?.verdict ?? "").startsWith("glassy"),
      ),
    ).length;
  const counted = columns.map((column) => ({
    ...column,
    glassy: glassyAt(column.use, column.temperature_C),
  }));
  const coldest = counted[0];
  if (counted.every((column) => column.glassy === 0)) {
    return html`None of the ${judged.length} compounds judged turns glassy at any use temperature down to ${statedTemperature(coldest.temperature_C)}.`;
  }
  const contrast = contrastSentence(compounds);
  const further = contrast === null ? html`` : html` ${contrast}`;
  const flagged = counted.filter((column) => column.glassy > 0);
  const warmest = flagged[flagged.length - 1];
  const first = countWord(coldest.glassy, judged.length);
  const sentence = html`At ${statedTemperature(coldest.temperature_C)} <b>${first} glassy</b>`;
  return warmest === coldest
    ? html`${sentence}; at the warmer use temperatures none is.${further}`
    : html`${sentence}; the first ${warmest.glassy === 1 ? "turns" : "turn"} glassy at ${statedTemperature(warmest.temperature_C)} already.${further}`;
}

function contactLine(context: ReportContext): Html {
  const seen = new Map<string, boolean>();
  for (const use of context.assessment.uses) seen.set(contactWords(use), use.assumed);
  if (seen.size === 0) return html``;
  const words = [...seen.keys()];
  const shown = words.slice(0, 3).join(" · ");
  const assumed = [...seen.values()].some(Boolean);
  return html`<p class="small contact-line">Contact: ${shown}${words.length > 3 && ` and ${words.length - 3} more`}.${assumed && " Assumed, because the study states none."} <a class="source" href="#settings">settings</a> <a class="source" href="#method-cold">method</a></p>`;
}

/** One sentence per flagged compound, worst first; beyond a dozen they fold. */
export function flagList(context: SourceContext, compounds: JudgedCompound[], order: number[]): Html {
  const sentences = order.flatMap(
    (index) => flagSentence(compounds[index], index, context.leatheryZone_K) ?? [],
  );
  if (sentences.length === 0) return html``;
  const shown = sentences.slice(0, 12);
  return html`<h2>What to look at</h2><ul class="flags">${shown}</ul>${
    sentences.length > shown.length &&
    html`<details class="more"><summary>${sentences.length - shown.length} more flagged compounds</summary><ul class="flags">${sentences.slice(shown.length)}</ul></details>`
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
<div class="matrix-side"><h2>Verdict at each use temperature</h2><div id="matrix-tools" class="matrix-tools"></div>
<div id="matrix">${
    results.compounds.length > 0 &&
    verdictMatrix(
      results.compounds,
      order,
      compounds.map((c) => c.isReference),
    )
  }</div>
<p class="small">Worst first. The figure is the distance in K above (+) or below (−) the border to glass at the contact’s frequency.</p>
${contactLine(context)}
${rejectedLine}
${noticeList(results.notices, context.inputNumber)}</div>
<div class="answer-side">
${shortCaution()}
<div id="flags">${flagList(context, results.compounds, order)}</div>
<div id="limits">${limitLines(results.compounds, context.limits)}</div>
${verdictLegend()}
</div></section>`;
}
