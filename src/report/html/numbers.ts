import { exp10 } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import * as words from "../../words/quantity-text.js";
import { fixed, withMinusSign } from "../../words/quantity-text.js";
import { type Html, html } from "./html.js";
import { narrowSpace } from "./unbroken.js";

export { fixed, significant, withMinusSign } from "../../words/quantity-text.js";

/** The same text with narrow spaces that no line breaks at between a number and its unit. */
const unbroken = (text: string) => text.replace(/^([^a-zA-Z ]+) /, `$1${narrowSpace}`);

/** A value with a metric prefix and its unit: "2.50 MPa". */
export const withPrefix = (value: number, unit: string, digits = 3) =>
  unbroken(words.withPrefix(value, unit, digits));

/** A modulus with its metric prefix: "2.50 MPa". */
export const pascal = (value_Pa: number) => unbroken(words.pascalText(value_Pa));

/** A frequency as a laboratory writes it: "1 Hz", "3.16 Hz", "2.4 kHz". */
export const frequencyText = (frequency_Hz: number | null) => unbroken(words.frequencyText(frequency_Hz));

/** A temperature as stated, such as a use temperature, without needless decimals. */
export const statedTemperature = (temperature_C: number) => unbroken(words.statedTemperature(temperature_C));

/**
 * How many decimals a value deserves, given the half width of its interval: two digits of the half width
 * where its leading three digits are below 355, else one (the Particle Data Group's rounding rule).
 */
export function decimalsFor(halfWidth: number, most = 4): number {
  if (!(halfWidth > 0) || !Number.isFinite(halfWidth)) return Math.min(1, most);
  const exponent = Math.floor(log10(halfWidth));
  const leading = halfWidth / exp10(exponent);
  const decimals = leading < 3.55 ? 1 - exponent : -exponent;
  return Math.min(most, Math.max(0, decimals));
}

/**
 * A value with its interval and a stated count of decimals, so that a column stays aligned; more where the
 * interval would else shrink to nothing.
 */
export function intervalIn(
  value: number,
  low: number | null,
  high: number | null,
  unit: string,
  decimals: number,
): Html {
  const unitText = unit === "" ? "" : `${narrowSpace}${unit}`;
  if (low === null || high === null) {
    const bound =
      low !== null
        ? `${fixed(low, decimals)} or more`
        : high !== null
          ? `${fixed(high, decimals)} or less`
          : "no interval";
    return html`<span class="value">${fixed(value, decimals)}${unitText}</span> <span class="interval">${bound}</span>`;
  }
  const needed =
    high > low ? Math.max(decimals, Math.min(decimals + 2, Math.ceil(-log10(high - low)))) : decimals;
  return html`<span class="value">${fixed(value, needed)}${unitText}</span> <span class="interval">${fixed(low, needed)} to ${fixed(high, needed)}</span>`;
}

/** A single reading in the digits it has: it warrants no further ones. */
export function asStated(value: number, unit: string): Html {
  const text = withMinusSign(String(Number(value.toPrecision(4))));
  return html`<span class="value">${text}${narrowSpace}${unit}</span>`;
}

/** A value with its interval: "−38.0 °C" and beneath or beside it "−38.4 to −37.6". */
export function interval(value: number, low: number | null, high: number | null, unit = "", most = 4): Html {
  const halfWidth = low !== null && high !== null ? (high - low) / 2 : Number.NaN;
  const decimals =
    Number.isFinite(halfWidth) && halfWidth > 0
      ? decimalsFor(halfWidth, most)
      : Math.max(0, Math.min(most, 2 - Math.floor(log10(Math.abs(value) || 1))));
  const unitText = unit === "" ? "" : `${narrowSpace}${unit}`;
  const main = html`<span class="value">${fixed(value, decimals)}${unitText}</span>`;
  if (low === null || high === null) return main;
  return html`${main} <span class="interval">${fixed(low, decimals)} to ${fixed(high, decimals)}</span>`;
}
