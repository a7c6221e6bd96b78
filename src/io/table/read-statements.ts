import { keyOfCells, Memo } from "../memo.js";
import { shown } from "../problem-codes.js";
import { factNameOf, limitWords } from "../vocabulary/fact-terms.js";
import { foldText, wordsOf } from "../vocabulary/fold-text.js";
import { modeIn } from "../vocabulary/mode-terms.js";
import { readUnit, toSI, type Unit } from "../vocabulary/units.js";
import { valuesWithUnit } from "../vocabulary/value-with-unit.js";
import { rememberedHeader } from "./column.js";
import type { Statement } from "./facts.js";
import { commaFormat, type NumberFormat, NumberParser, pointFormat } from "./number-format.js";

const longestLine = 2000;

/**
 * What a line outside the rows of a table says: a name and its value in cells of their own or parted by a
 * colon, an equals sign or blanks, or words that hold a frequency, a temperature or a mode. Empty where it
 * says nothing that is known.
 * @example readStatements(["Frequency", "10", "Hz"], format) // [{ about: "frequency", value: 10 }]
 */
export function readStatements(cells: string[], format: NumberFormat): readonly Statement[] {
  const key = `${format.decimal} ${format.thousands} ${keyOfCells(cells)}`;
  return memory.of(key, () => statementsOf(cells, format));
}

const memory = new Memo<readonly Statement[]>();

