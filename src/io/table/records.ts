/** One record of a text: a line, or several where a quoted cell holds a line break. */
export interface RecordSpan {
  start: number;
  end: number;
  /** Line on which the record begins, from 1. */
  line: number;
}

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
    if (delimiter === "blanks" || !this.isOpen(this.start, this.end, delimiter)) return;
    const { next, end, line } = this;
    const limit = this.start + longestQuotedRecord;
    while (this.next < this.text.length && this.next < limit) {
      let stop = this.text.indexOf(this.returnsOnly ? "\r" : "\n", this.next);
      if (stop < 0) stop = this.text.length;
      this.line++;
      this.next = stop + 1;
      this.end = stop > this.start && this.text.charCodeAt(stop - 1) === 13 ? stop - 1 : stop;
      if (!this.isOpen(this.start, this.end, delimiter)) return;
    }
    this.next = next;
    this.end = end;
    this.line = line;
  }

  private isOpen(start: number, end: number, delimiter: string): boolean {
    const { text } = this;
    const first = text.indexOf('"', start);
    if (first < 0 || first >= end) return false;
    const mark = delimiter.charCodeAt(0);
    let open = false;
    let cellStart = true;
    for (let i = start; i < end; i++) {
      const code = text.charCodeAt(i);
      if (open) {
        if (code === 34) {
          if (text.charCodeAt(i + 1) === 34) i++;
          else open = false;
        }
      } else if (code === 34 && cellStart) {
        // A quote that ends its own cell at once ("G',\"") is a double prime, not the start of a quoted cell.
        open = i + 1 < end && text.charCodeAt(i + 1) !== mark;
        cellStart = false;
      } else if (code === mark) cellStart = true;
      else if (code !== 32) cellStart = false;
    }
    return open;
  }
}
