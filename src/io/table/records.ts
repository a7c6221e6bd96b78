/** Lines longer than this are no table that a laboratory writes. */
export const longestLine = 4_000_000;

/** A quoted cell may hold a few line breaks (headers do); a stray quote must not swallow the file. */
const longestQuotedRecord = 4000;

/** Walks over the lines of a text; "\n", "\r\n" and a lone "\r" all end one. */
export class LineWalker {
  start = 0;
  end = 0;
  line = 0;
  private next = 0;
  private readonly returnsOnly: boolean;

  constructor(readonly text: string) {
    const sample = text.slice(0, 1 << 16);
    this.returnsOnly = sample.includes("\r") && !sample.includes("\n");
  }

  /** Moves on to the next line; false at the end of the text. */
  advance(): boolean {
    const { text } = this;
    if (this.next >= text.length) return false;
    this.start = this.next;
    this.line++;
    let end = text.indexOf(this.returnsOnly ? "\r" : "\n", this.start);
    if (end < 0) end = text.length;
    this.next = end + 1;
    this.end = end > this.start && text.charCodeAt(end - 1) === 13 ? end - 1 : end;
    return true;
  }

  /**
   * Where the current line leaves a quoted cell open, takes in the lines up to the quote that closes it.
   * Called on the few lines that are not plain rows of numbers.
   */
  joinQuoted(delimiter: string): void {
    if (delimiter === "blanks") return;
    const mark = delimiter.charCodeAt(0);
    if (!this.leavesOpen(this.start, this.end, mark, false)) return;
    const { next, end, line } = this;
    const limit = this.start + longestQuotedRecord;
    while (this.next < this.text.length && this.next < limit) {
      let stop = this.text.indexOf(this.returnsOnly ? "\r" : "\n", this.next);
      if (stop < 0) stop = this.text.length;
      const start = this.next;
      this.line++;
      this.next = stop + 1;
      this.end = stop > start && this.text.charCodeAt(stop - 1) === 13 ? stop - 1 : stop;
      if (!this.leavesOpen(start, this.end, mark, true)) return;
    }
    this.next = next;
    this.end = end;
    this.line = line;
  }

  /** Whether a quoted cell is still open at the end of a span, `open` telling whether one was at its start. */
  private leavesOpen(start: number, end: number, mark: number, open: boolean): boolean {
    const { text } = this;
    let isOpen = open;
    let atCellStart = !open;
    for (let i = start; i < end; i++) {
      const code = text.charCodeAt(i);
      if (isOpen) {
        if (code !== 34) continue;
        if (text.charCodeAt(i + 1) === 34) i++;
        else isOpen = false;
      } else if (code === 34 && atCellStart) {
        // A quote that is the whole of its cell is a double prime, and opens nothing.
        isOpen = i + 1 < end && text.charCodeAt(i + 1) !== mark;
        atCellStart = false;
      } else if (code === mark) atCellStart = true;
      else if (code !== 32) atCellStart = false;
    }
    return isOpen;
  }
}
