import type { ResultsCompound } from "../../results/results.js";
import { type Html, html } from "../html.js";
import { frequencyText, interval, statedTemperature } from "../numbers.js";
import { type SourceContext, sourceLinks } from "../report-context.js";

/** From the lowest temperature at which it stays rubbery in a use to where it softens; nothing where that is unknown. */
export function windowOfUse(context: SourceContext, { softening, outlooks }: ResultsCompound): Html {
  if (softening === null) return html``;
  const { temperature_C, low_C, high_C, frequency_Hz, paths } = softening;
  const upTo_C = temperature_C ?? low_C;
  if (upTo_C === null) return html``;
  const softens =
    temperature_C === null
      ? html`<span class="value">not up to ${statedTemperature(upTo_C)}</span>, <span class="interval">where the data end</span>`
      : interval(temperature_C, low_C, high_C, "°C", 1);
  const until = html`${temperature_C === null && html`at least `}${statedTemperature(Math.round(low_C ?? upTo_C))}`;
  const windows = outlooks.flatMap(({ use, cold }) =>
    cold === null || cold.lowestRubbery_C === null
      ? []
      : [
          html`<div><dt>Rubbery in “${use}”</dt><dd><span class="value">${statedTemperature(Math.round(cold.lowestRubbery_C))} to ${until}</span></dd></div>`,
        ],
  );
  return html`<div class="fact-block"><p class="fact-title">Window of use ${sourceLinks(context, paths, "network")}</p><dl class="fact-list"><div><dt>Softens at ${frequencyText(frequency_Hz)}</dt><dd>${softens}</dd></div>${windows}</dl>
<p class="caution-line">Softened: the storage modulus over the absolute temperature has fallen to half of its value on the rubbery plateau, and tan δ rises. It is read from a sweep within minutes, at small strain: under load and over hours a thermoplastic gives way sooner, which a creep or heat test shows.</p></div>`;
}
