/**
 * Ways in which programs and keyboards write a prime; a double one counts as two. The typographic forms
 * must be folded before any Unicode normalisation, which turns an acute accent into a blank with an accent.
 */
const characters = new Map<string, string>([
  ..."'′’‘`´ʹʼ＇‵".split("").map((c): [string, string] => [c, "'"]),
  ...'"″“”ʺ〃‶„'.split("").map((c): [string, string] => [c, "''"]),
  ["º", "°"],
  ["˚", "°"],
  ...[..."⁰¹²³⁴⁵⁶⁷⁸⁹"].map((c, digit): [string, string] => [c, `^${digit}`]),
  ["⁻", "^-"],
  ["−", "-"],
  ["–", "-"],
  ["—", "-"],
  ["‐", "-"],
  ["‑", "-"],
  ["×", "x"],
  ["·", "·"],
  ["⋅", "·"],
  ["∙", "·"],
  ["•", "·"],
  ["∗", "*"],
  ["＊", "*"],
  ["∣", "|"],
  ["｜", "|"],
  ["∕", "/"],
  ["⁄", "/"],
  ["／", "/"],
  ["：", ":"],
  ["，", ","],
  ["、", ","],
  ["；", ";"],
  ["（", "("],
  ["）", ")"],
  ["［", "["],
  ["］", "]"],
  ["【", "["],
  ["】", "]"],
  ["〔", "["],
  ["〕", "]"],
  ["µ", "μ"],
  ["ϑ", "θ"],
  ["ϕ", "φ"],
  ["ɛ", "ε"],
  ["ϵ", "ε"],
  ["∆", "Δ"],
  ["\u200b", ""],
  ["\ufeff", ""],
  ["\u00ad", ""],
]);

/**
 * One spelling for the many in which a header or a unit comes: primes as "'", superscripts as "^2", one kind
 * of minus, bracket and degree sign, compatibility forms (℃, full width) resolved, blanks single. Letter case
 * and accents stay.
 * @example foldText("E″ ［MPa］") // "E'' [MPa]"
 */
export function foldText(text: string): string {
  if (isFolded(text)) return text;
  let folded = "";
  for (let i = 0; i < text.length; i++) {
    const character = text[i];
    folded += characters.get(character) ?? character;
  }
  folded = folded.normalize("NFKC");
  let single = "";
  let blank = false;
  for (let i = 0; i < folded.length; i++) {
    const character = folded[i];
    if (isBlank(character)) {
      blank = single.length > 0;
      continue;
    }
    // "E' '" is one double prime that a typist parted; "^-^1" is one exponent.
    if (blank && !(character === "'" && single.endsWith("'"))) single += " ";
    blank = false;
    if (character === "^" && single.endsWith("^-")) continue;
    single += character;
  }
  return single;
}

/** Printable ASCII that is never folded: neither a way to write a prime nor a part of an exponent. */
const kept = Uint8Array.from({ length: 127 }, (_, code) => {
  const character = String.fromCharCode(code);
  return code >= 32 && character !== "^" && !characters.has(character) ? 1 : 0;
});

/** Whether nothing in a text is to be folded: kept characters alone, with single blanks inside only. */
function isFolded(text: string): boolean {
  let before = 32;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code >= kept.length || kept[code] === 0 || (code === 32 && before === 32)) return false;
    before = code;
  }
  return before !== 32 || text === "";
}

function isBlank(character: string): boolean {
  const code = character.charCodeAt(0);
  return (
    code <= 32 || code === 0xa0 || (code >= 0x2000 && code <= 0x200a) || code === 0x202f || code === 0x3000
  );
}

/**
 * The words of a folded text for looking up: lower case, without accents, "ß" as "ss", the dotless "ı" as "i". Primes, "*" and "|"
 * stay with their letter; everything else that is neither letter nor digit parts words.
 * @example wordsOf("Módulo de pérdida (E'')") // ["modulo", "de", "perdida", "e''"]
 */
export function wordsOf(folded: string): string[] {
  if (isFolded(folded)) return asciiWords(folded.toLowerCase());
  const plain = folded.normalize("NFD").toLowerCase();
  const words: string[] = [];
  let word = "";
  for (let i = 0; i < plain.length; i++) {
    const character = plain[i];
    const code = plain.charCodeAt(i);
    if (code >= 0x300 && code <= 0x36f) continue;
    if (character === "ß") word += "ss";
    else if (character === "ı") word += "i";
    else if (isWordCharacter(character, code)) word += character;
    else if (word.length > 0) {
      words.push(word);
      word = "";
    }
  }
  if (word.length > 0) words.push(word);
  return words;
}

function asciiWords(lower: string): string[] {
  const words: string[] = [];
  let start = -1;
  for (let i = 0; i <= lower.length; i++) {
    const isWord = i < lower.length && isWordCharacter(lower[i], lower.charCodeAt(i));
    if (isWord && start < 0) start = i;
    else if (!isWord && start >= 0) {
      words.push(lower.slice(start, i));
      start = -1;
    }
  }
  return words;
}

function isWordCharacter(character: string, code: number): boolean {
  if (code < 128) {
    return (
      (code >= 97 && code <= 122) ||
      (code >= 48 && code <= 57) ||
      character === "'" ||
      character === "*" ||
      character === "|" ||
      character === "%"
    );
  }
  return code !== 0xb0 && code !== 0xb7 && code !== 0xb1;
}

/** True where a text holds Chinese, Japanese or Korean characters, whose words are looked for without blanks between them. */
export function hasIdeographs(text: string): boolean {
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if ((code >= 0x3040 && code <= 0x9fff) || isHangul(code)) return true;
  }
  return false;
}

function isHangul(code: number): boolean {
  return code >= 0xac00 && code <= 0xd7a3;
}
