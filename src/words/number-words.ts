/** A number with a true minus sign, as the reports write temperatures. */
export function signed(value: number, digits = 0): string {
  const text = Math.abs(value).toFixed(digits);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

/** A frequency in words with three digits. */
export function hertz(frequency_Hz: number): string {
  return `${Number(frequency_Hz.toPrecision(3))} Hz`;
}
