import type { Results } from "../results/results.js";
import { boundRubberFigure } from "./bound-rubber-figure.js";
import { type Html, html, nameHtml } from "./html.js";
import { asPrinted } from "./notices.js";
import { fixed, interval, pascal, significant } from "./numbers.js";
import type { ReportContext } from "./report-context.js";

type FillerSeries = Results["fillerSeries"][number];
type BatchComparison = Results["batchComparisons"][number];

function fillerTable(series: FillerSeries): Html {
  const rows = series.members.map(
    (member) => html`<tr><th scope="row">${nameHtml(member.compound)}</th>
<td class="number">${fixed(100 * member.volumeFraction, 1)} %</td>
<td class="number">${pascal(member.plateauModulus_Pa.value)}</td>
<td class="number strong">${interval(member.reinforcement.value, member.reinforcement.low, member.reinforcement.high, "", 2)}</td>
<td class="number">${significant(member.guthGold, 3)}${member.beyondCommonVolumeFraction && html` <span class="tag">beyond 30 %</span>`}</td></tr>`,
  );
  return html`<div class="series"><h3>${nameHtml(series.name)}</h3><p>${asPrinted(series.sentence)}</p>
<div class="table-frame" role="group" aria-label="Filler series" tabindex="0"><table class="facts"><thead><tr><th scope="col">Compound</th><th scope="col" class="number">Filler by volume</th><th scope="col" class="number">Plateau M′</th><th scope="col" class="number">Measured M/M₀</th><th scope="col" class="number">Guth–Gold</th></tr></thead><tbody>${rows}</tbody></table></div>
${boundRubberTable(series)}
${particleSizes(series)}
<p class="small">${asPrinted(series.unfilledReading)} <a class="source" href="#method-reinforcement">method</a></p><p class="caution-line">${asPrinted(series.caution)}</p></div>`;
}

/** What the filler's surface immobilises, by modulus and by loss. */
function boundRubberTable(series: FillerSeries): Html {
  const { boundRubber } = series;
  if (boundRubber == null) return html``;
  const rows = boundRubber.members.map(
    (member) => html`<tr><th scope="row">${nameHtml(member.compound)}</th>
<td class="number">${significant(member.particleSize_nm, 3)} nm</td>
<td class="number">${fixed(100 * member.effectiveVolumeFraction, 1)} %</td>
<td class="number">${significant(member.guthGoldWithLayer, 3)}</td>
<td class="number">${significant(member.reinforcement, 3)}</td>
<td class="number">${member.immobilisedShare === null ? "—" : html`${fixed(100 * member.immobilisedShare, 1)} %`}</td></tr>`,
  );
  return html`<h4>Bound rubber</h4><p>${asPrinted(boundRubber.sentence)} <a class="source" href="#method-bound-rubber">method</a></p>
${boundRubberFigure(series)}
<div class="table-frame" role="group" aria-label="Bound rubber" tabindex="0"><table class="facts"><thead><tr><th scope="col">Compound</th><th scope="col" class="number">Particles</th><th scope="col" class="number">Filler with its layer</th><th scope="col" class="number">Guth–Gold with it</th><th scope="col" class="number">Measured M/M₀</th><th scope="col" class="number">Immobilised, by tan δ</th></tr></thead><tbody>${rows}</tbody></table></div>
<p class="caution-line">For spheres of one size: aggregates act larger.</p>`;
}

/** What finer particles of the same load did, or that no two sizes were measured. */
function particleSizes({ particleSizes, boundRubber }: FillerSeries): Html {
  if (particleSizes === undefined || (particleSizes.length === 0 && boundRubber == null)) return html``;
  const said =
    particleSizes.length === 0
      ? html`<p>No two sizes were measured at one load, so nothing in this study says what a finer filler would do.</p>`
      : html`<ul class="plain">${particleSizes.map(({ sentence }) => html`<li>${asPrinted(sentence)}</li>`)}</ul>`;
  return html`<h4>Finer filler of the same load</h4>${said}<p class="small">That finer particles reinforce more is common practice.</p>`;
}

function batchTable(comparison: BatchComparison): Html {
  const shown = (value: number, unit: BatchComparison["differences"][number]["unit"]) =>
    unit === "Pa" ? pascal(value) : unit === "°C" ? `${fixed(value, 1)}\u202f°C` : significant(value, 3);
  const rows = comparison.differences.map(
    (
      difference,
    ) => html`<tr><th scope="row">${difference.quantity === "tan delta at 0 °C" || difference.quantity === "tan delta at 60 °C" ? difference.quantity.replace("tan delta", "tan δ") : difference.quantity}</th>
<td class="number">${shown(difference.acceptedValue, difference.unit)}</td>
<td class="number">${shown(difference.batchValue, difference.unit)}</td>
<td class="number strong">${interval(difference.result, difference.low, difference.high, difference.comparison === "ratio" ? "" : difference.unit === "°C" ? "K" : "", 3)}</td>
<td class="number">${difference.limit === null ? "—" : significant(difference.limit, 2)}</td>
<td class="strong">${difference.statement}</td></tr>`,
  );
  return html`<div class="series"><h3>${nameHtml(comparison.batch)} against ${nameHtml(comparison.accepted)}</h3><p>${asPrinted(comparison.sentence)}</p>
<div class="table-frame" role="group" aria-label="Batch against batch" tabindex="0"><table class="facts"><thead><tr><th scope="col">Quantity</th><th scope="col" class="number">Accepted</th><th scope="col" class="number">Batch</th><th scope="col" class="number">Difference or ratio</th><th scope="col" class="number">Your limit</th><th scope="col">Statement</th></tr></thead><tbody>${rows}</tbody></table></div>
${comparison.notCompared.length > 0 && html`<ul class="plain small">${comparison.notCompared.map(({ quantity, why }) => html`<li>Not compared, ${quantity.replace("tan delta", "tan δ")}: ${asPrinted(why)}</li>`)}</ul>`}
<p class="small">${comparison.basis} <a class="source" href="#method-batches">method</a></p><p class="caution-line">${asPrinted(comparison.caution)}</p></div>`;
}

/** Compounds that differ in filler only, and batches of one recipe; nothing where the study names none. */
export function seriesSection({ assessment }: ReportContext): Html {
  const { fillerSeries, batchComparisons } = assessment.results;
  if (fillerSeries.length + batchComparisons.length === 0) return html``;
  return html`<section id="series"><h2>Series and batches</h2>${fillerSeries.map(fillerTable)}${batchComparisons.map(batchTable)}</section>`;
}
