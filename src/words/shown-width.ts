/** Columns a text takes on a terminal: Chinese and Japanese characters take two, combining marks none. */
export function shownWidth(text: string): number {
  let width = 0;
  for (const character of text) {
    const code = character.codePointAt(0)!;
    if (code >= 0x300 && code <= 0x36f) continue;
    const isWide =
      (code >= 0x1100 && code <= 0x115f) ||
      (code >= 0x2e80 && code <= 0xa4cf) ||
      (code >= 0xac00 && code <= 0xd7a3) ||
      (code >= 0xf900 && code <= 0xfaff) ||
      (code >= 0xfe30 && code <= 0xfe6f) ||
      (code >= 0xff00 && code <= 0xff60) ||
      (code >= 0xffe0 && code <= 0xffe6) ||
      (code >= 0x20000 && code <= 0x3fffd);
    width += isWide ? 2 : 1;
  }
  return width;
}

/** The text cut or filled with blanks to so many columns. */
export function fitted(text: string, columns: number): string {
  if (shownWidth(text) <= columns) return text + " ".repeat(columns - shownWidth(text));
  let cut = "";
  let width = 0;
  for (const character of text) {
    const next = shownWidth(character);
    if (width + next > columns - 1) break;
    cut += character;
    width += next;
  }
  return `${cut}…${" ".repeat(columns - 1 - width)}`;
}
