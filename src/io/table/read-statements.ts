import { quoted, shown } from "../../words/quoted.js";
import { keyOfCells, Memo } from "../memo.js";
import { foldText, wordsOf } from "../vocabulary/fold-text.js";
import { isResponse, type Quantity } from "../vocabulary/quantities.js";
import { peakToPeak } from "../vocabulary/read-name.js";
import { referenceTemperatureIn } from "../vocabulary/reduced-frequency.js";
import { factNameOf, isLimitWord } from "../vocabulary/terms/fact-terms.js";
import { isGenericWord } from "../vocabulary/terms/generic-words.js";
import { isModeWord, modeIn } from "../vocabulary/terms/mode-terms.js";
import { otherContextOf } from "../vocabulary/terms/other-contexts.js";
import { neutralWords } from "../vocabulary/terms/quantity-terms.js";
import { readUnit, toSI, type Unit } from "../vocabulary/units.js";
import { type ValueWithUnit, valuesWithUnit } from "../vocabulary/value-with-unit.js";
import type { Statement } from "./facts.js";
import { rememberedHeader } from "./header/column.js";
import { commaFormat, type NumberFormat, NumberParser, pointFormat } from "./lines/number-format.js";

const longestLine = 2000;

/**
 * What a line outside the rows of a table says. A fact is read where its name says so, and nowhere else: a name and its
 * value in cells of their own or parted by a colon, an equals sign or blanks; or a title that holds the quantity
 * alone. What stands in other words is passed over, and that is said too. Empty where the line says nothing that is known.
 * @example readStatements(["Frequency", "10", "Hz"], format) // [{ about: "frequency", value: 10 }]
 * @example readStatements(["Sampling frequency", "2000", "Hz"], format) // [{ about: "passed over", text: "2000 Hz", why: "sampling, not the test's" }]
 */
export function readStatements(cells: string[], format: NumberFormat): readonly Statement[] {
  const key = `${format.decimal} ${format.thousands} ${keyOfCells(cells)}`;
  return memory.of(key, () => statementsOf(cells, format));
}

const memory = new Memo<readonly Statement[]>();

/** A part of a line: a name and what is said of it, or words without a name. */
interface Part {
  name: string | null;
  /** Folded, for looking up. */
  value: string;
  /** As the file writes it. */
  raw: string;
}

