const mostRemembered = 500;
const longestKey = 400;

/**
 * Remembers what a pure function gave for a text, for the folder that repeats the same headers and lines in every
 * file. All is forgotten when it grows to several hundred texts. What is given out again must not be changed.
 */
export class Memo<Result> {
  private readonly results = new Map<string, Result>();

  /** @param make called where the text is new, or too long to be kept */
  of(text: string, make: () => Result): Result {
    if (text.length > longestKey) return make();
    const known = this.results.get(text);
    // A result may be null, but never undefined.
    if (known !== undefined) return known;
    const result = make();
    if (this.results.size >= mostRemembered) this.results.clear();
    this.results.set(text, result);
    return result;
  }
}

/** One text for a row of cells, another for every other row. */
export function keyOfCells(cells: readonly string[]): string {
  let key = "";
  for (const cell of cells) key += `${cell.length}:${cell}`;
  return key;
}
