import type { ColdOutlook } from "../../../predict/outlook.js";
import { type Html, html } from "../html.js";
import { fixed } from "../numbers.js";

/** The distance of a use from a border with its interval, in K; positive is the warm side. */
export interface Margin {
  border: "glassy" | "leathery";
  value_K: number;
  low_K: number;
  high_K: number;
}

/**
 * Distance from the border that a verdict of two words straddles; null for a verdict of one word, and where the
 * interval of the border does not say what the words say.
 */
export function straddledMargin(cold: ColdOutlook): Margin | null {
  const glassy = cold.verdict === "glassy or leathery";
  if (!glassy && cold.verdict !== "leathery or rubbery") return null;
  const at = cold.glassTemperatureAtUse;
  if (at === undefined) return null;
  const peak = glassy ? at.lossModulusPeak : at.tanDeltaPeak;
  const value_K = glassy ? cold.marginToGlassy_K : cold.marginToLeathery_K;
  const { temperature_C, low_C, high_C } = peak;
  if (value_K === null || temperature_C === null || low_C === null || high_C === null) return null;
  // A border stands a fixed distance above its peak, so both have the same interval about their value.
  const low_K = value_K - (high_C - temperature_C);
  const high_K = value_K + (temperature_C - low_C);
  if (!(low_K <= 0 && high_K >= 0)) return null;
  return { border: glassy ? "glassy" : "leathery", value_K, low_K, high_K };
}

/** Distance from the glassy border with its interval; ends are null where nothing bounds them. */
export function glassyMargin({
  marginToGlassy_K,
  glassTemperatureAtUse,
}: ColdOutlook): { value: number; low: number | null; high: number | null } | null {
  if (marginToGlassy_K === null) return null;
  const { temperature_C, low_C, high_C } = glassTemperatureAtUse.lossModulusPeak;
  const beside = (end_C: number | null) =>
    temperature_C === null || end_C === null ? null : marginToGlassy_K + temperature_C - end_C;
  return { value: marginToGlassy_K, low: beside(high_C), high: beside(low_C) };
}

/** A distance with its sign. */
export function signedKelvin(value_K: number, decimals: number): string {
  const text = fixed(value_K, decimals);
  return text.startsWith("−") || Number(text) === 0 ? text : `+${text}`;
}

/** An interval; an end so near to the border that rounding would put it there keeps a decimal. */
export function marginRange({ low_K, high_K }: Margin): string {
  const end = (value_K: number) => signedKelvin(value_K, Math.abs(value_K) < 0.5 ? 1 : 0);
  return `${end(low_K)} to ${end(high_K)}\u202fK`;
}

/**
 * The number of a verdict: of one word the distance above the glassy border, of two words the interval of the
 * distance from the border they straddle, for there the value alone would contradict them.
 */
export function marginText(cold: ColdOutlook | null): Html {
  if (cold === null) return html``;
  const straddled = straddledMargin(cold);
  if (straddled !== null) {
    // All other figures are distances from the glassy border, and the head of their column says so.
    const other = straddled.border === "leathery" && html` <br>of the leathery border`;
    return html`<span class="margin">${marginRange(straddled)}${other}</span>`;
  }
  if (cold.verdict.includes(" or ")) return html`<span class="margin">border not certain</span>`;
  if (cold.marginToGlassy_K === null) return boundText(cold);
  return html`<span class="margin">${signedKelvin(cold.marginToGlassy_K, 0)} K</span>`;
}

/** The same with its interval also where the verdict is one word. */
export function marginWithInterval(cold: ColdOutlook | null): Html {
  const margin = cold === null || cold.verdict.includes(" or ") ? null : glassyMargin(cold);
  if (margin === null || (margin.low === null && margin.high === null)) return marginText(cold);
  const end = (value_K: number | null, otherwise: string) =>
    value_K === null ? otherwise : signedKelvin(value_K, 0);
  const range =
    margin.low === null
      ? `${end(margin.high, "")} or less`
      : margin.high === null
        ? `${end(margin.low, "")} or more`
        : `${end(margin.low, "")} to ${end(margin.high, "")}`;
  return html`<span class="margin">${signedKelvin(margin.value, 0)} K <span class="margin-range">(${range})</span></span>`;
}

/** The least or the greatest distance from the glassy border where its peak lies beyond the data; the page has the use's own temperature. */
function boundText({ verdict, glassTemperatureAtUse: at }: ColdOutlook): Html {
  const peak = at?.lossModulusPeak;
  if (peak?.high_C != null) return html`<span class="margin">border below ${fixed(peak.high_C, 0)} °C</span>`;
  if (peak?.low_C != null) return html`<span class="margin">border above ${fixed(peak.low_C, 0)} °C</span>`;
  return verdict === "rubbery" || verdict === "leathery"
    ? html`<span class="margin">border not seen</span>`
    : html``;
}
