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
  let word = words.length;
  let at = bytes.length;
  while (at > first + 4 * word && isPlain(bytes[at - 1])) at--;
  if (at === first + 4 * word) {
    while (
      word >= 4 &&
      ((unlikePlain(words[word - 1]) |
        unlikePlain(words[word - 2]) |
        unlikePlain(words[word - 3]) |
        unlikePlain(words[word - 4])) &
        high) ===
        0
    ) {
      word -= 4;
    }
    while (word > 0 && (unlikePlain(words[word - 1]) & high) === 0) word--;
    at = first + 4 * word;
  }
  while (at > 0 && isPlain(bytes[at - 1])) at--;
  return at;
}

/** Has the highest bit of a byte set where a word's byte is no ASCII, or zero: that one borrows when one is taken off it. */
function unlikePlain(word: number): number {
  return word | ((word - 0x01010101) & ~word);
}

function isPlain(byte: number): boolean {
  return byte > 0 && byte < 0x80;
}

/** How many of the first bytes are control characters that texts do not hold. */
export function controlsAmong(bytes: Uint8Array, count: number): number {
  const { words, first } = wordsIn(bytes);
  let found = 0;
  let at = 0;
  for (; at < count; at++) {
    // Words without a byte below 32 are passed as a whole.
    if (at >= first && ((at - first) & 3) === 0) {
      let word = (at - first) >> 2;
      while (word < words.length && ((words[word] - 0x20202020) & ~words[word] & high) === 0) word++;
      at = first + 4 * word;
      if (at >= count) break;
    }
    if (isControl(bytes[at])) found++;
  }
  return found;
}

/** Whether a byte is a control character that no text holds. */
export function isControl(byte: number): boolean {
  return byte < 32 && byte !== 9 && byte !== 10 && byte !== 13 && byte !== 12 && byte !== 26;
}