function statementsOf(cells: string[], format: NumberFormat): readonly Statement[] {
  const filled = cells.filter((cell) => cell !== "");
  if (filled.length === 0 || filled.length > 12) return [];
  if (filled.reduce((sum, cell) => sum + cell.length, 0) > longestLine) return [];
  filled[0] = filled[0].replace(/^(?:[#*%!=]|\/\/|-{2,}|–|—)+ ?/, "");
  const last = filled.length - 1;
  filled[last] = filled[last].replace(/ ?(?:[#*=]|-{2,}|–|—)+$/, "");
  const reference = referenceTemperatureIn(foldText(filled.join(" ")));
  const said = statementsIn(filled, format);
  if (reference === null) return said;
  // What was passed over as a reference is taken as one.
  const rest = said.filter((each) => each.about !== "passed over" || !each.why.startsWith("a reference"));
  return [...rest, { about: "reference temperature", value: reference }];
}

function statementsIn(filled: string[], format: NumberFormat): readonly Statement[] {
  const parts = partsOf(filled);
  if (parts.length === 1 && parts[0].name === null) return title([parts[0]], format);
  if (parts.some(({ name }) => name === null)) return title(parts, format);
  return parts.flatMap(({ name, value, raw }) => pair(name!, value, raw, format));
}

/** The parts of a line: pairs in cells side by side, one pair, or the words of a title. */
function partsOf(filled: string[]): Part[] {
  const folded = filled.map(foldText);
  const marks = folded.map(markIn);
  if (marks.filter((mark) => mark > 0).length >= 2) {
    const own: Part[] = [];
    folded.forEach((text, i) => {
      if (marks[i] > 0) own.push(partAt(text, filled[i], marks[i]));
      else {
        const last = own.at(-1);
        if (last === undefined) own.push({ name: null, value: text, raw: filled[i] });
        else {
          last.value = `${last.value} ${text}`.trim();
          last.raw = `${last.raw} ${filled[i]}`.trim();
        }
      }
    });
    return own;
  }
  if (marks[0] > 0) {
    // "Clamp: film tension; Freq. 1 Hz; 2 K/min": what has a name of its own is no part of the clamp.
    const named = folded.flatMap((text, i) => (i > 0 && unmarkedName(text) !== null ? [i] : []));
    if (named.length > 0)
      return [...partsOf(filled.slice(0, named[0])), ...named.map((i) => unmarkedPart(folded[i], filled[i]))];
    const first = partAt(folded[0], filled[0], marks[0]);
    const [value, raw] = [
      [first.value, ...folded.slice(1)].join(" ").trim(),
      shown([first.raw, ...filled.slice(1)].join(" ")).replace(/^[\s:=]+/, ""),
    ];
    return inside({ ...first, value, raw });
  }
  if (filled.length === 1) return [{ name: null, value: folded[0], raw: filled[0] }];
  // Several pairs side by side: "Frequency, 10 Hz, Strain, 0.1 %".
  if (filled.length >= 4 && filled.length % 2 === 0) {
    const names = folded.filter((_, i) => i % 2 === 0).map(trimColon);
    if (names.filter(isKnownName).length >= 2) {
      return names.map((name, i) => ({ name, value: folded[2 * i + 1], raw: shown(filled[2 * i + 1]) }));
    }
  }
  const name = trimColon(folded[0]);
  // "Test frequency 10 Hz; sampling rate 1000 Hz": a cell that holds its value is no name of the next one's.
  if (holdsState(name)) return filled.map((raw, i) => ({ name: null, value: folded[i], raw }));
  if (!isKnownName(name) && (isQuantityAlone(folded[0]) || filled.length >= 3 || isSectionName(name))) {
    // "10 Hz; -20 °C", "Step 3; -20 °C", "Birch N; tension; 10 Hz": the cells of a title.
    if (filled.slice(1).every((_, i) => isUnderstood(folded[i + 1])))
      return filled.map((raw, i) => ({ name: null, value: folded[i], raw }));
  }
  const rest = (texts: string[]) =>
    texts
      .slice(1)
      .join(" ")
      .replace(/^[:=：＝] ?/, "")
      .trim();
  return [{ name, value: rest(folded), raw: shown(rest(filled)) }];
}

/** The name in "Freq. 1 Hz", a cell that needs no mark to part it from its value; null where there is none. */
function unmarkedName(text: string): string | null {
  const name = /^(\p{L}[\p{L} ]{0,40}?)\.? (?=[-+\d])/u.exec(text)?.[1] ?? null;
  return name !== null && isKnownName(name) ? name : null;
}

function unmarkedPart(text: string, raw: string): Part {
  const name = unmarkedName(text) ?? "";
  const behind = (whole: string) => whole.slice(name.length).replace(/^[. ]+/, "");
  return { name, value: behind(text), raw: behind(shown(raw)) };
}

/** "Frequency: 10 Hz, Strain: 0.1 %" in one cell. */
function inside(part: Part): Part[] {
  const pieces = part.value.split(/[,;|] ?(?=[^\d\s,;|][^,;|:=]*[:=])/);
  if (pieces.length < 2) return [part];
  const raws = part.raw.split(/[,;|，；｜] ?(?=[^\d\s,;|][^,;|:=：＝]*[:=：＝])/);
  if (raws.length !== pieces.length) return [part];
  const rest = pieces.slice(1).map((text, i) => partAt(text, raws[i + 1], markIn(text)));
  // In "Sample: Birch, cure: 150 °C" the name ends where the next begins; in "Remark: a, b: c" all is the remark.
  if (!rest.every(({ name }) => name !== null && (isKnownName(name) || otherContextOf(name) !== null)))
    return [part];
  return [{ name: part.name, value: pieces[0], raw: raws[0] }, ...rest];
}

function partAt(text: string, raw: string, mark: number): Part {
  const rawMark = raw.search(/[=：＝]|:(?!\d)|(?<!\d):/);
  return {
    name: text.slice(0, mark).trim(),
    value: text.slice(mark + 1).trim(),
    raw: shown(raw.slice(rawMark + 1)).replace(/^[\s:=：＝]+/, ""),
  };
}

function trimColon(text: string): string {
  return text.replace(/[\s:=]+$/, "");
}

/** Where a colon or an equals sign parts a name from its value; −1 where none does. */
function markIn(text: string): number {
  for (let i = 0; i < text.length; i++) {
    // A colon inside a clock time is none.
    const isMark =
      text[i] === "=" || (text[i] === ":" && !(/\d/.test(text[i - 1] ?? "") && /\d/.test(text[i + 1] ?? "")));
    if (isMark) return i > 0 && i < text.length - 1 ? i : -1;
  }
  return -1;
}

/** Whether a name is one of a fact or a quantity that lines state. */
export function isKnownName(name: string): boolean {
  if (factNameOf(name) !== null) return true;
  const { quantity, certain } = rememberedHeader(name);
  return quantity !== null && certain;
}

function isSectionName(name: string): boolean {
  return factNameOf(name) === "section" || wordsOf(name).every(isGenericWord);
}

/** "Temperature step: 5 °C" is the width of one. */
const stepWords = new Set(
  wordsOf("step steps schritt schrittweite stufe pas paso passo jump sprung increase"),
);

const sampleRanks: Record<string, number> = { sample: 1, name: 3 };

/** "Specimen id: 12" says less than "Specimen name: Birch". */
const numberingWords = new Set(
  wordsOf("id no nr number code nummer numero number n° num kod číslo numer номер identifier identification"),
);

function sampleRank(quantity: string, name: string): number {
  const isNumbering = wordsOf(name).some((word) => numberingWords.has(word));
  return sampleRanks[quantity] + (isNumbering ? 0.5 : 0);
}

/** "Compound A: Birch", the first of several. */
function letteredSample(name: string, value: string, raw: string): Statement | null {
  const [, word, letter] = /^(\S+) ([a-z])$/i.exec(name) ?? [];
  if (word === undefined || !isName(value)) return null;
  const { quantity, certain } = rememberedHeader(word);
  if (!certain || (quantity !== "sample" && quantity !== "name")) return null;
  // The next one does not stand against the first: both are kept, and the table is asked whose it is.
  const rank = sampleRanks[quantity] + (letter.toLowerCase() === "a" ? 0 : 0.25);
  return { about: "sample", text: raw, rank, isLettered: true };
}

function pair(name: string, value: string, raw: string, format: NumberFormat): Statement[] {
  if (value === "") return [];
  const lettered = letteredSample(name, value, raw);
  if (lettered !== null) return [lettered];
  const known = factNameOf(name);
  switch (known) {
    case "remark":
      return rememberedHeader(name).quantity === "laboratory" && raw !== ""
        ? [{ about: "laboratory", text: raw }]
        : [{ about: "remark" }];
    case "mode": {
      const mode = modeIn(value, true);
      if (mode !== null) return [{ about: "deformation", mode, rank: 1 }];
      break;
    }
    case "heating rate": {
      const rate = numberOf(value, format, "temperature rate");
      return rate === null ? [] : [{ about: "heating rate", value: Math.abs(rate) }];
    }
    case "section": {
      const rest = title([{ name: null, value, raw }], format).filter(
        ({ about }) => about !== "deformation" && about !== "method" && about !== "section",
      );
      return [{ about: "section", text: raw === "" ? name : `${name}: ${raw}` }, ...rest];
    }
    case "batch":
      return [{ about: "sample", text: raw, rank: 5 }];
    case "test": {
      const mode = modeIn(value);
      const statements = mentioned(value, raw, format);
      return mode === null ? statements : [...statements, { about: "deformation", mode, rank: 2 }];
    }
    default:
      break;
  }
  // "Vertical rebound ASTM D2632", and what else the title holds in the cells beside it.
  if (isReboundMethod(name)) {
    return [{ about: "method", text: shown(name), rank: 3 }, ...title([{ name: null, value, raw }], format)];
  }
  const header = rememberedHeader(name);
  if (header.quantity === null && wordsOf(name).every(isGenericWord)) {
    // "Results 2: strain sweep at 60 °C"
    return title([{ name: null, value, raw }], format);
  }
  if (header.quantity === null || !header.certain) return passedOver(name, value, raw);
  if (/frequency|temperature/.test(header.quantity) && wordsOf(name).some((word) => stepWords.has(word))) {
    return severalOf(value, raw, "a step, not the test's");
  }
  return quantityStatements(header.quantity, header.unit, name, value, raw, format);
}

function quantityStatements(
  quantity: Quantity,
  unit: Unit | null,
  name: string,
  value: string,
  raw: string,
  format: NumberFormat,
): Statement[] {
  const number = (...dimensions: Unit["dimension"][]) =>
    numberOf(value, format, ...dimensions) ?? inUnit(value, unit, format);
  const positive = (about: "strain" | "drop height" | "drop angle", found: number | null): Statement[] =>
    found !== null && found > 0 ? [{ about, value: found }] : [];
  switch (quantity) {
    case "sample":
    case "name":
      return isName(value) ? [{ about: "sample", text: raw, rank: sampleRank(quantity, name) }] : [];
    case "laboratory":
      return raw === "" ? [] : [{ about: "laboratory", text: raw }];
    case "method":
      return [{ about: "method", text: raw, rank: 1 }, ...mentioned(value, raw, format).filter(isMention)];
    case "frequency":
    case "angular frequency": {
      const isAngular = quantity === "angular frequency";
      const frequency = number("frequency", "angular frequency");
      if (frequency !== null && frequency > 0) return [{ about: "frequency", value: frequency }];
      const bare = unit === null ? bareNumber(value, format) : null;
      if ((frequency ?? bare ?? 1) <= 0) {
        const text = /hz|rad/i.test(raw) ? raw : `${raw} ${isAngular ? "rad/s" : "Hz"}`;
        return [{ about: "passed over", text: shortened(text), why: "zero or below" }];
      }
      if (bare !== null && bare > 0) {
        return [{ about: "frequency", value: isAngular ? bare / (2 * Math.PI) : bare, isUnitAssumed: true }];
      }
      return severalOf(value, raw);
    }
    case "temperature":
    case "set temperature": {
      const context = otherContextOf(name);
      if (context !== null && quantity === "set temperature") return passedOver(name, value, raw);
      const temperature = number("temperature");
      if (temperature !== null) return [{ about: "temperature", value: temperature }];
      const bare = unit === null ? bareNumber(value, format) : null;
      // 20 to 120 without a unit is °C in every laboratory; 296 may be kelvin.
      if (bare !== null && bare <= 120) return [{ about: "temperature", value: bare, isUnitAssumed: true }];
      return severalOf(value, raw);
    }
    case "strain amplitude": {
      const mode = modeIn(value, true);
      if (mode !== null) return [{ about: "deformation", mode, rank: 1 }];
      const strain = number("ratio");
      return positive("strain", strain !== null && peakToPeak.test(value) ? strain / 2 : strain);
    }
    case "double strain amplitude": {
      const double = number("ratio");
      return positive("strain", double === null ? null : double / 2);
    }
    case "drop height":
      return positive("drop height", number("length"));
    case "drop angle":
      return positive("drop angle", number("angle"));
    default:
      if (isResponse(quantity) && isReboundMethod(value)) return [{ about: "method", text: raw, rank: 3 }];
      return quantity === "not used" ? passedOver(name, value, raw) : [];
  }
}

/** What a line holds that is not the test's: a frequency or a temperature under a name of something else. */
function passedOver(name: string, value: string, raw: string): Statement[] {
  const method: Statement[] = isReboundMethod(value) ? [{ about: "method", text: raw, rank: 3 }] : [];
  const states = valuesWithUnit(signed(value)).filter(isState);
  if (states.length === 0) return method;
  const context = otherContextOf(name) ?? otherContextOf(value);
  const isOne = states.length === 1 && !isLimited(signed(value), states[0].start, states[0].end);
  const why =
    context === null && !isOne
      ? "a range, a list or a limit, not one value"
      : context === null
        ? `the name ${quoted(name, 40)} does not say that it is the test's`
        : `${context}, not the test's`;
  return [...method, { about: "passed over", text: shortened(raw), why }];
}

/** A value that is no single one. */
function severalOf(
  value: string,
  raw: string,
  otherwise = "a range, a list or a limit, not one value",
): Statement[] {
  if (valuesWithUnit(signed(value)).every((one) => !isState(one))) return [];
  const context = otherContextOf(value);
  const why = context === null ? otherwise : `${context}, not the test's`;
  return [{ about: "passed over", text: shortened(raw), why }];
}

function shortened(raw: string): string {
  return raw.length > 60 ? `${raw.slice(0, 59)}…` : raw;
}

/** A sample's name; measures of a specimen ("length 20 mm") are none. */
function isName(value: string): boolean {
  if (value === "" || value.length > 120) return false;
  return !/\d ?(mm|cm|μm)\b/.test(value);
}

const signWord =
  /(?:minus|moins|menos|meno|negative|мінус|минус|零下|マイナス|负|負|plus|più|más|mais) ?\d/iu;

/** "minus 20 °C" as "-20 °C". */
function signed(text: string): string {
  if (!signWord.test(text)) return text;
  return text
    .replace(/(^|[^\p{L}])(?:minus|moins|menos|meno|negative|мінус|минус) (?=\d)/giu, "$1-")
    .replace(/(?:零下|マイナス|负|負) ?(?=\d)/g, "-")
    .replace(/(^|[^\p{L}])(?:plus|più|más|mais) (?=\d)/giu, "$1+");
}

/** The one number in a text that has a unit of one of the dimensions, in SI; null where there is none or several. */
function numberOf(text: string, format: NumberFormat, ...dimensions: Unit["dimension"][]): number | null {
  const whole = signed(text);
  const values = valuesWithUnit(whole).filter(({ unit }) => dimensions.includes(unit.dimension));
  // "10 Hz ± 0.1 Hz"
  if (values.length === 2 && /^ ?(?:±|\+\/-|\+-) ?$/.test(whole.slice(values[0].end, values[1].start)))
    values.pop();
  if (values.length !== 1) return null;
  const [{ unit, start, end }] = values;
  if (isLimited(whole, start, end)) return null;
  const number = numberIn(whole.slice(start, end), format);
  return number === null ? null : toSI(number, unit);
}

/** "1, 10, 100 Hz" is a list, "-100 to 80 °C" a range, "max. 100 Hz" and "10 Hz max" limits. */
function isLimited(text: string, start: number, end: number): boolean {
  const before = text.slice(Math.max(0, start - 40), start).replace(/\/ ?min/gi, " ");
  if (/[<>≤≥~≈]\s*=?\s*$/.test(before) && !/~\s*$/.test(before)) return true;
  if (
    /\d[^\p{L}]*(?:(?:and|und|et|y|e|och|i|or|oder|ou|o|to|bis|à|a)[^\p{L}\d]+)?$/u.test(before) &&
    !/[=:@(]\s*$/.test(before)
  )
    return true;
  const near = wordsOf(before).slice(-2);
  if (near.some(isLimitWord)) return true;
  const after = text.slice(end, end + 24);
  if (/^ ?(?:\.{2,}|…|-|–|to |bis |à |a |und |and |y |e |et ) ?[-+]?\d/.test(after)) return true;
  const [next] = wordsOf(after.replace(/^[^,;]*?\bmin(?:utes?)?\b\.?/i, " ").split(/[,;(]/)[0]);
  return next !== undefined && isLimitWord(next) && next.length > 2;
}

/** A bare number whose unit stands with the name: "Frequency (Hz): 10". */
function inUnit(text: string, unit: Unit | null, format: NumberFormat): number | null {
  const [first, ...rest] = signed(text).split(" ");
  if (rest.length > 1) return null;
  const number = numberIn(first, format);
  if (number === null) return null;
  if (rest.length === 1) {
    const own = readUnit(rest[0]);
    return own === null || (unit !== null && own.dimension !== unit.dimension) ? null : toSI(number, own);
  }
  return unit === null ? null : toSI(number, unit);
}

function bareNumber(text: string, format: NumberFormat): number | null {
  const whole = signed(text).trim();
  return whole.includes(" ") ? null : numberIn(whole, format, true);
}

/** The number a text begins with; the file's own marks first, the other's where they fail. */
function numberIn(text: string, format: NumberFormat, isWhole = false): number | null {
  let end = 0;
  while (end < text.length && "+-0123456789.,eE".includes(text[end])) end++;
  while (end > 0 && "eE.,".includes(text[end - 1])) end--;
  if ((isWhole && end < text.length) || "/-–…".includes(text[end] ?? " ")) return null;
  for (const each of [format, format.decimal === 44 ? pointFormat : commaFormat]) {
    const number = new NumberParser(each).parse(text, 0, end, 0);
    if (Number.isFinite(number)) return number;
  }
  return null;
}

/** Whether a text holds a frequency or a temperature with its unit. */
function holdsState(text: string): boolean {
  return /\d/.test(text) && valuesWithUnit(signed(text)).some(isState);
}

function isState({ unit }: ValueWithUnit): boolean {
  return (
    unit.dimension === "frequency" ||
    unit.dimension === "angular frequency" ||
    unit.dimension === "temperature"
  );
}

/** What the words of a title leave over when its values are taken out. */
function withoutValues(text: string, values: ValueWithUnit[]): string {
  let rest = "";
  let from = 0;
  for (const { start, end } of values) {
    rest += `${text.slice(from, start)} `;
    from = end;
  }
  return `${rest}${text.slice(from)}`
    .replace(/[=:@~]/g, " ")
    .replace(/ +/g, " ")
    .trim();
}

const titleUnits = new Set<Unit["dimension"]>([
  "frequency",
  "angular frequency",
  "temperature",
  "temperature rate",
  "ratio",
  "time",
  "angle",
  "length",
]);

function titleValues(text: string): ValueWithUnit[] {
  return valuesWithUnit(text).filter(({ unit }) => titleUnits.has(unit.dimension));
}

/** "10 Hz", "f = 10 Hz", "-20 °C": nothing but a quantity, with at most its own name. */
function isQuantityAlone(text: string): boolean {
  const whole = signed(text);
  const values = titleValues(whole);
  return values.length > 0 && isUnderstood(whole);
}

/** Whether every word of a piece of a title is one that titles of tests are made of. */
function isUnderstood(piece: string): boolean {
  return understood.of(piece, () => isOfTitleWords(piece));
}

const understood = new Memo<boolean>();

function isOfTitleWords(piece: string): boolean {
  const whole = signed(piece);
  const rest = withoutValues(whole, titleValues(whole));
  if (wordsOf(rest).length === 0) return true;
  const { quantity, certain } = rememberedHeader(rest);
  if (quantity !== null && certain && (isStatedByName(quantity) || isResponse(quantity))) return true;
  if (modeIn(rest) !== null && wordsOf(rest).every((word) => isTitleWord(word) || isModeWord(word)))
    return true;
  return wordsOf(rest).every(isTitleWord);
}

function isStatedByName(quantity: Quantity): boolean {
  return (
    quantity === "frequency" ||
    quantity === "angular frequency" ||
    quantity === "temperature" ||
    quantity === "set temperature" ||
    quantity === "strain amplitude" ||
    quantity === "drop height" ||
    quantity === "drop angle"
  );
}

function isTitleWord(word: string): boolean {
  return (
    isGenericWord(word) ||
    neutralWords.has(word) ||
    isModeWord(word) ||
    isLimitWord(word) ||
    factNameOf(word) === "section" ||
    /^[ivx]+$/.test(word)
  );
}

/** The pieces of a title: "10 Hz, tension" has two. A comma between digits parts nothing. */
function piecesOf(text: string): string[] {
  return text
    .split(/[;|]|,(?!\d)|(?<!\d),/)
    .map((piece) => piece.trim())
    .filter((piece) => piece !== "");
}

/**
 * Words without a name: what each piece holds by its own name ("drop height 100 cm"), or alone ("10 Hz"). Where other
 * words stand beside them, a frequency or temperature is only mentioned, and what takes it says that it assumes.
 */
function title(parts: Part[], format: NumberFormat): Statement[] {
  const text = signed(
    parts.map(({ name, value }) => (name === null ? value : `${name}: ${value}`)).join("; "),
  );
  const raw = parts
    .map((part) => part.raw)
    .join(" ")
    .trim();
  const pieces = piecesOf(text);
  const statements: Statement[] = [];
  let strangers = 0;
  const loose: Statement[] = [];
  for (const piece of pieces) {
    const named = namedIn(piece, format);
    if (named !== null) statements.push(...named);
    else if (isUnderstood(piece)) loose.push(...statesIn(piece, text, format));
    else {
      strangers++;
      loose.push(...statesIn(piece, text, format));
    }
  }
  const context = strangers === 0 ? null : otherContextOf(text);
  const states = onlyOnes(loose);
  const isHeld = strangers === 0;
  for (const state of states) {
    if (state.about !== "frequency" && state.about !== "temperature") {
      if (context === null) statements.push(state);
    } else if (context !== null) {
      const values = valuesWithUnit(text).filter(isState);
      const shownValue = values.map(({ start, end }) => text.slice(start, end)).join(", ");
      statements.push({ about: "passed over", text: shownValue, why: `${context}, not the test's` });
    } else statements.push(isHeld ? { ...state, how: "alone" } : { ...state, how: "mentioned" });
  }
  const mode = modeIn(text);
  if (mode !== null && context === null) statements.push({ about: "deformation", mode, rank: 4 });
  if (isReboundMethod(text))
    statements.push({ about: "method", text: shown(raw).replace(/[;,\s]+$/, ""), rank: 3 });
  const words = wordsOf(text);
  if (statements.length === 0 && factNameOf(text) === "section")
    statements.push({ about: "section", text: raw });
  else if (words.length > 0 && factNameOf(words.slice(0, 2).join(" ")) === "section") {
    statements.unshift({ about: "section", text: raw });
  }
  const name = isHeld ? null : nameIn(pieces, strangers);
  if (name !== null && states.length > 0) statements.push({ about: "sample", text: name, rank: 4 });
  return statements;
}

/** "Birch N, tension, 10 Hz": the one stranger among two or more pieces that titles are made of. */
function nameIn(pieces: string[], strangers: number): string | null {
  const [first] = pieces;
  if (strangers !== 1 || pieces.length < 3 || isUnderstood(first)) return null;
  if (titleValues(signed(first)).length > 0 || first.length > 40 || otherContextOf(first) !== null)
    return null;
  return shown(first);
}

/** A piece with a known name and its value, as "drop height 100 cm"; null where it is none. */
function namedIn(piece: string, format: NumberFormat): Statement[] | null {
  const mark = markIn(piece);
  if (mark > 0) {
    const { name, value, raw } = partAt(piece, piece, mark);
    if (isKnownName(name!)) return pair(name!, value, raw, format);
    return otherContextOf(name!) === null ? null : passedOver(name!, value, raw);
  }
  const values = titleValues(piece);
  if (values.length !== 1 || values[0].end < piece.length) return null;
  const rest = withoutValues(piece, values);
  if (rest === "" || isLimited(piece, values[0].start, values[0].end)) return null;
  const { quantity, certain, unit } = rememberedHeader(
    rest.replace(/[^\p{L}\p{N})'*|%]+(?:at|of|bei|a|à|von|de)?$/iu, ""),
  );
  if (quantity === null || !certain || !isStatedByName(quantity)) return null;
  const statements = quantityStatements(quantity, unit, rest, piece.slice(values[0].start), piece, format);
  return statements.some(({ about }) => about !== "passed over") ? statements : null;
}

/** Frequencies, temperatures and rates in words, limits and ends of ranges left out. */
function statesIn(piece: string, text: string, format: NumberFormat): Statement[] {
  const words = wordsOf(text);
  const isRange = words.some((word) => isLimitWord(word));
  return valuesWithUnit(piece).flatMap(({ unit, start, end }): Statement[] => {
    const number = numberIn(piece.slice(start, end), format);
    if (number === null) return [];
    const value = toSI(number, unit);
    switch (unit.dimension) {
      case "temperature rate":
        return [{ about: "heating rate", value: Math.abs(value) }];
      case "frequency":
      case "angular frequency":
        return value > 0 && !isLimited(piece, start, end) ? [{ about: "frequency", value }] : [];
      case "temperature":
        return isRange || isLimited(piece, start, end) ? [] : [{ about: "temperature", value }];
      default:
        return [];
    }
  });
}

/** Those of which a line holds one: of several frequencies none is the test's. */
function onlyOnes(states: Statement[]): Statement[] {
  return states.filter(({ about }) => states.filter((one) => one.about === about).length === 1);
}

/** What the text of a test's title or method mentions. */
function mentioned(value: string, raw: string, format: NumberFormat): Statement[] {
  return title([{ name: null, value, raw }], format).map(
    (statement): Statement =>
      statement.about === "frequency" || statement.about === "temperature"
        ? { ...statement, how: "described" }
        : statement,
  );
}

function isMention({ about }: Statement): boolean {
  return (
    about === "frequency" || about === "heating rate" || about === "passed over" || about === "deformation"
  );
}

/** Standards of rebound tests and the words for their devices. */
function isReboundMethod(text: string): boolean {
  return (
    /\b(iso ?4662|astm ?d ?7121|astm ?d ?2632|astm ?d ?1054|din ?53512|jis ?k ?6255|gb\/?t ?1681)\b/i.test(
      text,
    ) ||
    (/pend|péndulo|pendolo|摆锤|振り子/i.test(text) &&
      /rebound|rückprall|rueckprall|rebond|rebote|rimbalzo|ressalto|回弹|反発/i.test(text))
  );
}
