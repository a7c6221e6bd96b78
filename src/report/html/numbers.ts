import { exp10 } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { type Html, html } from "./html.js";

/** U+2212; a hyphen would be read as a dash and wraps. */
const minusSign = "−";
const narrowSpace = "\u202f";

/** Replaces hyphens by minus signs, in exponents too. */
export function withMinusSign(text: string): string {
  return text.replaceAll("-", minusSign);
}

/** A number with a fixed count of decimals; never "−0". */
export function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return withMinusSign(Number(text) === 0 ? text.replace("-", "") : text);
}

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

/** Three significant digits, without exponent between 0.001 and 99999. @example significant(0.01234) // "0.0123" */
export function significant(value: number, digits = 3): string {
  if (value === 0) return "0";
  const size = Number(Math.abs(value).toPrecision(digits));
  if (size >= 1e5 || size < 1e-3) {
    const [mantissa, exponent] = value.toExponential(digits - 1).split("e");
    return withMinusSign(`${mantissa}·10${superscript(Number(exponent))}`);
  }
  const decimals = Math.max(0, digits - 1 - Math.floor(log10(size)));
  return fixed(value, decimals);
}

function superscript(exponent: number): string {
  const digits = "⁰¹²³⁴⁵⁶⁷⁸⁹";
  return String(exponent).replace(/./g, (sign) => (sign === "-" ? "⁻" : digits[Number(sign)]));
}

const prefixes: [number, string][] = [
  [1e9, "G"],
  [1e6, "M"],
  [1e3, "k"],
  [1, ""],
  [1e-3, "m"],
  [1e-6, "µ"],
];

/** A value with a metric prefix and its unit as text. @example withPrefix(2.5e6, "Pa") // "2.50 MPa" */
export function withPrefix(value: number, unit: string, digits = 3): string {
  if (value === 0) return `0${narrowSpace}${unit}`;
  const size = Math.abs(value);
  const [scale, prefix] = prefixes.find(([limit]) => size >= limit * 0.9995) ?? prefixes[prefixes.length - 1];
  return `${significant(value / scale, digits)}${narrowSpace}${prefix}${unit}`;
}

/** A modulus with its metric prefix: "2.50 MPa". */
export function pascal(value_Pa: number): string {
  return withPrefix(value_Pa, "Pa");
}

/** A frequency as a laboratory writes it: 1 Hz, 3.16 Hz, 2.4 kHz. */
export function frequencyText(frequency_Hz: number | null): string {
  if (frequency_Hz === null) return "an unstated frequency";
  if (frequency_Hz < 1e-3 || frequency_Hz >= 1e9) return `${significant(frequency_Hz)}${narrowSpace}Hz`;
  const rounded = Number(frequency_Hz.toPrecision(3));
  if (rounded >= 1000) return withPrefix(rounded, "Hz");
  return `${withMinusSign(String(rounded))}${narrowSpace}Hz`;
}

/** A temperature as stated, such as a use temperature, without needless decimals. */
export function statedTemperature(temperature_C: number): string {
  const rounded = Number(temperature_C.toFixed(1));
  return `${withMinusSign(String(Object.is(rounded, -0) ? 0 : rounded))}${narrowSpace}°C`;
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