function statementsOf(cells: string[], format: NumberFormat): readonly Statement[] {
  const filled = cells.filter((cell) => cell !== "");
  if (filled.length === 0 || filled.length > 12) return [];
  if (filled.reduce((sum, cell) => sum + cell.length, 0) > longestLine) return [];
  const folded = filled.map(foldText);
  folded[0] = folded[0].replace(/^(#|\/\/|\*|%|!)+ ?/, "");
  const [name, value] = nameAndValue(folded, filled);
  if (value === "") return sentence(folded.join(" "), filled.join(" ").trim());
  const mark = firstMark(folded[0]);
  const said = pair(name, value, rawValue(filled, mark > 0 && mark < folded[0].length - 1), format);
  if (said.length > 0) return said;
  // Several pairs side by side: "Frequency, 10 Hz, Strain, 0.1 %".
  if (filled.length >= 4 && filled.length % 2 === 0) {
    const statements: Statement[] = [];
    for (let i = 0; i < filled.length; i += 2) {
      statements.push(...pair(trimColon(folded[i]), folded[i + 1], filled[i + 1], format));
    }
    if (statements.length > 0) return statements;
  }
  return sentence(folded.join(" "), filled.join(" ").trim());
}

function trimColon(text: string): string {
  return text.replace(/[\s:=]+$/, "");
}

/** The name and what follows it: after a colon or an equals sign in the first cell, else in the next cells. */
function nameAndValue(folded: string[], raw: string[]): [string, string] {
  const [first, ...rest] = folded;
  const mark = firstMark(first);
  if (mark > 0 && mark < first.length - 1) {
    return [first.slice(0, mark).trim(), [first.slice(mark + 1).trim(), ...rest].join(" ").trim()];
  }
  if (raw.length > 1)
    return [
      trimColon(first),
      rest
        .join(" ")
        .replace(/^[:=] ?/, "")
        .trim(),
    ];
  return [first, ""];
}

function firstMark(text: string): number {
  for (let i = 0; i < text.length; i++) {
    if (text[i] === "=") return i;
    // A colon inside a clock time is none.
    if (text[i] === ":" && !(/\d/.test(text[i - 1] ?? "") && /\d/.test(text[i + 1] ?? ""))) return i;
  }
  return -1;
}

/** A value's own spelling, for names: folding is for looking up only. */
function rawValue(raw: string[], parted: boolean): string {
  const [first, ...rest] = raw;
  const mark = parted ? first.search(/[:=：＝]/) : -1;
  const own = parted ? first.slice(mark + 1) : "";
  return shown([own, ...rest].join(" ")).replace(/^[\s:=：＝]+/, "");
}

const sampleRanks: Record<string, number> = { sample: 1, name: 3 };

function pair(name: string, value: string, raw: string, format: NumberFormat): Statement[] {
  const known = factNameOf(name);
  switch (known) {
    case "remark":
      return rememberedHeader(name).quantity === "laboratory" && raw !== ""
        ? [{ about: "laboratory", text: raw }]
        : [{ about: "remark" }];
    case "mode": {
      const mode = modeIn(value);
      if (mode !== null) return [{ about: "deformation", mode, rank: 1 }];
      break;
    }
    case "heating rate": {
      const rate = numberOf(value, format, "temperature rate");
      return rate === null ? [] : [{ about: "heating rate", value: Math.abs(rate) }];
    }
    case "section": {
      const rest = sentence(value, raw).filter(({ about }) => about !== "deformation" && about !== "method");
      return [{ about: "section", text: raw === "" ? name : `${name}: ${raw}` }, ...rest];
    }
    case "batch":
      return [{ about: "sample", text: raw, rank: 5 }];
    case "test": {
      const mode = modeIn(value);
      const statements = sentence(value, raw);
      return mode === null ? statements : [...statements, { about: "deformation", mode, rank: 2 }];
    }
    default:
      break;
  }
  const header = rememberedHeader(name);
  if (header.quantity === null || !header.certain) return [];
  const unit = header.unit;
  const number = (dimension: Unit["dimension"][]) =>
    numberOf(value, format, ...dimension) ?? inUnit(value, unit, format);
  switch (header.quantity) {
    case "sample":
    case "name":
      return isName(value) ? [{ about: "sample", text: raw, rank: sampleRanks[header.quantity] }] : [];
    case "laboratory":
      return raw === "" ? [] : [{ about: "laboratory", text: raw }];
    case "method":
      return [{ about: "method", text: raw, rank: 1 }];
    case "frequency": {
      const frequency = number(["frequency", "angular frequency"]);
      return frequency !== null && frequency > 0 ? [{ about: "frequency", value: frequency }] : [];
    }
    case "angular frequency": {
      const frequency = number(["angular frequency", "frequency"]);
      return frequency !== null && frequency > 0 ? [{ about: "frequency", value: frequency }] : [];
    }
    case "temperature":
    case "set temperature": {
      const temperature = number(["temperature"]);
      return temperature === null ? [] : [{ about: "temperature", value: temperature }];
    }
    case "strain amplitude": {
      const mode = modeIn(value);
      if (mode !== null) return [{ about: "deformation", mode, rank: 1 }];
      const strain = number(["ratio"]);
      return strain !== null && strain > 0 ? [{ about: "strain", value: strain }] : [];
    }
    case "drop height": {
      const height = number(["length"]);
      return height !== null && height > 0 ? [{ about: "drop height", value: height }] : [];
    }
    case "drop angle": {
      const angle = number(["angle"]);
      return angle !== null && angle > 0 ? [{ about: "drop angle", value: angle }] : [];
    }
    default:
      return [];
  }
}

/** A sample's name; measures of a specimen ("length 20 mm") are none. */
function isName(value: string): boolean {
  if (value === "" || value.length > 120) return false;
  return !/\d ?(mm|cm|μm)\b/.test(value);
}

/** The one number in a text that has a unit of one of the dimensions, in SI; null where there is none or several. */
function numberOf(text: string, format: NumberFormat, ...dimensions: Unit["dimension"][]): number | null {
  const values = valuesWithUnit(text).filter(({ unit }) => dimensions.includes(unit.dimension));
  if (values.length !== 1) return null;
  const [{ unit, start, end }] = values;
  // "1, 10, 100 Hz" is a list, "-100 to 80 °C" a range.
  const before = text.slice(0, start);
  if (/\d/.test(before) && !/[=:@(]\s*$/.test(before)) return null;
  const number = numberIn(text.slice(start, end), format);
  return number === null ? null : toSI(number, unit);
}

/** A bare number whose unit stands with the name: "Frequency (Hz): 10". Without one: Hz, °C. */
function inUnit(text: string, unit: Unit | null, format: NumberFormat): number | null {
  const [first, ...rest] = text.split(" ");
  if (rest.length > 1) return null;
  const number = numberIn(first, format);
  if (number === null) return null;
  if (rest.length === 1) {
    const own = readUnit(rest[0]);
    return own === null || (unit !== null && own.dimension !== unit.dimension) ? null : toSI(number, own);
  }
  return unit === null ? null : toSI(number, unit);
}

/** The number a text begins with; the file's own marks first, the other's where they fail. */
function numberIn(text: string, format: NumberFormat): number | null {
  let end = 0;
  while (end < text.length && "+-0123456789.,eE".includes(text[end])) end++;
  while (end > 0 && "eE.,".includes(text[end - 1])) end--;
  for (const each of [format, format.decimal === 44 ? pointFormat : commaFormat]) {
    const number = new NumberParser(each).parse(text, 0, end, 0);
    if (Number.isFinite(number)) return number;
  }
  return null;
}

/** A line without a name: one frequency, one temperature, a heating rate, a mode, a method. */
function sentence(text: string, raw: string): Statement[] {
  const statements: Statement[] = [];
  const words = wordsOf(text);
  const limited = words.some((word) => limitWords.has(word));
  const values = valuesWithUnit(text);
  const of = (...dimensions: Unit["dimension"][]) =>
    values.filter(({ unit }) => dimensions.includes(unit.dimension));
  const frequencies = of("frequency", "angular frequency");
  const temperatures = of("temperature");
  const rates = of("temperature rate");
  if (rates.length === 1)
    statements.push({ about: "heating rate", value: Math.abs(toSI(rates[0].value, rates[0].unit)) });
  if (frequencies.length === 1 && !isLimit(text, frequencies[0].start)) {
    const frequency = toSI(frequencies[0].value, frequencies[0].unit);
    if (frequency > 0) statements.push({ about: "frequency", value: frequency });
  }
  if (temperatures.length === 1 && !limited && !isLimit(text, temperatures[0].start)) {
    statements.push({ about: "temperature", value: toSI(temperatures[0].value, temperatures[0].unit) });
  }
  const mode = modeIn(text);
  if (mode !== null) statements.push({ about: "deformation", mode, rank: 4 });
  if (isReboundMethod(text))
    statements.push({ about: "method", text: shown(raw).replace(/[;,\s]+$/, ""), rank: 3 });
  if (statements.length === 0 && factNameOf(text) === "section")
    statements.push({ about: "section", text: raw });
  else if (words.length > 0 && factNameOf(words.slice(0, 2).join(" ")) === "section") {
    statements.unshift({ about: "section", text: raw });
  }
  return statements;
}

/** "0.1, 1, 10 Hz", "0.1 to 100 Hz", "max. 100 Hz": the value is one of several, or an end of a range. */
function isLimit(text: string, start: number): boolean {
  const before = text.slice(Math.max(0, start - 40), start).replace(/\/ ?min/gi, " ");
  if (/\d\s*[,;/]\s*$/.test(before)) return true;
  const last = wordsOf(before).at(-1);
  return last !== undefined && limitWords.has(last);
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
