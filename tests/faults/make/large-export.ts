import { closeSync, openSync, writeSync } from "node:fs";

/**
 * Writes an invented temperature sweep that was logged far too fast: so many rows from −80 to 40 °C, about 32
 * bytes each, in three frequencies that take turns.
 */
export function writeLargeExport(file: string, rows: number, encoding: "utf8" | "utf16le" = "utf8"): void {
  const descriptor = openSync(file, "w");
  const write = (text: string) => writeSync(descriptor, Buffer.from(text, encoding));
  try {
    if (encoding === "utf16le") write("\uFEFF");
    write("Sample;Larch winter\nDeformation;tension\nTemperature (°C);Frequency (Hz);E' (MPa);tan δ\n");
    let lines: string[] = [];
    for (let i = 0; i < rows; i++) {
      const frequency_Hz = [1, 3.16, 10][i % 3];
      const temperature_C = -80 + (120 * i) / rows;
      const glass_C = -38 + 6 * Math.log10(frequency_Hz);
      const glassy = 1 / (1 + Math.exp((temperature_C - glass_C) / 7));
      const tanDelta = 0.08 + 0.9 * Math.exp(-(((temperature_C - glass_C - 6) / 14) ** 2));
      lines.push(
        `${temperature_C.toFixed(4)};${frequency_Hz.toFixed(3)};${(4 + 2400 * glassy).toFixed(4)};${tanDelta.toFixed(5)}\n`,
      );
      if (lines.length === 20_000) {
        write(lines.join(""));
        lines = [];
      }
    }
    write(lines.join(""));
  } finally {
    closeSync(descriptor);
  }
}
