import { foldText } from "./fold-text.js";
import type { HeaderMeaning } from "./header-meaning.js";
import { dimensionsOf, isLabel, isProperty, isText, type Quantity, reboundQuantities } from "./quantities.js";
import { type NameMeaning, readName } from "./read-name.js";

import { withoutReduction } from "./reduced-frequency.js";
import { withLooseUnit, withoutTrailingUnit, withUnknownUnit } from "./trailing-unit.js";
import { readUnit, toSI, type Unit } from "./units.js";
import { valuesWithUnit } from "./value-with-unit.js";

const longestHeader = 240;
const mostStrays = 3;

/**
 * Reads a header cell: its quantity by name or symbol, its unit in brackets, after a slash, a comma or a
 * blank, a logarithm, and a frequency or temperature that it fixes. Linear in the length of the text.
 * @example readHeader("log10(E″/MPa) @ 10 Hz") // loss modulus, logarithm 10, MPa, tag 10 Hz
 */
export function readHeader(cell: string): HeaderMeaning {
  const text = cell.length > longestHeader ? `${cell.slice(0, 60)}…` : cell.trim();
  const reading: HeaderMeaning = {
    text,
    quantity: null,
    certain: false,
    strays: 0,
    letter: null,
    unit: null,
    unitText: "",
    unknownUnit: null,
    unitLine: null,
    logarithm: 0,
    factor: null,
    isReduced: false,
    standard: null,
    tag: {},
    repeat: null,
    mean: false,
  };
  if (cell.length > longestHeader || text === "") return reading;
  const asides: string[] = [];
  const folded = withoutStandard(withStressTerm(foldText(text)), reading);
  let name = withoutFactor(withoutLogarithm(folded, reading), reading);
  name = withoutBrackets(name, reading, asides);
  name = withoutLogarithm(name, reading);
  name = withoutTags(name, reading);
  const plain = withoutReduction(name);
  if (plain !== null && /freq/.test(readName(plain.replace(/ ?[/,].*$/, "")).quantity ?? "")) {
    reading.isReduced = true;
    name = plain;
  }
  const whole = name;
  if (reading.unit === null) name = withoutTrailingUnit(name, reading);
  let read = readName(asides.length === 0 ? name : `${name} ${asides.join(" ")}`);
  if (read.strays.length > 0 && asides.length > 0) {
    const bare = readName(name);
    if (bare.quantity !== null && bare.strays.length === 0) {
      // "Storage modulus (foo)": the name is clear without the aside, which then stands where a unit would.
      if (reading.unit === null) reading.unknownUnit = asides.find((aside) => isForeign(aside)) ?? null;
      read = { ...bare, letter: bare.letter ?? read.letter, mean: bare.mean || read.mean };
    }
  }
  if (reading.unit === null && (read.strays.length > 0 || read.quantity === "not used")) {
    read = withLooseUnit(whole, reading) ?? read;
  }
  if (reading.unit === null && read.strays.length > 0) read = withUnknownUnit(whole, reading) ?? read;
  if (read.quantity === null && read.strays.length > 0 && reading.unit?.dimension === "stress")
    read = withModulusUnderstood(read, name);
  const found = fitted({ ...reading, ...kept(read), unitText: unfoldExponents(reading.unitText) });
  if (found.quantity !== null && (found.certain || !isDotted(text))) return found;
  for (const parted of [isCamelCase(text) ? partedWords(text) : "", isDotted(text) ? undotted(text) : ""]) {
    const meaning = parted === "" || parted === text ? null : readHeader(parted);
    if (meaning !== null && meaning.quantity !== null && meaning.certain) return { ...meaning, text };
  }
  return found;
}

/** "storage_MPa": the kind alone, whose unit says that it is of a modulus. */
function withModulusUnderstood(read: NameMeaning, name: string): NameMeaning {
  const whole = readName(`${name} modulus`);
  return whole.strays.length === 0 && whole.quantity !== null ? whole : read;
}

/** "Temp..C.", "Storage.modulus..MPa.": a header that a statistics program made a name of, dots for all else. */
function isDotted(text: string): boolean {
  return (
    text.includes(".") &&
    text.length <= 80 &&
    /^\p{L}[\p{L}\d._]*$/u.test(text) &&
    /\p{L}{2}.*\.|\.\p{L}/u.test(text)
  );
}

function undotted(text: string): string {
  return text
    .replace(/\.\.+([\p{L}\d.]+?)\.+$/u, " ($1)")
    .replace(/\.+/g, " ")
    .trim();
}

