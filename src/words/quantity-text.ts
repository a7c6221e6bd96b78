import { log10 } from "../numeric/elementary/logarithm.js";

/** U+2212; a hyphen would be read as a dash and wraps. */
const minusSign = "−";

/** Replaces hyphens by minus signs, in exponents too. */
export function withMinusSign(text: string): string {
  return text.replaceAll("-", minusSign);
}

/** A number with a fixed count of decimals and a true minus sign; never "−0". @example fixed(-0.04, 1) // "0.0" */
export function fixed(value: number, decimals = 0): string {
  const text = value.toFixed(decimals);
  return withMinusSign(Number(text) === 0 ? text.replace("-", "") : text);
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
  if (value === 0) return `0 ${unit}`;
  const size = Math.abs(value);
  const [scale, prefix] = prefixes.find(([limit]) => size >= limit * 0.9995) ?? prefixes[prefixes.length - 1];
  return `${significant(value / scale, digits)} ${prefix}${unit}`;
}

/** A modulus with its metric prefix: "2.50 MPa". */
export function pascalText(value_Pa: number, digits = 3): string {
  return withPrefix(value_Pa, "Pa", digits);
}

/** A frequency as a laboratory writes it: "1 Hz", "3.16 Hz", "152 kHz"; none stated where it is null or NaN. */
export function frequencyText(frequency_Hz: number | null): string {
  if (frequency_Hz === null || Number.isNaN(frequency_Hz)) return "an unstated frequency";
  if (frequency_Hz < 1e-3 || frequency_Hz >= 1e9) return `${significant(frequency_Hz)} Hz`;
  const size = Number(frequency_Hz.toPrecision(3));
  const [scale, prefix] = prefixes.find(([limit]) => size >= limit) ?? [1, ""];
  return `${Number((size / scale).toPrecision(3))} ${prefix}Hz`;
}

/** A temperature for a sentence: "−38.2 °C". */
export function temperatureText(temperature_C: number, decimals = 1): string {
  return `${fixed(temperature_C, decimals)} °C`;
}

/** A temperature as stated, such as a use temperature, without needless decimals: "−20 °C", "2.5 °C". */
export function statedTemperature(temperature_C: number): string {
  const rounded = Number(temperature_C.toFixed(1));
  return `${withMinusSign(String(Object.is(rounded, -0) ? 0 : rounded))} °C`;
}

/** A share in per cent: "1.2 %". */
export function percentText(fraction: number, decimals = 0): string {
  return `${fixed(100 * fraction, decimals)} %`;
}

/** A part of a whole, which is neither none nor all of it. @example partText(0.001) // "less than 1 %" */
export function partText(share: number): string {
  if (share < 0.005) return "less than 1 %";
  return share > 0.995 ? "more than 99 %" : percentText(share);
}

/** A count with its noun. @example countText(1, "file") // "1 file" */
export function countText(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? "" : "s"}`;
}

/** The symbol of the modulus as the mode of deformation has it: E in tension, bending and compression, G in shear. @example modulusSymbol("shear") // "G" */
export function modulusSymbol(deformation: string): "E" | "G" | "M" {
  if (deformation === "shear") return "G";
  return deformation === "unstated" ? "M" : "E";
}
