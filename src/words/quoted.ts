/** Text from a file for a message: one line, short. */
export function quoted(text: string, most = 60): string {
  const line = shown(text);
  return `"${line.length > most ? `${line.slice(0, most - 1)}…` : line}"`;
}

/** A text from a file without control characters and marks that turn the writing direction, blanks single. */
export function shown(text: string): string {
  if (isPlain(text)) return text;
  let plain = "";
  for (const character of text.slice(0, 400)) plain += isUnseen(character.charCodeAt(0)) ? " " : character;
  return plain.replace(/ +/g, " ").trim();
}

/** Nothing to take out: printable ASCII, with single blanks inside only. */
function isPlain(text: string): boolean {
  if (text.length > 400) return false;
  let before = 32;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code < 32 || code > 126 || (code === 32 && before === 32)) return false;
    before = code;
  }
  return before !== 32 || text === "";
}

function isUnseen(code: number): boolean {
  return (
    code < 0x20 ||
    (code >= 0x7f && code <= 0x9f) ||
    (code >= 0x2028 && code <= 0x202e) ||
    (code >= 0x2066 && code <= 0x2069)
  );
}