/** "StorageModulusMPa", "tempSample": one word of several with capitals. */
function isCamelCase(text: string): boolean {
  return text.length <= 60 && /^[A-Za-z][A-Za-z0-9]*[a-z][A-Z][A-Za-z0-9]*$/.test(text);
}

/** The words of a word with capitals, the unit at its end kept whole. */
function partedWords(text: string): string {
  const unit = /(?:[kMG]?Pa|k?Hz|mHz|deg[CF]|Celsius|Percent|Pct|RadS|(?<=[a-z])[CKF])$/.exec(text);
  const name = unit === null ? text : text.slice(0, unit.index);
  return `${name.replace(/([a-z])([A-Z])/g, "$1 $2")} ${unit === null ? "" : unit[0]}`.trim();
}

/** "mm^2" as "mm²", for the eye. */
function unfoldExponents(unitText: string): string {
  return unitText.replace(/\^-?\d(?:\^?\d)*/g, (exponent) =>
    exponent.replace(/[-\d^]/g, (character) =>
      character === "^" ? "" : "⁻⁰¹²³⁴⁵⁶⁷⁸⁹"["-0123456789".indexOf(character)],
    ),
  );
}

function kept(read: NameMeaning): Partial<HeaderMeaning> {
  const { quantity, letter, repeat, mean, strays } = read;
  // A sentence that mentions a modulus is no header of one.
  const known = strays.length > mostStrays ? null : quantity;
  return {
    quantity: known,
    letter,
    repeat,
    mean,
    strays: strays.length,
    certain: known !== null && strays.length === 0,
  };
}

