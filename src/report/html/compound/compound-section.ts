import type { JudgedCompound } from "../../results/results.js";
import { verdictMark } from "../answer/verdict.js";
import { fileId } from "../compound-ids.js";
import { type Html, html, joinHtml, nameHtml } from "../html.js";
import { noticeList, sharedNotices, stepList } from "../notices.js";
import { statedTemperature } from "../numbers.js";
import { compoundFigures } from "../plot-figures.js";
import type { ReportContext } from "../report-context.js";
import { networkFacts, payneFacts, whatItTakesList } from "./compounding-facts.js";
import { calibrationFacts, indicatorTable, stiffeningFacts } from "./further-facts.js";
import { glassTransitionTable } from "./glass-transition-table.js";
import { measuredFacts } from "./measured-facts.js";
import { propertyTable } from "./property-table.js";
import { stateRibbon } from "./state-ribbon.js";
import { superpositionFacts } from "./superposition-facts.js";
import { useTable } from "./use-table.js";
import { windowOfUse } from "./window-of-use.js";

/** The verdicts of one compound, coldest use first. */
export function verdictRow(result: JudgedCompound): Html {
  const sorted = [...result.outlooks].sort((a, b) => a.temperature_C - b.temperature_C);
  return html`${sorted.map(
    (outlook) =>
      html`<li>${verdictMark(outlook.cold?.verdict ?? null)}<span>${statedTemperature(outlook.temperature_C)} <span class="word">${outlook.cold?.verdict ?? "not determined"}</span></span></li>`,
  )}`;
}

/**
 * One compound on one page: the strip of its states, what casts doubt on it, its numbers, the four plots that answer
 * for them; all else folded beneath as evidence.
 */
export function compoundBody(context: ReportContext, index: number): Html {
  const compound = context.assessment.compounds[index];
  const result = context.assessment.results.compounds[index];
  const { shown, evidence, missing } = compoundFigures(context, compound, result, index);
  const doubts = result.notices.filter(({ severity }) => severity !== "info");
  return html`<div data-part="ribbon">${stateRibbon(result)}</div>
${noticeList(doubts, context)}
<div data-part="uses">${useTable(context, result)}</div>
${measuredFacts(result)}
<div class="plots">${shown}</div>
<p class="small paper-only">From ${joinHtml(
    result.inputs.map((path) => html`<bdi>${path}</bdi>`),
    ", ",
  )}. All evidence is in the file that this was printed from.</p>
${evidenceOf(context, index, [evidence.length > 0 && html`<div class="plots">${evidence}</div>`, missing])}`;
}

type Part = Html | false;

/** What stands behind the numbers, folded: every reading, fit and assumption with its source. */
function evidenceOf(context: ReportContext, index: number, figures: Part[]): Html {
  const result = context.assessment.results.compounds[index];
  const notes = result.notices.filter(({ severity }) => severity === "info");
  return html`<details class="evidence" id="evidence-${context.compoundIds[index]}"><summary>Evidence<span class="visually-hidden"> for ${result.name}</span>: all readings, fits, assumptions and sources</summary>
${notes.length > 0 && html`<h4>Notes</h4>${noticeList(notes, context)}`}
${sharedNotices(context.assessment.results, result.name)}
${glassTransitionTable(context, result)}
${propertyTable(context, result)}
${windowOfUse(context, result)}
${whatItTakesList(result)}
${figures}
${superpositionFacts(context, result, context.assessment.compounds[index].material)}
${calibrationFacts(context, result)}
${stiffeningFacts(context, result)}
${networkFacts(context, result)}
${payneFacts(context, result)}
${indicatorTable(context, result)}
${result.steps.length > 0 && html`<h4>Steps of the evaluation</h4>${stepList(result.steps, context)}`}
<h4>Sources</h4>
${sourceList(context, index)}</details>`;
}

/** Each measurement with the place it was read from. */
function sourceList(context: ReportContext, index: number): Html {
  const { measurements } = context.assessment.compounds[index];
  return html`<ul class="plain small sources">${measurements.map((measurement) => {
    const { file, sheet, section, firstLine, lastLine } = measurement.provenance;
    const number = context.inputNumber(file);
    const hash = number === null ? "" : context.assessment.results.inputs[number - 1].sha256.slice(0, 12);
    return html`<li>${measurement.kind}: ${number === null ? html`<bdi>${file}</bdi>` : html`<a href="#${encodeURIComponent(fileId(file))}"><bdi>${file}</bdi></a>`}${sheet !== null && html`, sheet <bdi>${sheet}</bdi>`}${section !== null && html`, ${/section/i.test(section) ? "" : "section "}<bdi>${section}</bdi>`}, lines ${firstLine} to ${lastLine}${
      measurement.kind === "rebound"
        ? html`${measurement.method !== null && html`, method <bdi>${measurement.method}</bdi>`}, ${measurement.readings.length} temperatures`
        : html`, ${measurement.temperature_C.length} points in ${measurement.deformation}`
    } <span class="hash">sha256 ${hash}…</span></li>`;
  })}</ul>`;
}

/** A compound's name and verdicts, and all that is known of it folded beneath. */
export function compoundSection(context: ReportContext, index: number): Html {
  const compound = context.assessment.compounds[index];
  const result = context.assessment.results.compounds[index];
  return html`<details class="compound" id="${context.compoundIds[index]}" data-compound="${index}"${!context.collapsed && html` open`}>
<summary><h3>${nameHtml(compound.name)}</h3>${compound.isReference && html`<span class="tag">reference</span>`}<ul class="verdict-row" data-part="verdicts">${verdictRow(result)}</ul></summary>
<div class="compound-body">${
    context.packed
      ? html`<p class="waiting">This part is unpacked by the page’s script.</p>`
      : compoundBody(context, index)
  }</div></details>`;
}
