import { hasIdeographs, wordsOf } from "./fold-text.js";
import { isLabel, isResponse, isText, type Quantity } from "./quantities.js";
import { ideographTerms } from "./terms/ideograph-terms.js";
import { meanWords, qualifierOf, statisticLetters } from "./terms/qualifiers.js";
import { longestTerm, neutralWords, quantityOfTerm } from "./terms/quantity-terms.js";
import { type ModulusLetter, modulusSymbols, type SymbolMeaning, symbols } from "./terms/symbols.js";

export interface NameMeaning {
  quantity: Quantity | null;
  letter: ModulusLetter | null;
  /** Words that no term explains. */
  strays: string[];
  /** A trailing count, as in "Rebound 3". */
  repeat: number | null;
  /** True for a column of means or medians. */
  mean: boolean;
}

const modulusWords = new Set(
  wordsOf("modulus moduli modul module modulo modules no nr n number nummer numero"),
);
const ideographMeans = ["平均值", "平均値", "平均", "中位数", "中央値", "평균값", "평균"];
/** "저장 탄성률" is written with a blank and without. */
const hangulBlank = /(?<=[가-힣]) (?=[가-힣])/g;

/**
 * What the words and symbols of a header's name say, the unit and the tags already taken out. Time grows
 * linearly with the text: each word is looked up in at most a fixed number of spans.
 */
export function readName(written: string): NameMeaning {
  const isDoubled = peakToPeak.test(written);
  const name = isDoubled ? written.replace(peakToPeak, " ").trim() : written;
  const read = readPlainName(name);
  return isDoubled && read.quantity === "strain amplitude"
    ? { ...read, quantity: "double strain amplitude" }
    : read;
}

/** The whole swing, twice the amplitude, in the ways in which it is written. */
export const peakToPeak =
  /(?<![\p{L}\d])(?:p ?[-–/]? ?p|pk ?[-–]? ?(?:to ?)?pk|peak[- ]?(?:to[- ]?)?peak|spitze[- ](?:zu[- ])?spitze|double amplitude|doppelamplitude|doppelhub|crête[- ](?:à[- ])?crête|pico[- ](?:a[- ])?pico|picco[- ](?:a[- ])?picco)(?![\p{L}\d])|峰峰值?|峰-峰值?|両振幅|全振幅|双振幅|双幅/iu;

