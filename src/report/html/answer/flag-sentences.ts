import { log10 } from "../../../numeric/elementary/logarithm.js";
import type { ColdVerdict, Outlook } from "../../../predict/outlook.js";
import type { JudgedCompound } from "../../results/results.js";
import { type Html, html, listHtml, nameHtml } from "../html.js";
import { withTrueMinus } from "../notices.js";
import { fixed, frequencyText, statedTemperature } from "../numbers.js";
import { verdictMark } from "./verdict.js";

type GlassTransition = JudgedCompound["glassTransitions"][number];

/** In decades; a peak at an unstated frequency is quoted only where there is no other. */
function distanceFrom1Hz({ frequency_Hz }: GlassTransition): number {
  return frequency_Hz === null ? Number.MAX_VALUE : Math.abs(log10(frequency_Hz));
}

/** The tan δ peak measured nearest to 1 Hz, the one people quote; null where none is bracketed. */
export function quotedPeak(
  compound: JudgedCompound,
): { transition: GlassTransition; temperature_C: number } | null {
  let best: { transition: GlassTransition; temperature_C: number } | null = null;
  for (const transition of compound.glassTransitions) {
    const temperature_C = transition.tanDeltaPeak?.temperature_C ?? null;
    if (temperature_C === null) continue;
    if (best === null || distanceFrom1Hz(transition) < distanceFrom1Hz(best.transition)) {
      best = { transition, temperature_C };
    }
  }
  return best;
}

/** Where the tan δ peak stands at the contact's own frequency; null where it was not seen there. */
export function peakInContact_C({ cold }: Outlook): number | null {
  return cold === null ? null : cold.glassTemperatureAtUse.tanDeltaPeak.temperature_C;
}

/**
 * What is to be looked at of a compound: that it is glassy, or may be, in a use, and where it is not determined,
 * why and what settles it. Empty where it is surely above glassy in every use.
 * @example "Birch 60: glassy at −20 °C in sliding contact; its tan δ peak of −38 °C at 1 Hz stands at −14 °C there."
 */
export function flagSentences(compound: JudgedCompound, id: string): Html[] {
  return [...coldSentence(compound, id), ...undeterminedSentence(compound, id)];
}

function temperaturesOf(outlooks: Outlook[]): Html {
  const temperatures = [...new Set(outlooks.map((outlook) => outlook.temperature_C))].sort((a, b) => b - a);
  return listHtml(temperatures.map((T) => html`${statedTemperature(T)}`));
}

function flag(compound: JudgedCompound, id: string, verdict: ColdVerdict | null, words: Html): Html {
  return html`<li>${verdictMark(verdict)}<span><a href="#${encodeURIComponent(id)}">${nameHtml(compound.name)}</a>: ${words}</span></li>`;
}

function coldSentence(compound: JudgedCompound, id: string): Html[] {
  const certain = compound.outlooks.filter((outlook) => outlook.cold?.verdict === "glassy");
  const perhaps = compound.outlooks.filter((outlook) => outlook.cold?.verdict === "glassy or leathery");
  const flagged = certain.length > 0 ? certain : perhaps;
  if (flagged.length === 0) return [];
  const warmest = flagged.reduce((a, b) => (b.temperature_C > a.temperature_C ? b : a));
  const contacts = [...new Set(flagged.map((outlook) => outlook.cold?.contact))].sort().reverse();
  const peak = quotedPeak(compound);
  const there_C = peakInContact_C(warmest);
  const shift =
    peak !== null && there_C !== null
      ? html`; its tan δ peak of ${fixed(peak.temperature_C, 0)} °C at ${frequencyText(
          peak.transition.frequency_Hz,
        )} stands at ${fixed(there_C, 0)} °C there`
      : "";
  const further =
    certain.length > 0 && perhaps.length > 0 && html`; it may be glassy at ${temperaturesOf(perhaps)}`;
  const words = html`${certain.length > 0 ? "glassy" : "glassy or leathery"} at ${temperaturesOf(flagged)} in ${contacts.join(" and ")} contact${shift}${further}.`;
  return [flag(compound, id, certain.length > 0 ? "glassy" : "glassy or leathery", words)];
}

function undeterminedSentence(compound: JudgedCompound, id: string): Html[] {
  const unknown = compound.outlooks.filter((outlook) => outlook.cold === null);
  if (unknown.length === 0) return [];
  const coldest = unknown.reduce((a, b) => (b.temperature_C < a.temperature_C ? b : a));
  const why =
    coldest.verdictMissing === undefined
      ? "the notices of the compound say why and what to measure."
      : withTrueMinus(coldest.verdictMissing);
  return [
    flag(
      compound,
      id,
      null,
      html`<b>not determined</b> at ${temperaturesOf(unknown)}, so possibly glassy there. ${why}`,
    ),
  ];
}
