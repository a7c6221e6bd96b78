import { textOfUtf8 } from "../../bytes/decode-text.js";

/** Lines of more characters than this are no table that a laboratory writes. */
export const longestLine = 4_000_000;

/** A quoted cell may hold a few line breaks (headers do); a stray quote must not swallow the file. */
const longestQuotedRecord = 4000;

/** Of the first lines each is a sample of the text, up to the last sampled line every so manieth. */
const denseLines = 100;
const sampledLines = 600;
const sampleStride = 8;

/** What ends every line of a text that `withLineFeeds` has gone over. */
export const lineFeed = 10;
const carriageReturn = 13;

/** Walks over the lines of a text in UTF-8, each ended by "\n" or "\r\n"; see `withLineFeeds`. */
export class LineWalker {
  /** The current line in the bytes, its line end left out. */
  start = 0;
  end = 0;
  line = 0;
  /** Where the next line starts. */
  next = 0;
  /**
   * @param samples where to keep the place at which each sampled line starts that is met, by its number; rows
   * passed as plain numbers are left out
   */
  constructor(
    readonly utf8: Uint8Array,
    private readonly samples: Map<number, number> | null = null,
  ) {}

  /** Moves on to the next line; false at the end of the text. */
  advance(): boolean {
    const { utf8, next } = this;
    if (next >= utf8.length) return false;
    this.start = next;
    this.enter(true);
    this.take(next);
    return true;
  }

  /** Moves on to the next sampled line; false where there is none. */
  advanceToSample(): boolean {
    while (this.line < sampledLines && this.advance()) if (isSampled(this.line)) return true;
    return false;
  }

  /** Moves past a line that the caller has read by itself. */
  pass(next: number, isPlainNumbers: boolean): void {
    this.enter(!isPlainNumbers);
    this.next = next;
  }

  private enter(mayBeSample: boolean): void {
    this.line++;
    if (this.samples !== null && mayBeSample && isSampled(this.line)) this.samples.set(this.line, this.next);
  }

  /** The line at hand. */
  text(): string {
    return textOfUtf8(this.utf8, this.start, this.end);
  }

  /** Whether the line at hand has more than so many characters. */
  isLongerThan(most: number): boolean {
    const { utf8, start, end } = this;
    return end - start > most && charactersOf(utf8, start, end) > most;
  }

  /** Goes to the line that starts at a place, whatever its number. */
  goTo(start: number): void {
    this.start = start;
    this.take(start);
  }

  /** Finds the end of the line that starts at a place. */
  private take(start: number): void {
    const { utf8 } = this;
    let end = start;
    while (end < utf8.length && utf8[end] !== lineFeed) end++;
    this.next = end + 1;
    this.end = end > start && utf8[end - 1] === carriageReturn ? end - 1 : end;
  }

  /**
   * Where the current line leaves a quoted cell open, takes in the lines up to the quote that closes it.
   * Called on the few lines that are not plain rows of numbers.
   */
  joinQuoted(delimiter: string): void {
    if (delimiter === "blanks") return;
    const mark = delimiter.charCodeAt(0);
    if (!this.leavesOpen(this.start, this.end, mark, false)) return;
    const { utf8, start, next, end, line } = this;
    let characters = 0;
    for (let from = start; this.next < utf8.length; ) {
      characters += charactersOf(utf8, from, this.next);
      if (characters >= longestQuotedRecord) break;
      from = this.next;
      this.enter(true);
      this.take(from);
      if (!this.leavesOpen(from, this.end, mark, true)) return;
    }
    this.next = next;
    this.end = end;
    for (; this.line > line; this.line--) this.samples?.delete(this.line);
  }

  /** Whether a quoted cell is still open at the end of a span, `open` telling whether one was at its start. */
  private leavesOpen(start: number, end: number, mark: number, open: boolean): boolean {
    const { utf8 } = this;
    let isOpen = open;
    let atCellStart = !open;
    for (let i = start; i < end; i++) {
      const code = utf8[i];
      if (isOpen) {
        if (code !== 34) continue;
        if (utf8[i + 1] === 34) i++;
        else isOpen = false;
      } else if (code === 34 && atCellStart) {
        // A quote that is the whole of its cell is a double prime, and opens nothing.
        isOpen = i + 1 < end && utf8[i + 1] !== mark;
        atCellStart = false;
      } else if (code === mark) atCellStart = true;
      else if (code !== 32) atCellStart = false;
    }
    return isOpen;
  }
}

function isSampled(line: number): boolean {
  return line <= denseLines || (line <= sampledLines && line % sampleStride === 0);
}

/**
 * The text with a line feed at the end of every line, the last one too, whatever mix of "\n", "\r\n" and "\r" it came
 * with; so a scan within a line needs no other bound. A return before a line feed stays. A copy only where one is needed.
 */
export function withLineFeeds(utf8: Uint8Array): Uint8Array {
  const text = withoutLoneReturns(utf8);
  if (text[text.length - 1] === lineFeed) return text;
  const ended = new Uint8Array(text.length + 1);
  ended.set(text);
  ended[text.length] = lineFeed;
  return ended;
}

/**
 * Line feeds in place of the returns that end a line by themselves, as old Macs wrote them. Those right before a line
 * feed, or at the end, are no such; nor are those of a text that has them behind its line feeds.
 */
export function withoutLoneReturns(utf8: Uint8Array): Uint8Array {
  const first = utf8.indexOf(lineFeed);
  if (first >= 0 && isBeforeReturn(utf8, first) && isBeforeReturn(utf8, utf8.indexOf(lineFeed, first + 1)))
    return utf8;
  let text = utf8;
  for (let at = utf8.indexOf(carriageReturn); at >= 0; at = utf8.indexOf(carriageReturn, at)) {
    const start = at;
    while (utf8[at] === carriageReturn) at++;
    if (at === utf8.length || utf8[at] === lineFeed) continue;
    if (text === utf8) text = utf8.slice();
    text.fill(lineFeed, start, at);
  }
  return text;
}

function isBeforeReturn(utf8: Uint8Array, at: number): boolean {
  return utf8[at + 1] === carriageReturn && utf8[at - 1] !== carriageReturn;
}

/** How many characters of a string a span of UTF-8 makes. */
export function charactersOf(utf8: Uint8Array, start: number, end: number): number {
  let characters = 0;
  for (let at = start; at < end; at++) characters += charactersIn(utf8[at]);
  return characters;
}

/** What a byte adds to them: none where it continues a character, two where it begins one of a surrogate pair. */
function charactersIn(byte: number): 0 | 1 | 2 {
  if (byte < 0x80) return 1;
  if (byte < 0xc0) return 0;
  return byte < 0xf0 ? 1 : 2;
}
