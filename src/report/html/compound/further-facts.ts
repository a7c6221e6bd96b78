import type { ResultsCompound } from "../../results/results.js";
import { type Html, html } from "../html.js";
import { asPrinted } from "../notices.js";
import { fixed, frequencyText, interval, pascal, significant, statedTemperature } from "../numbers.js";
import { type SourceContext, sourceLinks } from "../report-context.js";

type Indicator = ResultsCompound["quickIndicators"]["tanDeltaAt0C"];

function indicatorRow(context: SourceContext, label: string, what: string, indicator: Indicator): Html {
  const value =
    indicator.value === null
      ? html`<span class="none">—</span>`
      : html`<span class="value">${indicator.unit === "Pa" ? pascal(indicator.value) : significant(indicator.value)}</span>`;
  const at = indicator.frequency_Hz === null ? "" : ` at ${frequencyText(indicator.frequency_Hz)}`;
  return html`<tr><th scope="row">${asPrinted(label)}${at}</th><td class="number strong">${value}</td><td class="wide">${what} ${indicator.reading.charAt(0).toUpperCase()}${asPrinted(indicator.reading.slice(1))}. <span class="caution-text">${asPrinted(indicator.caution)}</span> ${indicator.source !== null && sourceLinks(context, [indicator.source.file], "indicators")}</td></tr>`;
}

/** The trade's quick indicators, read directly from the sweep, each with its caution. */
export function indicatorTable(context: SourceContext, compound: ResultsCompound): Html {
  const { tanDeltaAt0C, tanDeltaAt60C, storageModulusAtMinus25C } = compound.quickIndicators;
  const all = [tanDeltaAt0C, tanDeltaAt60C, storageModulusAtMinus25C];
  if (all.every((indicator) => indicator.value === null)) return html``;
  return html`<div class="table-frame" role="group" aria-label="Quick indicators" tabindex="0"><table class="facts"><caption>Quick indicators, read from the sweep</caption><tbody>${indicatorRow(context, "tan δ at 0 °C", "Wet grip, higher is better.", tanDeltaAt0C)}${indicatorRow(context, "tan δ at 60 °C", "Rolling loss, lower is better.", tanDeltaAt60C)}${indicatorRow(context, "Storage modulus at −25 °C", "Winter compliance, lower is better.", storageModulusAtMinus25C)}</tbody></table></div>`;
}

/** T2, T5, T10 and T100, with the caution that they are not the Gehman test. */
export function stiffeningFacts(context: SourceContext, compound: ResultsCompound): Html {
  const { stiffening } = compound;
  if (stiffening === null) return html``;
  return html`<div class="fact-block"><p class="fact-title">Stiffening: where the ${fixed(stiffening.time_s, 0)} s relaxation modulus is so many times that at ${statedTemperature(stiffening.referenceTemperature_C)} ${sourceLinks(context, compound.inputs, "stiffening")}</p><dl class="fact-list">${stiffening.temperatures.map(
    ({ ratio, reached }) =>
      html`<div><dt>T${ratio} (${ratio} times)</dt><dd>${
        reached === null
          ? html`<span class="none">not determined</span>`
          : interval(reached.temperature_C, reached.low_C, reached.high_C, "°C", 1)
      }</dd></div>`,
  )}</dl><p class="caution-line">${asPrinted(stiffening.caution)}</p></div>`;
}

/** What the rebound predictions were calibrated with. */
export function calibrationFacts(context: SourceContext, compound: ResultsCompound): Html {
  const calibration = compound.reboundCalibration;
  if (calibration === null) return html``;
  const percent = (fraction: number) => `${fixed(100 * fraction, 1)}\u202f%`;
  const facts: [string, Html][] = [
    [
      "Factor on the contact stiffness",
      interval(calibration.stiffnessFactor, calibration.low, calibration.high, "", 2),
    ],
    [
      "Leave-one-out error of rebound",
      calibration.leaveOneOutError === null
        ? html`<span class="none">one reading leaves none</span>`
        : html`<span class="value">${percent(calibration.leaveOneOutError)}</span>`,
    ],
    ["Error without calibration", html`<span class="value">${percent(calibration.uncalibratedError)}</span>`],
    [
      "Readings",
      html`<span class="value">${calibration.readings.length}</span> <span class="interval">${calibration.method ?? "method not stated"}</span>`,
    ],
  ];
  for (const {
    temperature_C,
    measuredFraction,
    measuredLow,
    measuredHigh,
    tests,
    laboratories,
  } of calibration.readings) {
    if (measuredLow == null || measuredHigh == null) continue;
    const of = (laboratories?.length ?? 0) > 1 ? ` of ${laboratories!.length} laboratories` : "";
    facts.push([
      `Measured at ${fixed(temperature_C, 0)}\u202f°C, ${tests} tests${of}`,
      interval(100 * measuredFraction, 100 * measuredLow, 100 * measuredHigh, "%", 1),
    ]);
  }
  return html`<div class="fact-block"><p class="fact-title">Rebound calibration ${sourceLinks(
    context,
    calibration.readings.map((reading) => reading.path),
    "rebound",
  )}</p><dl class="fact-list">${facts.map(([label, value]) => html`<div><dt>${label}</dt><dd>${value}</dd></div>`)}</dl></div>`;
}
