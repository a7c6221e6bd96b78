/** Rows of cells as aligned columns; the first column to the left, the others to the right. */
export function table(head, rows) {
  const all = [head, ...rows].map((row) => row.map(String));
  const widths = head.map((_, i) => Math.max(...all.map((row) => [...(row[i] ?? "")].length)));
  const line = (row) =>
    row
      .map((cell, i) => {
        const blanks = " ".repeat(widths[i] - [...cell].length);
        return i === 0 || i === row.length - 1 ? cell + blanks : blanks + cell;
      })
      .join("  ")
      .trimEnd();
  return [line(all[0]), widths.map((width) => "-".repeat(width)).join("  "), ...all.slice(1).map(line)].join(
    "\n",
  );
}

export function median(values) {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

export function milliseconds(ms) {
  if (ms >= 10_000) return `${(ms / 1000).toFixed(1)} s`;
  if (ms >= 10) return `${ms.toFixed(0)} ms`;
  return ms >= 1 ? `${ms.toFixed(1)} ms` : `${(1000 * ms).toPrecision(3)} µs`;
}
export const megabytes = (mb) => `${mb.toFixed(0)} MB`;
export const kibibytes = (bytes) => `${(bytes / 1024).toFixed(1)} KiB`;
export const times = (ratio) => `${ratio.toPrecision(3)}×`;
