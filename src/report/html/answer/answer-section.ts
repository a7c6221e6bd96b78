import { cushioningCaution, frostCaution, reboundCaution, shortCaution } from "../cautions-section.js";
import { type Html, html } from "../html.js";
import { folderNotices, noticeList } from "../notices.js";
import type { ReportContext } from "../report-context.js";
import { type Answer, isFrost } from "./answer.js";
import { answerCard, anyDoubt } from "./answer-card.js";
import { answerSentence } from "./answer-sentence.js";
import { settingWords, verdictLegend } from "./verdict-matrix.js";

/** The cautions that belong to the numbers on the card. */
export function cardCautions(answer: Answer): Html {
  const has = (what: "grip" | "rebound" | "cushioning") =>
    answer.outlooks.some((outlook) => outlook !== undefined && outlook[what] !== null);
  return html`${has("grip") && isFrost(answer) && frostCaution()}${has("rebound") && reboundCaution()}${has("cushioning") && cushioningCaution()}`;
}

/** The first screen: one sentence, the use that is set, and one row a compound, the ones to choose first. */
export function answerSection(context: ReportContext, answer: Answer): Html {
  const { results } = context.assessment;
  const rejected = results.inputs.filter((input) => input.status === "rejected").length;
  return html`<section id="answer" class="first-screen"><h2 class="visually-hidden">The answer</h2>
<p class="answer" id="answer-sentence" aria-live="polite">${answerSentence(answer)}</p>
${shortCaution()}
<form class="controls" id="controls" hidden></form>
<div class="card-head"><p class="setting-line">At <span class="setting-words">${settingWords(answer)}</span>${answer.use?.assumed && html` <span class="tag">assumed: the study states no use</span>`} <a class="source" href="#settings">settings</a> <a class="source" href="#method-cold">method</a></p>
<div id="card-tools" class="matrix-tools"></div></div>
<p class="changed" id="changed" role="status" hidden></p>
<p class="changed" id="refused" role="alert" hidden></p>
<div id="card">${answer.compounds.length > 0 && answerCard(answer)}</div>
${verdictLegend(context.borders, anyDoubt(answer))}
<div id="card-cautions" class="beside">${cardCautions(answer)}</div>
${
  rejected > 0 &&
  html`<p class="small"><a href="#inputs">${rejected === 1 ? "1 file was rejected" : `${rejected} files were rejected`}</a>; the reason and the remedy stand with each.</p>`
}
${noticeList(folderNotices(results), context)}</section>`;
}
