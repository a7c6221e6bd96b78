import type { Assessment } from "./assessment.js";
import { answerOfStudy } from "./html/answer/answer.js";
import { answerSection } from "./html/answer/answer-section.js";
import { decisionSection } from "./html/answer/decision-section.js";
import { leversSection } from "./html/answer/levers-section.js";
import { worstFirst } from "./html/answer/ranking.js";
import { sideBySideSection } from "./html/answer/side-by-side-section.js";
import { tradeOffSection } from "./html/answer/trade-off-section.js";
import { verdictSymbols } from "./html/answer/verdict.js";
import { matrixSection } from "./html/answer/verdict-matrix.js";
import { cautionsSection } from "./html/cautions-section.js";
import { changesSection } from "./html/changes-section.js";
import { compoundSection } from "./html/compound/compound-section.js";
import { documentHead } from "./html/document-head.js";
import { Html, html } from "./html/html.js";
import { inputsSection } from "./html/inputs-section.js";
import { licencesFold } from "./html/licences.js";
import { methodsSection } from "./html/methods-section.js";
import { noticesSection } from "./html/notices.js";
import { reportContext } from "./html/report-context.js";
import { seriesSection } from "./html/series-section.js";
import { settingsSection } from "./html/settings-section.js";
import type { PageAssets } from "./page-assets.js";
import { packPageData } from "./page-data.js";

/** Beyond this many, what is out of sight is not laid out, so that a change of setting lays out what is in sight only. */
const manyCompounds = 16;

/**
 * The whole report as the text of one HTML file that needs nothing else: no network, no other file. The
 * same assessment and assets give the same bytes.
 */
export function reportHtml(assessment: Assessment, assets: PageAssets): string {
  return reportPieces(assessment, assets).join("");
}

/** The same text in pieces: the page's data, most of a large report, would take twice the room beside letters beyond Latin-1. */
export function reportPieces(assessment: Assessment, assets: PageAssets): string[] {
  const context = reportContext(assessment);
  const { results } = assessment;
  const order = worstFirst(results.compounds);
  const answer = answerOfStudy(results, assessment.uses);
  const count = results.compounds.length;
  const title = titleOf(assessment);
  // Nothing from outside, no evaluated strings; the two scripts by hash. Workers, which predict, come from the
  // page's own memory. Styles are inline because the plot library places its elements by style attributes.
  const policy = [
    "default-src 'none'",
    `script-src 'sha256-${assets.pageScriptSha256}' 'sha256-${assets.plotScriptSha256}'`,
    "worker-src blob:",
    "style-src 'unsafe-inline'",
    "img-src data: blob:",
    "base-uri 'none'",
    "form-action 'none'",
  ];
  const page = html`${documentHead(title, policy, assets.css + pageMargins(assessment))}
<body${count > manyCompounds && html` class="many"`}>
<a class="skip" href="#answer">Skip to the answer</a>
${new Html(verdictSymbols)}
<header class="top"><p class="brand"><span class="brand-mark" aria-hidden="true"></span>Frostline</p><h1>${title}</h1>
<nav aria-label="Parts of the report"><a href="#answer">Answer</a>${count > 0 && html`<a href="#decision">What is asked</a>`}<a href="#verdicts">Verdicts</a><a href="#trade-off">Trade-off map</a>${count > 1 && html`<a href="#side-by-side">Side by side</a>`}<a href="#compounds">Compounds</a><a href="#inputs">Inputs</a><a href="#settings">Settings</a><a href="#methods">Methods</a><a href="#cautions">Cautions</a><span id="page-tools"></span></nav></header>
<p class="too-old" id="too-old" role="alert" hidden></p>
<main>
${answerSection(context, answer)}
${decisionSection(answer)}
${leversSection(results)}
${matrixSection(context, order)}
${tradeOffSection(answer)}
${changesSection(results.changes)}
${sideBySideSection(context)}
<section id="compounds"><h2>${count === 1 ? "The compound" : "Compound by compound"}</h2><div id="compound-tools"></div>${order.map((index) => compoundSection(context, index))}</section>
${seriesSection(context)}
${inputsSection(context)}
${settingsSection(context)}
${methodsSection(context)}
${noticesSection(context)}
${cautionsSection()}
</main>
<footer><p class="small">${results.program.name} ${results.program.version} · one file, works offline, sends nothing anywhere.</p>${licencesFold(assets.licences)}</footer>
<script type="text/plain" id="page-data">`;
  const scripts = html`</script>
<script type="text/plain" id="plot-script">${new Html(assets.plotScriptGzipBase64)}</script>
<script>${new Html(assets.pageScript)}</script>
</body>
</html>
`;
  return [page.markup, packPageData(context), scripts.markup];
}

function titleOf(assessment: Assessment): string {
  const { title } = assessment.settings;
  if (title !== undefined && title.trim() !== "") return title;
  const count = assessment.results.compounds.length;
  return `${count} ${count === 1 ? "compound" : "compounds"} in the cold`;
}

/** What the printed margins say: page numbers, and a short hash of all inputs' hashes in their order. */
function pageMargins(assessment: Assessment): string {
  const { program, inputs } = assessment.results;
  const hashes = inputs.slice(0, 3).map((input) => input.sha256.slice(0, 8));
  const more = inputs.length > 3 ? ` and ${inputs.length - 3} more` : "";
  const words = `${program.name} ${program.version} · ${inputs.length} inputs, sha256 ${hashes.join(", ")}${more}`;
  const quoted = JSON.stringify(words.replace(/[<>\\]/g, " "));
  return `@media print{@page{@bottom-left{content:${quoted}}}}`;
}
