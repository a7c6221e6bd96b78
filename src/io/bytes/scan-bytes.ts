/** The bytes from `first` on as words of four, as far as they reach. */
function wordsIn(bytes: Uint8Array): { words: Int32Array; first: number } {
  // A word may only stand at every fourth place of the memory.
  const first = -bytes.byteOffset & 3;
  const count = (bytes.length - first) >> 2;
  if (count <= 0) return { words: new Int32Array(0), first: 0 };
  return { words: new Int32Array(bytes.buffer, bytes.byteOffset + first, count), first };
}

/** The highest bit of each byte of a word. */
const high = 0x80808080 | 0;

/** Where the run begins that reaches to the end and is all ASCII without a zero byte. */
export function startOfAsciiTail(bytes: Uint8Array): number {
  const { words, first } = wordsIn(bytes);
  /** Behind the last four words that are not all plain. Looked for forwards, which is faster than backwards. */
  let behind = first;
  let word = 0;
  for (; word + 4 <= words.length; word += 4) {
    const bits =
      unlikePlain(words[word]) |
      unlikePlain(words[word + 1]) |
      unlikePlain(words[word + 2]) |
      unlikePlain(words[word + 3]);
    if ((bits & high) !== 0) behind = first + 4 * (word + 4);
  }
  const rest = first + 4 * word;
  let at = bytes.length;
  while (at > rest && isPlain(bytes[at - 1])) at--;
  if (at > rest) return at;
  at = behind;
  while (at > 0 && isPlain(bytes[at - 1])) at--;
  return at;
}

/** Has a highest bit set where a word holds a byte that is no ASCII, or a zero byte, which borrows when one is taken off it. */
function unlikePlain(word: number): number {
  return word | (word - 0x01010101);
}

function isPlain(byte: number): boolean {
  return byte > 0 && byte < 0x80;
}

/** How many of the first bytes are control characters that texts do not hold. */
export function controlsAmong(bytes: Uint8Array, count: number): number {
  const { words, first } = wordsIn(bytes);
  const wholeWords = Math.max(0, Math.min(words.length, (count - first) >> 2));
  const rest = first + 4 * wholeWords;
  let found = controlsBetween(bytes, 0, Math.min(first, count)) + controlsBetween(bytes, rest, count);
  for (let word = 0; word < wholeWords; word++) {
    if (!mayHoldControl(words[word])) continue;
    const at = first + 4 * word;
    found += controlsBetween(bytes, at, at + 4);
  }
  return found;
}

/**
 * False where each byte of a word is printable ASCII or a line feed. Of bytes below 0x80 none carries into the next: one below
 * 32 leaves its highest bit clear when 0x60 is added, one other than a line feed sets it when 0x7f is added to its difference.
 */
function mayHoldControl(word: number): boolean {
  const belowBlank = ~(word + 0x60606060);
  const noLineFeed = (word ^ 0x0a0a0a0a) + 0x7f7f7f7f;
  return ((word | (belowBlank & noLineFeed)) & high) !== 0;
}

function controlsBetween(bytes: Uint8Array, start: number, end: number): number {
  let found = 0;
  for (let at = start; at < end; at++) if (isControl(bytes[at])) found++;
  return found;
}

/** Whether a byte is a control character that no text holds. */
export function isControl(byte: number): boolean {
  return byte < 32 && byte !== 9 && byte !== 10 && byte !== 13 && byte !== 12 && byte !== 26;
}
