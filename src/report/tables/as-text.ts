/**
 * A text as a spreadsheet takes it for text: one that it would take for a formula gets a leading apostrophe, and so does
 * one that begins with an apostrophe, so that two texts never become one.
 */
export function asText(text: string): string {
  // Leading blanks are skipped by some spreadsheets before they look for a formula.
  const startsFormula = /^'|^\s*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]|^[\t\r\n]/.test(text);
  return startsFormula ? `'${text}` : text;
}
