import type { OpenInterval } from "../../../predict/outlook.js";
import type { JudgedCompound } from "../../results/results.js";
import { peakInContact_C, quotedPeak } from "../answer/peaks.js";
import { type Html, html } from "../html.js";
import { fixed, frequencyText, statedTemperature } from "../numbers.js";

const width = 720;
const margin = 12;
/** Half of the longest word in a band, with some air. */
const halfWord = 28;

/**
 * A strip over temperature: where the compound is glassy, leathery and rubbery in contact, where its
 * tan δ peak was measured, and where the use temperatures lie. Null without a verdict.
 */
export function stateRibbon(compound: JudgedCompound): Html | null {
  const judged = compound.outlooks.filter(
    ({ cold }) => cold !== null && cold.marginToGlassy_K !== null && cold.marginToLeathery_K !== null,
  );
  if (judged.length === 0) return null;
  const coldest = judged.reduce((a, b) => (b.temperature_C < a.temperature_C ? b : a));
  const cold = coldest.cold;
  if (cold === null || cold.marginToGlassy_K === null || cold.marginToLeathery_K === null) return null;
  const glassyBorder_C = coldest.temperature_C - cold.marginToGlassy_K;
  const leatheryBorder_C = coldest.temperature_C - cold.marginToLeathery_K;
  const peak = quotedPeak(compound);
  const uses = [...new Set(judged.map((outlook) => outlook.temperature_C))];
  const all = [...uses, glassyBorder_C, leatheryBorder_C, peak?.temperature_C ?? glassyBorder_C];
  const from_C = 10 * Math.floor((Math.min(...all) - 8) / 10);
  const to_C = 10 * Math.ceil((Math.max(...all) + 8) / 10);
  const x = (T: number) => margin + ((width - 2 * margin) * (T - from_C)) / (to_C - from_C);
  const line = peak === null ? null : x(peak.temperature_C);
  const isCrossed = (middle: number) => line !== null && Math.abs(line - middle) < halfWord;
  /** Where a band's word stands: in the middle, or beside the line that would cross it there. */
  const wordPlace = (left: number, right: number) => {
    const middle = (left + right) / 2;
    if (line === null || !isCrossed(middle)) return middle;
    const beside = line - left > right - line ? (left + line) / 2 : (line + right) / 2;
    return isCrossed(beside) ? middle : beside;
  };
  const wordPlaces: number[] = [];
  const band = (low: number, high: number, name: string) => {
    const left = x(low);
    const right = x(high);
    const wide = right - left > 62;
    const place = wordPlace(left, right);
    if (wide) wordPlaces.push(place);
    return html`<rect class="band ${name}" x="${left.toFixed(1)}" y="26" width="${Math.max(0, right - left).toFixed(1)}" height="24"/>${
      wide &&
      html`<text class="band-word ${name}" x="${place.toFixed(1)}" y="42" text-anchor="middle">${name}</text>`
    }`;
  };
  const step = to_C - from_C > 90 ? 20 : 10;
  const ticks: Html[] = [];
  for (let T = Math.ceil(from_C / step) * step; T <= to_C; T += step) {
    ticks.push(
      html`<path class="tick" d="M${x(T).toFixed(1)} 50v5"/><text class="tick-word" x="${x(T).toFixed(1)}" y="68" text-anchor="${
        T === from_C ? "start" : T === to_C ? "end" : "middle"
      }">${fixed(T, 0)}${T === to_C && "\u202f°C"}</text>`,
    );
  }
  const marks = uses.map(
    (T) =>
      html`<path class="use-mark" d="M${x(T).toFixed(1)} 26l-4.5-8h9z"/><text class="use-word" x="${x(T).toFixed(1)}" y="13" text-anchor="middle">${fixed(T, 0)}</text>`,
  );
  const there_C = peakInContact_C(coldest);
  const caption = html`At the contact’s ${frequencyText(cold.contactFrequency_Hz)} (${cold.contact}, use at ${statedTemperature(coldest.temperature_C)}): glassy below ${borderText(glassyBorder_C, cold.glassTemperatureAtUse.lossModulusPeak)}, leathery to ${borderText(leatheryBorder_C, cold.glassTemperatureAtUse.tanDeltaPeak)}, rubbery above. ${
    peak !== null &&
    there_C !== null &&
    html`Dashed line: the tan δ peak as measured, ${fixed(peak.temperature_C, 0)} °C at ${frequencyText(peak.transition.frequency_Hz)}; at the contact’s frequency it lies at ${fixed(there_C, 0)} °C. `
  }Triangles: the use temperatures.`;
  const bands = [
    band(from_C, Math.min(to_C, Math.max(from_C, glassyBorder_C)), "glassy"),
    band(Math.max(from_C, glassyBorder_C), Math.min(to_C, leatheryBorder_C), "leathery"),
    band(Math.max(from_C, leatheryBorder_C), to_C, "rubbery"),
  ];
  // A word that has no room beside the line parts it.
  const measured =
    line !== null &&
    html`<path class="measured" d="M${line.toFixed(1)} 23${wordPlaces.some(isCrossed) ? "v7m0 16v7" : "v30"}"/>`;
  return html`<figure class="ribbon"><svg viewBox="0 0 ${width} 72" role="img" aria-label="States of the compound over temperature; the caption says the same in words">${bands}${ticks}${measured}${marks}</svg><figcaption>${caption}</figcaption></figure>`;
}

/** A border with its interval; it stands a fixed distance from its peak. */
function borderText(border_C: number, { temperature_C, low_C, high_C }: OpenInterval): Html {
  const beside = (end_C: number | null) =>
    end_C === null || temperature_C === null ? null : fixed(border_C + end_C - temperature_C, 0);
  const [low, high] = [beside(low_C), beside(high_C)];
  const range =
    low !== null && high !== null
      ? ` (${low} to ${high})`
      : low !== null
        ? ` (${low} or warmer)`
        : high !== null
          ? ` (${high} or colder)`
          : "";
  return html`${fixed(border_C, 0)} °C${range}`;
}
