import type { Outlook } from "../../../predict/outlook.js";
import type { JudgedCompound } from "../../results/results.js";
import { frostCaution, gripCaution } from "../cautions-section.js";
import { compoundIds } from "../compound-ids.js";
import { type Html, html, nameHtml } from "../html.js";
import { intervalIn, statedTemperature } from "../numbers.js";
import { plotFigure } from "../plot-figures.js";
import type { ReportContext } from "../report-context.js";
import { composedOutlook, startingUse } from "./composed-use.js";
import { outlookTags } from "./standing-tags.js";
import { severity, verdictTag } from "./verdict.js";
import { contactWords } from "./verdict-matrix.js";

export interface TradeOffRow {
  index: number;
  compound: JudgedCompound;
  isReference: boolean;
  outlook: Outlook | undefined;
}

function tableRow({ index, compound, isReference, outlook }: TradeOffRow, id: string): Html {
  const grip = outlook?.grip ?? null;
  const rebound = outlook?.rebound ?? null;
  const none = html`<span class="none">—</span>`;
  return html`<tr data-compound="${index}"><th scope="row"><a href="#${encodeURIComponent(id)}">${nameHtml(compound.name)}</a>${isReference && html` <span class="tag">reference</span>`}${outlookTags(compound, outlook)}</th>
<td>${verdictTag(outlook?.cold?.verdict ?? null)}</td>
<td class="number">${grip === null ? none : intervalIn(grip.frictionCoefficient, grip.low, grip.high, "", 3)}</td>
<td class="number">${grip?.relativeToReference === undefined ? none : intervalIn(grip.relativeToReference.ratio, grip.relativeToReference.low, grip.relativeToReference.high, "", 2)}</td>
<td class="number">${rebound === null ? none : intervalIn(100 * rebound.fraction, 100 * rebound.low, 100 * rebound.high, "%", 1)}</td></tr>`;
}

/** The rows of the table beside the map: best first, by verdict and then by grip. */
export function tradeOffRows(rows: TradeOffRow[]): Html {
  const ranked = [...rows].sort(
    (a, b) =>
      severity(b.outlook?.cold?.verdict ?? null) - severity(a.outlook?.cold?.verdict ?? null) ||
      (b.outlook?.grip?.frictionCoefficient ?? -1) - (a.outlook?.grip?.frictionCoefficient ?? -1),
  );
  const byIndex = [...rows].sort((a, b) => a.index - b.index);
  const ids = compoundIds(byIndex.map(({ compound }) => compound.name));
  return html`${ranked.map((row) => tableRow(row, ids[byIndex.indexOf(row)]))}`;
}

/** Grip against rebound in one use: the map, its numbers as a table, and the place for the controls. */
export function tradeOffSection(context: ReportContext, order: number[]): Html {
  const { results, uses } = context.assessment;
  const start = startingUse(results.compounds, uses);
  if (start === null) {
    return html`<section id="trade-off"><h2>Grip against rebound</h2><p class="why">Nothing to compare: no compound has both grip and rebound predicted. The notices of each compound say which measurement is missing.</p></section>`;
  }
  const { use } = start;
  const rows = order.map((index) => ({
    index,
    compound: results.compounds[index],
    isReference: context.assessment.compounds[index].isReference,
    outlook: composedOutlook(results.compounds[index], start),
  }));
  const many = rows.length > 16;
  return html`<section id="trade-off"><h2>Grip against rebound</h2>
<p class="setting-line">At <b id="map-temperature">${statedTemperature(use.temperature_C)}</b>, <span id="map-contact">${contactWords(use)}</span>${use.assumed && html` <span class="tag" id="map-assumed">assumed: the study states no use</span>`}</p>
<form class="controls" id="controls" hidden></form>
<p class="changed" id="changed" role="status" hidden></p>
<div class="map-and-table">
${plotFigure({
  kind: "trade-off",
  compound: null,
  title: "Trade-off map",
  caption: html`Grip (hysteresis friction) upwards, rebound to the right; crosses are 95 % intervals. Shape and colour are the verdict: square glassy, diamond leathery, disc rubbery. A ring marks the reference compound. The table holds the same numbers.`,
  sources: html`<a class="source" href="#method-grip">grip</a> <a class="source" href="#method-rebound">rebound</a> <a class="source" href="#method-cold">verdict</a> <a class="source" href="#method-intervals">intervals</a>`,
})}
<div class="map-table"><div class="table-frame${many && " tall"}" role="group" aria-label="Grip and rebound at this setting" tabindex="0"><table class="facts" id="map-table"><thead><tr><th scope="col">Compound</th><th scope="col">Verdict</th><th scope="col" class="number">Grip µ</th><th scope="col" class="number">to reference</th><th scope="col" class="number">Rebound</th></tr></thead><tbody>${tradeOffRows(rows)}</tbody></table></div>${gripCaution()}${uses.some(({ temperature_C }) => temperature_C < 0) && frostCaution()}</div>
</div></section>`;
}
