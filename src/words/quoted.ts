/** Text from a file for a message: one line, short. */
export function quoted(text: string, most = 60): string {
  const line = shown(text);
  return `"${line.length > most ? `${line.slice(0, most - 1)}…` : line}"`;
}

/** Characters of a text that are shown; no name or header is longer. */
const longest = 400;

/**
 * A text from a file as a reader sees it: without control characters and what has no width or turns the writing
 * direction, blanks of every kind single, letters with their accents composed.
 */
export function shown(text: string): string {
  if (isPlain(text)) return text;
  return text
    .slice(0, longest)
    .normalize("NFC")
    .replace(/\p{Default_Ignorable_Code_Point}+/gu, "")
    .replace(/[\p{Cc}\s]+/gu, " ")
    .trim();
}

/** A text from a file as it stands there, but on one line and without marks that turn the writing direction. */
export function onOneLine(text: string): string {
  if (isPlain(text)) return text;
  return text
    .slice(0, longest)
    .replace(/[\p{Cc}\p{Bidi_Control}\u2028\u2029]/gu, " ")
    .replace(/ +/g, " ")
    .trim();
}

/** Nothing to take out: printable ASCII, with single blanks inside only. */
function isPlain(text: string): boolean {
  if (text.length > longest) return false;
  let before = 32;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code < 32 || code > 126 || (code === 32 && before === 32)) return false;
    before = code;
  }
  return before !== 32 || text === "";
}
