/** A temperature for a sentence: "−38.2 °C", with a true minus sign. */
export function formatTemperature(temperature_C: number, digits = 1): string {
  return `${formatNumber(temperature_C, digits)} °C`;
}

/** A frequency for a sentence: "10 Hz", "3.16 Hz", "1.2e+5 Hz" as "120 kHz". */
export function formatFrequency(frequency_Hz: number): string {
  if (Number.isNaN(frequency_Hz)) return "an unstated frequency";
  const units: [number, string][] = [
    [1e6, "MHz"],
    [1e3, "kHz"],
    [1, "Hz"],
    [1e-3, "mHz"],
  ];
  const [scale, unit] = units.find(([scale]) => frequency_Hz >= scale * 0.9995) ?? units[units.length - 1];
  return `${Number((frequency_Hz / scale).toPrecision(3))} ${unit}`;
}

/** A number with a fixed count of decimals and a true minus sign; "−0.0" is written "0.0". */
export function formatNumber(value: number, digits: number): string {
  const text = value.toFixed(digits);
  if (!text.startsWith("-")) return text;
  return Number(text) === 0 ? text.slice(1) : `−${text.slice(1)}`;
}

/** A number with a true minus sign, as the reports write temperatures. */
export function signed(value: number, digits = 0): string {
  const text = Math.abs(value).toFixed(digits);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

/** A frequency in words with three digits. */
export function hertz(frequency_Hz: number): string {
  return `${Number(frequency_Hz.toPrecision(3))} Hz`;
}
