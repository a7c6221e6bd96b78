import type { CompoundProperty } from "../../../predict/decision/decision-schema.js";
import { modulusSymbol } from "../../../words/quantity-text.js";
import type { ResultsCompound } from "../../results/results.js";
import { quotedPeak } from "../answer/peaks.js";
import { type Html, html } from "../html.js";
import { asStated, frequencyText, interval, intervalIn, statedTemperature } from "../numbers.js";
import { peakText } from "./glass-transition-table.js";

type Fact = [label: string, value: Html];

/** The readings nearest to 1 Hz, and where it softens. */
function transitionFacts(compound: ResultsCompound): Fact[] {
  const peak = quotedPeak(compound);
  const facts: Fact[] = [];
  if (peak !== null) {
    const { frequency_Hz, storageModulusOnset: onset, lossModulusPeak, tanDeltaPeak } = peak.transition;
    const at = frequencyText(frequency_Hz);
    const M = modulusSymbol(peak.transition.deformation);
    facts.push(
      [`tan δ peak, ${at}`, peakText(tanDeltaPeak)],
      [`${M}″ peak, ${at}`, peakText(lossModulusPeak)],
    );
    if (onset !== null)
      facts.push([
        `Onset of ${M}′, ${at}`,
        intervalIn(onset.temperature_C, onset.low_C, onset.high_C, "°C", 1),
      ]);
  }
  const { softening } = compound;
  if (softening !== null && softening.temperature_C !== null)
    facts.push(["Softens", interval(softening.temperature_C, softening.low_C, softening.high_C, "°C", 0)]);
  else if (softening !== null && softening.low_C !== null)
    facts.push([
      "Softens",
      // "Softens above 37 °C" would say that it does.
      html`<span class="value">not up to ${statedTemperature(Math.round(softening.low_C))}</span>`,
    ]);
  return facts;
}

/** What was measured, in one line of facts: the transition, and durability and routine properties. */
export function measuredFacts(compound: ResultsCompound): Html {
  const { properties } = compound;
  // Two values under one name are of two methods, or of two units.
  const label = ({ quantity, method }: CompoundProperty) =>
    properties.filter((other) => other.quantity === quantity).length > 1
      ? `${quantity}, ${method ?? "method not stated"}`
      : quantity;
  const facts: Fact[] = [
    ...transitionFacts(compound),
    ...properties.map((property): Fact => {
      const { unit, value, low, high } = property;
      return [
        label(property),
        low === null || high === null ? asStated(value, unit) : interval(value, low, high, unit),
      ];
    }),
  ];
  if (facts.length === 0) return html``;
  return html`<div class="fact-block"><p class="fact-title">As measured</p><dl class="fact-list">${facts.map(
    ([label, value]) => html`<div><dt>${label}</dt><dd>${value}</dd></div>`,
  )}</dl></div>`;
}