const standardName =
  /(?:(?:^|[ ,;([])(?:to|as|per|nach|acc\.? to|selon|según|secondo|conforme|enligt|wg) )?(?<!\p{L})(?:DIN(?: EN)?(?: ISO)?|ISO|ASTM|JIS|GB\/?T?|EN ISO|BS|NF|UNE|UNI|HG\/?T?)[ -]?(?:[A-Z]{1,2}[ -]?)?\d{2,}(?:[-–:/.]\d+)*(?:[ -](?:method|Methode|méthode|type)? ?[A-E](?!\p{L}))?/u;

/** "Hardness (JIS)": the body alone, where a unit might stand. */
const standardBody = /[([] ?(?:DIN|ISO|ASTM|JIS|GB|EN) ?[)\]]/;

/** Takes the designation of a standard out of a header. */
function withoutStandard(text: string, reading: HeaderMeaning): string {
  const match = standardName.exec(text) ?? standardBody.exec(text);
  if (match === null) return text;
  reading.standard = match[0]
    .replace(/[)\]]$/, "")
    .replace(/^[ ,;([]*(?:(?:to|as|per|nach|acc\.? to|selon|según|secondo|conforme|enligt|wg) )?/, "")
    .trim();
  return `${text.slice(0, match.index)} ${text.slice(match.index + match[0].length)}`
    .replace(/[([] ?,? ?[)\]]/g, "")
    .replace(/ +/g, " ")
    .trim();
}

const strainOf = "(50|100|200|300)";
const stressWords =
  "(?:tensile |zug)?(?:stress|modulus|modul|mod\\.?|module|módulo|modulo|spannung|spannungswert|contrainte|tensión|tensão|carico|sforzo|moduł|modulen?)";
const stressTerms = [
  new RegExp(`(?<![\\p{L}\\d])(?:M|S|σ|Md|MOD)[ _-]?${strainOf}(?: ?%)?(?![\\p{L}\\d.,])`, "u"),
  new RegExp(`(?<![\\d.,])${strainOf} ?% ?(?:-? ?)${stressWords}(?!\\p{L})`, "iu"),
  new RegExp(
    `(?<!\\p{L})${stressWords}(?: (?:at|bei|à|al|a|de|di|en|@|für))?[ -]?${strainOf}(?: ?%)?(?: (?:strain|elongation|dehnung|allongement|d'allongement|deformación|de deformación|allungamento|alongamento))?(?![\\p{L}\\d.,])`,
    "iu",
  ),
];

/** "M100", "stress at 300 %", "Modul 100 %" under one name, so that the strain is not taken for a unit. */
function withStressTerm(text: string): string {
  for (const pattern of stressTerms) {
    const match = pattern.exec(text);
    if (match === null) continue;
    return `${text.slice(0, match.index)} xstress${match[1]} ${text.slice(match.index + match[0].length)}`
      .replace(/ +/g, " ")
      .trim();
  }
  return text;
}

const powerOfTen = "10\\^?[-+]?\\d{1,2}|10{1,6}|1[eE][-+]?\\d{1,2}";
const factorBehind = new RegExp(
  `(?:(?:^|[^\\w'|])(?:[x·]|(?<![EGMDJ])\\*) ?|[([] ?(?=10\\^?\\+?\\d{1,6} ?[)\\]]))(${powerOfTen})(?![\\d.,^]| ?[kMG]?(?:Pa|N|psi|dyn|Hz)\\b)`,
);
const factorBefore = new RegExp(`^(${powerOfTen}|100) ?[x·*]? ?(?=\\p{L}|\\|)`, "u");

/** Takes a power of ten out that stands beside the name: "tan δ ×10³", "E' (x100)", "100 tan δ". */
function withoutFactor(text: string, reading: HeaderMeaning): string {
  const before = factorBefore.exec(text);
  if (before !== null) {
    const rest = text.slice(before[0].length);
    if (
      readUnit(rest.split(/[ )\]]/)[0]) === null &&
      readName(rest.replace(/[([].*$/, "").trim()).quantity !== null
    ) {
      reading.factor = { power: powerIn(before[1]), text: before[1], isSure: true };
      return rest;
    }
  }
  const behind = factorBehind.exec(text);
  if (behind === null) return text;
  const start = behind.index + behind[0].indexOf(behind[1]);
  const kept = behind[0].slice(0, behind[0].indexOf(behind[1])).replace(/[x·*] ?$/, "");
  reading.factor = { power: powerIn(behind[1]), text: behind[1], isSure: false };
  return `${text.slice(0, behind.index)}${kept}${text.slice(start + behind[1].length)}`
    .replace(/[([] ?[)\]]/g, "")
    .trim();
}

/** "100" is two zeros, "10^3" and "103" (a superscript that was lost) the third power. */
function powerIn(text: string): number {
  if (/^10*$/.test(text)) return text.length - 1;
  return Number(text.replace(/^(?:10\^?|1[eE])/, ""));
}

/** Takes "log10", "lg" or "ln" off the front. */
function withoutLogarithm(text: string, reading: HeaderMeaning): string {
  if (reading.logarithm !== 0) return text;
  const match =
    /^(?:(log|lg|ln)(?:[ _]?10|\^1\^0|₁₀)?(?=[^a-zà-ÿ0-9]|$)|(log|lg|ln)(?:10)?(?=[EGMωf](?:['*]|$|[ /([]))|logarithm(?:us|e)?(?: of| de| von| des)?(?= ))/i.exec(
      text,
    );
  if (!match || match[0].length === text.length) return text;
  const rest = text.slice(match[0].length).replace(/^[ _.:-]+/, "");
  if (rest === "") return text;
  reading.logarithm = /^ln/i.test(match[0]) ? Math.E : 10;
  // "log10(E'/Pa)" and "lg [G' in Pa]": what is in the brackets is the argument.
  const open = rest[0];
  if ((open === "(" || open === "[") && closing(rest, 0) > 0) {
    const end = closing(rest, 0);
    const argument = rest.slice(1, end);
    if (readUnit(argument) === null) return `${argument} ${rest.slice(end + 1)}`.trim();
  }
  return rest;
}

/** Position of the bracket that closes the one at `open`, or −1. */
function closing(text: string, open: number): number {
  let depth = 0;
  for (let i = open; i < text.length; i++) {
    const character = text[i];
    if (character === "(" || character === "[" || character === "{") depth++;
    else if (character === ")" || character === "]" || character === "}") {
      depth--;
      if (depth === 0) return i;
    }
  }
  return -1;
}

/** Takes bracketed parts out: units and tags are read, an argument goes back in, the rest are asides. */
function withoutBrackets(text: string, reading: HeaderMeaning, asides: string[]): string {
  let outside = "";
  for (let i = 0; i < text.length; i++) {
    const character = text[i];
    if (character !== "(" && character !== "[" && character !== "{") {
      if (character !== ")" && character !== "]" && character !== "}") outside += character;
      continue;
    }
    const end = closing(text, i) < 0 ? text.length : closing(text, i);
    const content = text.slice(i + 1, end).trim();
    const before = outside.trimEnd().toLowerCase();
    // A bracket after a slash belongs to the unit: E'/(N/mm^2).
    if (outside.endsWith("/") || before.endsWith("tan") || before.endsWith("tg")) outside += ` ${content}`;
    else for (const part of content.split(/;|,(?!\d)/)) readAside(part.trim(), reading, asides);
    i = end;
    outside += " ";
  }
  return outside.replace(/ +/g, " ").trim();
}

function readAside(part: string, reading: HeaderMeaning, asides: string[]): void {
  if (part === "") return;
  const bare = part.replace(/^(in|en|em|unit|einheit)[: ] ?/i, "");
  const unit = readUnit(bare);
  if (unit !== null) {
    if (reading.unit === null) {
      reading.unit = unit;
      reading.unitText = bare;
    }
    return;
  }
  const rest = withoutTags(part, reading);
  if (rest !== "") asides.push(withoutLogarithm(rest, reading));
}

/** Takes "10 Hz" and "-20 °C" out, with an "at", "@" or "f =" before. */
function withoutTags(text: string, reading: HeaderMeaning): string {
  let rest = text;
  for (const { value, unit, start, end } of valuesWithUnit(text).reverse()) {
    const { dimension } = unit;
    const state = toSI(value, unit);
    if ((dimension === "frequency" || dimension === "angular frequency") && state > 0) {
      reading.tag = { ...reading.tag, frequency_Hz: state };
    } else if (dimension === "temperature" && state >= -273.15) {
      reading.tag = { ...reading.tag, temperature_C: state };
    } else continue;
    const before = rest
      .slice(0, start)
      .replace(/(?:\b(?:at|bei|a|à|em|f|T|freq)|@|=|,|-|_)? ?(?:=|:|@)? ?$/i, "");
    rest = `${before} ${rest.slice(end)}`.trim();
  }
  return rest;
}

function isForeign(aside: string): boolean {
  const { quantity, strays, mean } = readName(aside);
  return quantity === null && strays.length > 0 && !mean;
}

/** Holds name and unit against each other. */
function fitted(reading: HeaderMeaning): HeaderMeaning {
  const { quantity, unit, text } = reading;
  if (quantity === null) return reading;
  if (isProperty(quantity) && unit !== null && !dimensionsOf[quantity].includes(unit.dimension)) {
    // "Shore A (°)" counts degrees of hardness.
    if (quantity === "hardness" && unit.dimension === "angle")
      return { ...reading, unit: null, unitText: "" };
    return { ...reading, quantity: "not used" };
  }
  // A capital F is a force, unless it is in hertz.
  if (quantity === "not used" && /^F\b/.test(foldText(text)) && unit?.dimension === "frequency")
    return { ...reading, quantity: "frequency" };
  if (quantity === "displacement amplitude" && unit?.dimension !== "length")
    return { ...reading, quantity: "not used" };
  if (isText(quantity) || isLabel(quantity) || quantity === "not used")
    return { ...reading, unknownUnit: null };
  // "R2" alone may be how well a fit went; with "%" beside it, "R2" is the second rebound.
  if (unit === null && /^Rb?\d/.test(text)) return { ...reading, quantity: null, certain: false };
  // A lone "H" or "R" may be anything; with a unit that fits it is a height or a resilience.
  if (unit === null && text.length <= 2 && reboundQuantities.includes(quantity))
    return { ...reading, certain: false };
  // ω in 1/s is in rad/s; f in 1/s is in Hz.
  if (quantity === "angular frequency" && unit?.dimension === "per second") {
    return {
      ...reading,
      unit: { ...unit, dimension: "angular frequency", factor: unit.factor / (2 * Math.PI) },
    };
  }
  if (unit === null || dimensionsOf[quantity].includes(unit.dimension)) return reading;
  const other = otherMeaning(quantity, unit, reading.text);
  return other === null ? reading : { ...reading, quantity: other };
}

/** Where the name leaves it open, the unit decides. */
function otherMeaning(quantity: Quantity, { dimension }: Unit, text: string): Quantity | null {
  if (quantity === "time" && dimension === "temperature") return "temperature";
  if (quantity === "temperature" && dimension === "time" && foldText(text).startsWith("T")) return "not used";
  if (dimension === "temperature rate") return "not used";
  if (quantity === "strain amplitude" && dimension === "length") return "displacement amplitude";
  if (quantity === "strain amplitude" && dimension === "angle") return "not used";
  if (quantity === "rebound resilience" && dimension === "length") return "rebound height";
  if (quantity === "rebound resilience" && dimension === "angle") return "rebound angle";
  if (quantity === "tan delta" && dimension === "angle") return "phase angle";
  return null;
}
