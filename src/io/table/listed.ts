import { notice } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { quoted } from "../../words/quoted.js";
import { isRepeatable, isText } from "../vocabulary/quantities.js";
import { type Cell, textOf } from "./data-cell.js";
import { rememberedHeader } from "./header/column.js";
import type { CellRow } from "./transposed.js";

/** A table turned into one that has a header of quantities, and what is to be told of it. */
export interface TurnedTable {
  rows: CellRow[];
  notices: Notice[];
  skipped: { line: number; text: string; why: string }[];
}

const propertyTitle =
  /^(?:property|properties|test|test name|test property|quantity|characteristic|parameter|item|eigenschaft|kennwert|kenngröße|merkmal|prüfung|prüfgröße|größe|propriété|caractéristique|essai|grandeur|propiedad|característica|ensayo|proprietà|caratteristica|prova|grandezza|propriedade|característica|ensaio|egenskap|provning|właściwość|badanie|vlastnost|zkouška|свойство|показатель|性能|项目|项目名称|测试项目|項目|試験項目|特性)$/iu;
const valueTitle =
  /^(?:(value|result|measured|measured value|test value|wert|messwert|ergebnis|valeur|résultat|valor|resultado|valore|risultato|värde|resultat|wartość|wynik|hodnota|výsledek|значение|результат|值|数值|结果|测试值|値|測定値|結果)|(mean|average|mean value|median|mittelwert|moyenne|media|promedio|média|medelvärde|średnia|průměr|среднее|平均值|平均値|平均))(?: ?#?(\d{1,2}))?$/iu;
const unitTitle =
  /^(?:units?|einheit|unité|unidad|unità|unidade|enhet|jednostka|jednotka|единица|ед\. изм\.|单位|單位|単位)$/iu;

const mostRows = 20_000;
/** Lines in which the header is looked for. */
const deepestHeader = 60;

/**
 * A list of single values ("Sample; Property; Value; Unit") turned into a table for each property, whose header
 * is the property with its unit and whose further columns (method, temperature, specimen) stay. Null where the rows hold
 * no such list.
 */
export function listedRows(rows: CellRow[]): TurnedTable | null {
  if (rows.length > mostRows) return null;
  const at = rows.slice(0, deepestHeader).findIndex(({ cells }) => titlesOf(cells) !== null);
  if (at < 0) return null;
  const header = rows[at];
  const { property, unit, values, sample } = titlesOf(header.cells)!;
  const own = new Set([property, unit, ...values.map(({ position }) => position)]);
  const others = header.cells.map((_, i) => i).filter((i) => !own.has(i));
  // "Property; Value" of one sample is a table on its side.
  if (others.length === 0) return null;
  const lists = new Map<string, CellRow[]>();
  const skipped: TurnedTable["skipped"] = [];
  let last = { sample: "", property: "" };
  let carried = 0;
  for (const { line, cells } of rows.slice(at + 1)) {
    const text = (i: number) => textOf(cells[i] ?? "");
    if (values.every(({ position }) => text(position) === "")) continue;
    if (sample >= 0 && text(sample) === "" && last.sample !== "") carried++;
    last = {
      sample: sample < 0 ? "" : text(sample) || last.sample,
      property: text(property) || last.property,
    };
    const name = unit < 0 || text(unit) === "" ? last.property : `${last.property} (${text(unit)})`;
    const { quantity } = rememberedHeader(name);
    if (quantity === null || !isRepeatable(quantity)) {
      const why = `${quoted(name)} is no property that is read`;
      skipped.push({ line, text: cells.map(textOf).join(" "), why });
      continue;
    }
    const kept = others.map((i): Cell => (i === sample ? last.sample : (cells[i] ?? "")));
    const row = { line, cells: [...kept, ...values.map(({ position }): Cell => cells[position] ?? "")] };
    const list = lists.get(name);
    if (list === undefined) lists.set(name, [row]);
    else list.push(row);
  }
  if (lists.size === 0) return null;
  const titles = others.map((i) => textOf(header.cells[i]));
  const tables = [...lists].flatMap(([name, list]): CellRow[] => [
    { line: header.line, cells: [...titles, ...values.map(({ suffix }) => withSuffix(name, suffix))] },
    ...list,
    { line: list[list.length - 1].line, cells: [""] },
  ]);
  const message = `${carried} ${carried === 1 ? "row has" : "rows have"} no sample's name and went with the sample above.`;
  return {
    rows: [...rows.slice(0, at), ...tables],
    notices: carried === 0 ? [] : [notice("io.sample-carried-down", message)],
    skipped,
  };
}

interface Titles {
  property: number;
  unit: number;
  sample: number;
  /** Columns of values, with what they add to the property's name: a count, or that they are means. */
  values: { position: number; suffix: string }[];
}

/** Signs of a header's cell that are looked at; no title of a column is as long. */
const longestTitle = 200;

/** Where a header of a list has its columns; null where the cells are no such header. */
function titlesOf(cells: Cell[]): Titles | null {
  if (cells.length < 2 || cells.length > 30) return null;
  const texts = cells.map((cell) =>
    textOf(cell)
      .slice(0, longestTitle)
      .trim()
      .replace(/[([].*[)\]]$/u, "")
      .trimEnd(),
  );
  const property = texts.findIndex((text) => propertyTitle.test(text));
  if (property < 0) return null;
  const matches = texts.flatMap((text, position) => {
    const match = position === property ? null : valueTitle.exec(text);
    return match === null ? [] : [{ position, isMean: match[2] !== undefined, count: match[3] ?? "" }];
  });
  if (matches.length === 0) return null;
  const singles = matches.filter(({ isMean }) => !isMean);
  const values = matches.map(({ position, isMean, count }, i) => ({
    position,
    suffix: isMean ? "mean" : singles.length > 1 ? count || String(i + 1) : "",
  }));
  const sample = texts.findIndex((text) => {
    const { quantity } = rememberedHeader(text);
    return quantity !== null && isText(quantity) && quantity !== "method";
  });
  return { property, unit: texts.findIndex((text) => unitTitle.test(text)), sample, values };
}

/** "Hardness (Shore A)" and "2" as "Hardness 2 (Shore A)". */
function withSuffix(name: string, suffix: string): string {
  if (suffix === "") return name;
  const open = name.search(/ ?\([^()]*\)$/);
  return open < 0 ? `${name} ${suffix}` : `${name.slice(0, open)} ${suffix}${name.slice(open)}`;
}
