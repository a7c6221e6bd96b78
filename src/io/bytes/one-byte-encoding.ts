import { foldText, wordsOf } from "../vocabulary/fold-text.js";
import { isTermWord } from "../vocabulary/terms/quantity-terms.js";

const encodings = [
  { label: "windows-1252", name: "Windows-1252" },
  { label: "windows-1250", name: "Windows-1250" },
  { label: "windows-1254", name: "Windows-1254" },
  { label: "windows-1251", name: "Windows-1251" },
  { label: "macintosh", name: "Mac Roman" },
];

/** Words of the languages that are written in Windows-1250, without an accent of their own. */
const central =
  /\b(?:vzorek|vzorky|teplota|frekvence|norma|nazwa|mieszanka|temperatura pr|stopie|uwagi|minta|keverék|frekvencia|visszapattan|uzorak|smjesa|zmes|teplotn)/i;

/**
 * Which encoding of one byte a character makes the most of a text: it turns accented words into words of the trade,
 * and leaves no mark of typography inside a word. Windows-1252 where nothing speaks for another.
 */
export function oneByteEncodingOf(
  sample: Uint8Array,
  textOf: (label: string) => string,
): { label: string; name: string } {
  let best = encodings[0];
  let most = Number.NEGATIVE_INFINITY;
  for (const encoding of encodings) {
    const text = textOf(encoding.label).slice(0, 20_000);
    let score = senseOf(text);
    if (encoding.label === "windows-1252") score += 0.5;
    if (encoding.label === "windows-1250" && central.test(text)) score += 1.5;
    if (encoding.label === "macintosh" && !sample.includes(10)) score += 1;
    if (score > most) {
      most = score;
      best = encoding;
    }
  }
  return best;
}

function senseOf(text: string): number {
  let score = 0;
  for (const word of new Set(text.match(/[\p{L}\p{M}]+/gu) ?? [])) {
    if (/^[\x20-\x7e]*$/.test(word)) continue;
    if (wordsOf(foldText(word)).some(isTermWord)) score += 4;
    const isCyrillic = /^\p{Script=Cyrillic}+$/u.test(word);
    if (isCyrillic) score += word.length >= 3 ? 1 : 0;
    else {
      if (/\p{Script=Cyrillic}/u.test(word)) score -= 2;
      // "Îáðàçåö" is Cyrillic in the wrong encoding.
      if (word.length >= 3 && (word.match(/[^\x20-\x7e]/g) ?? []).length > 0.6 * word.length) score -= 2;
      if (/\p{Ll}\p{Lu}/u.test(word)) score -= 1;
    }
  }
  score += 2 * Math.min(3, (text.match(/(?<!\p{L})° ?[CFK](?!\p{L})/gu) ?? []).length);
  // Marks that stand inside or right before words in no language.
  score -= Math.min(
    20,
    (text.match(/[¡¿¢¤¦§¨©ª¬®¯¶¸†‡‰€ˇ˘˝˛](?=\p{L})|\p{L}[¡¿¢¤¦§¨©¬®¯¶¸†‡‰€ˇ˘˝˛]/gu) ?? []).length,
  );
  return score;
}
