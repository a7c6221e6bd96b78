/** A row of numbers in a long run of such rows, or anything else. */
export type LineKind = "row" | "other";

/** Bytes that numbers, their marks, dates and what parts cells are made of. */
const plain = new Uint8Array(256);
for (const mark of "0123456789+-.,;|\t '\"eE\r/:%") plain[mark.charCodeAt(0)] = 1;

/**
 * Tells rows of numbers from other lines by their bytes. A row is one whose words are those of the line above
 * (most rows have none), and that stands in a run of them: the first rows of a run count as other lines, so
 * that short sections stay whole.
 */
export class LineSorter {
  private words = 0;
  private run = 0;

  constructor(private readonly wholeRun: number) {}

  kindOf(bytes: Uint8Array, start: number, end: number): LineKind {
    let digits = 0;
    // FNV-1a over what is no part of a number.
    let words = 0x811c9dc5;
    for (let i = start; i < end; i++) {
      const byte = bytes[i];
      if (byte >= 48 && byte <= 57) digits++;
      else if (plain[byte] === 0) words = Math.imul(words ^ byte, 0x01000193);
    }
    const isRow = digits >= 4 && digits >= 0.3 * (end - start) && words === this.words;
    this.words = words;
    this.run = isRow ? this.run + 1 : 0;
    return this.run > this.wholeRun ? "row" : "other";
  }
}
