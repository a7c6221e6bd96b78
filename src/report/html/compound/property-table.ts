import type { ResultsCompound } from "../../results/results.js";
import { type Html, html } from "../html.js";
import { asStated, interval } from "../numbers.js";
import { type SourceContext, sourceLinks } from "../report-context.js";

/** Durability and routine properties as measured; nothing where there are none. */
export function propertyTable(context: SourceContext, { properties }: ResultsCompound): Html {
  if (properties.length === 0) return html``;
  const rows = properties.map(
    ({ quantity, unit, value, low, high, count, method, inputs }) => html`<tr><th scope="row">${quantity}</th>
<td class="number strong">${low === null || high === null ? asStated(value, unit) : interval(value, low, high, unit)}</td>
<td class="number">${count}</td>
<td>${method ?? html`<span class="none">not stated</span>`}</td>
<td>${sourceLinks(context, inputs, "properties")}</td></tr>`,
  );
  return html`<div class="table-frame" role="group" aria-label="Properties as measured" tabindex="0"><table class="facts">
<caption>Durability and routine properties, as measured: median, 95 % interval of the mean</caption>
<thead><tr><th scope="col">Property</th><th scope="col" class="number">Value</th><th scope="col" class="number">Readings</th><th scope="col">Method</th><th scope="col">Source</th></tr></thead><tbody>${rows}</tbody></table></div>`;
}
