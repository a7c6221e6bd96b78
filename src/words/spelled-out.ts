const names = new Map([
  ["\t", "tab"],
  ["\n", "line break"],
  ["\r", "line break"],
  ["\u00a0", "no-break space"],
  ["\u00ad", "soft hyphen"],
  ["\u200b", "zero-width space"],
  ["\u200c", "zero-width non-joiner"],
  ["\u200d", "zero-width joiner"],
  ["\u2060", "word joiner"],
  ["\ufeff", "byte order mark"],
]);

/**
 * A text with what nobody sees in it put into words.
 * @example spelledOut("\tBirch\u00a060") // "⟨tab⟩Birch⟨no-break space⟩60"
 */
export function spelledOut(text: string): string {
  return text
    .slice(0, 120)
    .replace(/ {2,}/g, (blanks) => `⟨${blanks.length} blanks⟩`)
    .replace(
      /[\p{Cc}\p{Default_Ignorable_Code_Point}\p{M}]|[^\S ]/gu,
      (one) => `⟨${names.get(one) ?? codePoint(one)}⟩`,
    );
}

function codePoint(character: string): string {
  return `U+${character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, "0")}`;
}