function readPlainName(name: string): NameMeaning {
  const compact = name.replace(/[ _]/g, "");
  const symbol = symbols.get(compact);
  if (symbol) return { ...symbol, strays: [], repeat: null, mean: false };
  const counted = /^Rb?(\d{1,2})$/.exec(compact);
  if (counted !== null) {
    const repeat = Number(counted[1]);
    return { quantity: "rebound resilience", letter: null, strays: [], repeat, mean: false };
  }
  const found: Quantity[] = [];
  let letter: ModulusLetter | null = null;
  let mean = false;
  let text = name.replaceAll("_", " ");
  let aside = "";
  if (hasIdeographs(text)) {
    text = text.replace(hangulBlank, "");
    for (const word of ideographMeans) {
      if (text.includes(word)) {
        mean = true;
        text = text.replace(word, " ");
      }
    }
    for (const [term, quantity] of ideographTerms) {
      if (!text.includes(term)) continue;
      found.push(quantity);
      text = text.replace(term, " ");
      // What names nothing that is read may still say what the column is about.
      if (quantity === "not used") aside += term;
    }
  }
  const words = wordsOf(text);
  const strays: string[] = [];
  // What no term of a quantity holds may say that the column is about the quantity, and not it.
  const loose: string[] = [];
  for (let i = 0; i < words.length; ) {
    const taken = termAt(words, i, found);
    if (taken > 0) {
      if (found[found.length - 1] === "not used") loose.push(...words.slice(i, i + taken));
      i += taken;
      continue;
    }
    loose.push(words[i]);
    const word = words[i];
    const ofModulus = modulusSymbols.get(word);
    if (ofModulus) {
      found.push(ofModulus.quantity);
      letter ??= ofModulus.letter;
    } else if (meanWords.has(word)) mean = true;
    else if (!neutralWords.has(word) && !modulusWords.has(word)) strays.push(word);
    i++;
  }
  if (found.length === 0) {
    const bare = symbolAmong(text);
    if (bare !== null) {
      found.push(bare.quantity);
      letter ??= bare.letter;
      strays.length = 0;
    }
  }
  letter ??= letterIn(words);
  const quantity = settle(found, isAboutAnother(`${text} ${aside}`, name, words, loose, found));
  const rest = strays.filter((word) => quantity === null || !isSymbolOf(word, quantity));
  const count =
    rest.length === 1 && /^[a-z#]?\d{1,2}$/.test(rest[0]) ? Number(rest[0].replace(/\D/g, "")) : null;
  return { quantity, letter, strays: count === null ? rest : [], repeat: count, mean };
}

/** The one symbol among words that say nothing: "Actual T", "T meas." */
function symbolAmong(text: string): SymbolMeaning | null {
  let bare: string | null = null;
  for (const word of text.split(/[ .,;:]+/)) {
    if (word === "" || !wordsOf(word).some((each) => !neutralWords.has(each))) continue;
    if (bare !== null || word.length > 8) return null;
    bare = word;
  }
  const symbol = bare === null ? null : (symbols.get(bare) ?? null);
  return symbol?.quantity === "not used" ? null : symbol;
}

/** Whether a name is about a quantity and not the quantity: its scatter, its limit, what is computed from it. */
function isAboutAnother(
  rest: string,
  name: string,
  words: string[],
  loose: string[],
  found: Quantity[],
): boolean {
  if (qualifierOf(loose, rest) !== null) return true;
  if (!found.some(isResponse)) return false;
  // "Rebound s", "n rebound"; in "Rebound n 3" the letter is a number's.
  const outer = [words[0], words[words.length - 1]];
  // The "s" of "3 s" counts seconds.
  const isTime = /^\d+$/.test(words[words.length - 2] ?? "");
  if (words.length > 1 && !isTime && outer.some((word) => statisticLetters.has(word) && loose.includes(word)))
    return true;
  return isComputed(name);
}

/** "|G*|/sin δ", "E'/E'0", "G* · cos δ": made from a modulus, and none. */
function isComputed(name: string): boolean {
  if (/(?:sin|cos) ?\(?(?:δ|delta|d\b|φ)/i.test(name)) return true;
  return /[EGM]['*|][^/]*[/÷·*] ?\|?[EGM] ?['*|]/.test(name.replace(/[EGM]'' ?\/ ?[EGM]'(?!')/g, ""));
}

/** The words that terms begin with. */
const firstWords: ReadonlySet<string> = new Set([...quantityOfTerm.keys()].map((term) => term.split(" ")[0]));

/** Length in words of the longest term that begins at a word; what it means is added to `found`. */
function termAt(words: string[], at: number, found: Quantity[]): number {
  let key = words[at];
  if (!firstWords.has(key)) return 0;
  let taken = 0;
  let quantity: Quantity | undefined;
  for (let length = 1; length <= longestTerm && at + length <= words.length; length++) {
    if (length > 1) key += ` ${words[at + length - 1]}`;
    const meaning = quantityOfTerm.get(key);
    if (meaning === undefined) continue;
    taken = length;
    quantity = meaning;
  }
  if (quantity !== undefined && !(taken === 1 && meanWords.has(words[at]) && words.length > 1)) {
    found.push(quantity);
    return taken;
  }
  return 0;
}

/** One meaning out of several: the more telling one wins where they go together, none where they do not. */
function settle(found: Quantity[], estranged: boolean): Quantity | null {
  const meanings = new Set(found);
  if (meanings.size === 0) return null;
  if (estranged) return "not used";
  if (meanings.size > 1) meanings.delete("not used");
  if (meanings.size > 1) meanings.delete("name");
  if (meanings.size > 1) meanings.delete("impact number");
  if (meanings.has("set temperature")) meanings.delete("temperature");
  if (meanings.has("angular frequency")) meanings.delete("frequency");
  if (meanings.has("tan delta")) meanings.delete("phase angle");
  if (meanings.has("double strain amplitude")) meanings.delete("strain amplitude");
  // "Abrasion (ARI)": the index is the narrower name, and the more of it the better.
  if (meanings.has("abrasion resistance index")) meanings.delete("abrasion loss");
  if (meanings.has("rebound height") || meanings.has("rebound angle")) meanings.delete("rebound resilience");
  if (meanings.size > 1 && [...meanings].some((meaning) => !isLabel(meaning) && !isText(meaning))) {
    for (const meaning of [...meanings]) if (isLabel(meaning)) meanings.delete(meaning);
  }
  if (meanings.size > 1 && meanings.has("sample")) meanings.delete("batch");
  if (meanings.size > 1) meanings.delete("sample");
  if (meanings.size > 1) meanings.delete("method");
  // "shear" and "deformation" may stand beside a modulus: "storage modulus in shear deformation".
  if (meanings.size > 1) meanings.delete("strain amplitude");
  return meanings.size === 1 ? [...meanings][0] : null;
}

function letterIn(words: string[]): ModulusLetter | null {
  if (
    words.some((word) =>
      /schub|scher|shear|cisaillement|cizalla|taglio|cisalhamento|剪切|せん断|剪断/.test(word),
    )
  )
    return "G";
  for (const word of words) if (word === "young's" || word === "young") return "E";
  return null;
}

/** "Temperature T", "Verlustwinkel δ": the symbol beside the word says nothing new. */
function isSymbolOf(word: string, quantity: Quantity): boolean {
  if (word.length > 6) return false;
  for (const spelling of [word, word.toUpperCase()]) {
    if (symbols.get(spelling)?.quantity === quantity) return true;
  }
  return quantity === "tan delta" && (word === "δ" || word === "d" || word === "tan" || word === "tg");
}
