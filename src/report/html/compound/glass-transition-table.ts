import type { ResultsCompound } from "../../results/results.js";
import { type Html, html, joinHtml } from "../html.js";
import { fixed, frequencyText, interval, intervalIn, significant } from "../numbers.js";
import { type ReportContext, sourceLinks } from "../report-context.js";

type GlassTransition = ResultsCompound["glassTransitions"][number];
type Peak = NonNullable<GlassTransition["lossModulusPeak"]>;

/** A peak with its interval, or the bound its data give: "above 40 °C". */
export function peakText(peak: Peak | null): Html {
  if (peak === null) return html`<span class="none">not found</span>`;
  if (peak.temperature_C !== null)
    return peak.low_C === null || peak.high_C === null
      ? interval(peak.temperature_C, null, null, "°C", 1)
      : intervalIn(peak.temperature_C, peak.low_C, peak.high_C, "°C", 1);
  if (peak.low_C !== null && peak.high_C === null) return html`above ${fixed(peak.low_C, 0)} °C`;
  if (peak.high_C !== null && peak.low_C === null) return html`below ${fixed(peak.high_C, 0)} °C`;
  if (peak.low_C !== null && peak.high_C !== null)
    return html`between ${fixed(peak.low_C, 0)} and ${fixed(peak.high_C, 0)} °C`;
  return html`<span class="none">beyond the data</span>`;
}

/** The three readings at each frequency, each with its 95 % interval. */
export function glassTransitionTable(context: ReportContext, compound: ResultsCompound): Html {
  if (compound.glassTransitions.length === 0) {
    return html`<p class="why">No glass transition: neither a temperature sweep nor isotherms at eight temperatures or more of this compound show one.</p>`;
  }
  const sorted = [...compound.glassTransitions].sort(
    (a, b) => (a.frequency_Hz ?? Number.MAX_VALUE) - (b.frequency_Hz ?? Number.MAX_VALUE),
  );
  const rows = sorted.map(
    (transition) => html`<tr>
<th scope="row" class="number">${frequencyText(transition.frequency_Hz)}</th>
<td class="number">${
      transition.storageModulusOnset === null
        ? html`<span class="none">not found</span>`
        : intervalIn(
            transition.storageModulusOnset.temperature_C,
            transition.storageModulusOnset.low_C,
            transition.storageModulusOnset.high_C,
            "°C",
            1,
          )
    }</td>
<td class="number">${peakText(transition.lossModulusPeak)}</td>
<td class="number strong">${peakText(transition.tanDeltaPeak)}</td>
<td class="number">${transition.tanDeltaPeak?.height == null ? "—" : significant(transition.tanDeltaPeak.height)}</td>
<td class="number">${transition.tanDeltaPeak?.width_K == null ? "—" : `${fixed(transition.tanDeltaPeak.width_K, 1)}\u202fK`}</td>
<td>${modeWords(transition)}</td>
<td>${sourceLinks(context, [transition.path], "glass-transition")}</td></tr>`,
  );
  return html`<div class="table-frame" role="group" aria-label="Glass transition readings" tabindex="0"><table class="facts">
<caption>Glass transition, 95 % intervals</caption>
<thead><tr><th scope="col" class="number">Frequency</th><th scope="col" class="number">Onset of storage modulus</th><th scope="col" class="number">Loss modulus peak</th><th scope="col" class="number">tan δ peak</th><th scope="col" class="number">Height</th><th scope="col" class="number">Width</th><th scope="col">Mode</th><th scope="col">From</th></tr></thead>
<tbody>${rows}</tbody></table></div>${furtherPeaks(sorted)}`;
}

/** Further maxima of all frequencies in one line for each quantity. */
function furtherPeaks(transitions: GlassTransition[]): Html {
  const line = (quantity: "tan delta" | "loss modulus", name: string) => {
    const peaks = transitions.flatMap((transition) =>
      transition.furtherPeaks
        .filter((peak) => peak.quantity === quantity)
        .map((peak) => ({ peak, frequency_Hz: transition.frequency_Hz })),
    );
    if (peaks.length === 0) return html``;
    const parts = peaks
      .sort((a, b) => a.peak.temperature_C - b.peak.temperature_C)
      .map(
        ({ peak, frequency_Hz }) =>
          html`${fixed(peak.temperature_C, 1)} °C (${fixed(peak.low_C, 1)} to ${fixed(peak.high_C, 1)}) at ${frequencyText(frequency_Hz)}`,
      );
    return html`<p class="small"><b>Further maxima of ${name}</b>, a second phase or a secondary transition: ${joinHtml(parts, "; ")}.</p>`;
  };
  return html`${line("tan delta", "tan δ")}${line("loss modulus", "the loss modulus")}`;
}

function modeWords({ deformation, direction, origin }: GlassTransition): string {
  return [deformation, direction, origin === "isotherms" ? "from isotherms" : null]
    .filter((word) => word !== null)
    .join(", ");
}
