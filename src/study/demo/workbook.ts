import { strToU8, zipSync } from "fflate";

export type Cell = string | number | null;

export interface Sheet {
  name: string;
  rows: Cell[][];
}

const declaration = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const relationships = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const packageRelationships = "http://schemas.openxmlformats.org/package/2006/relationships";
const contentType = "application/vnd.openxmlformats-officedocument.spreadsheetml";

/**
 * An .xlsx workbook (ECMA-376, transitional): one part per sheet, shared strings, plain numbers.
 * The zip entries carry a fixed date, so the same sheets give the same bytes.
 */
export function workbookBytes(sheets: Sheet[]): Uint8Array {
  const strings = new Map<string, number>();
  const sheetParts = sheets.map((sheet) => sheetPart(sheet, strings));
  const parts: Record<string, string> = {
    "[Content_Types].xml": contentTypesPart(sheets.length),
    "_rels/.rels": relationshipsPart([["officeDocument", "xl/workbook.xml"]]),
    "xl/workbook.xml": workbookPart(sheets),
    "xl/_rels/workbook.xml.rels": relationshipsPart([
      ...sheets.map((_, i): [string, string] => ["worksheet", `worksheets/sheet${i + 1}.xml`]),
      ["styles", "styles.xml"],
      ["sharedStrings", "sharedStrings.xml"],
    ]),
    "xl/styles.xml": stylesPart(),
    "xl/sharedStrings.xml": sharedStringsPart(strings),
  };
  sheetParts.forEach((part, i) => {
    parts[`xl/worksheets/sheet${i + 1}.xml`] = part;
  });
  // The zip format has no time zone: a date without one is written as the same bytes everywhere.
  const entries = Object.entries(parts).map(([path, xml]) => [path, strToU8(declaration + xml)] as const);
  return zipSync(Object.fromEntries(entries), { level: 6, mtime: new Date(2000, 0, 1) });
}

/** Column letters of a 0-based position: 0 is A, 26 is AA. */
export function columnLetters(position: number): string {
  const letter = String.fromCharCode(65 + (position % 26));
  return position < 26 ? letter : columnLetters(Math.floor(position / 26) - 1) + letter;
}

function escapeXml(text: string): string {
  return text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;").replace(/"/g, "&quot;");
}

function sheetPart(sheet: Sheet, strings: Map<string, number>): string {
  const rows = sheet.rows.map((cells, row) => {
    const written = cells.map((cell, column) => {
      const reference = `${columnLetters(column)}${row + 1}`;
      if (cell === null) return "";
      if (typeof cell === "number") return `<c r="${reference}"><v>${cell}</v></c>`;
      if (!strings.has(cell)) strings.set(cell, strings.size);
      return `<c r="${reference}" t="s"><v>${strings.get(cell)}</v></c>`;
    });
    return `<row r="${row + 1}">${written.join("")}</row>`;
  });
  return `<worksheet xmlns="${main}"><sheetData>${rows.join("")}</sheetData></worksheet>`;
}

function workbookPart(sheets: Sheet[]): string {
  const list = sheets.map(
    ({ name }, i) => `<sheet name="${escapeXml(name)}" sheetId="${i + 1}" r:id="rId${i + 1}"/>`,
  );
  return `<workbook xmlns="${main}" xmlns:r="${relationships}"><sheets>${list.join("")}</sheets></workbook>`;
}

function relationshipsPart(targets: [type: string, target: string][]): string {
  const list = targets.map(
    ([type, target], i) =>
      `<Relationship Id="rId${i + 1}" Type="${relationships}/${type}" Target="${target}"/>`,
  );
  return `<Relationships xmlns="${packageRelationships}">${list.join("")}</Relationships>`;
}

function contentTypesPart(sheetCount: number): string {
  const override = (path: string, type: string) =>
    `<Override PartName="${path}" ContentType="${contentType}.${type}+xml"/>`;
  const sheets = Array.from({ length: sheetCount }, (_, i) =>
    override(`/xl/worksheets/sheet${i + 1}.xml`, "worksheet"),
  );
  return [
    '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">',
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>',
    '<Default Extension="xml" ContentType="application/xml"/>',
    override("/xl/workbook.xml", "sheet.main"),
    ...sheets,
    override("/xl/styles.xml", "styles"),
    override("/xl/sharedStrings.xml", "sharedStrings"),
    "</Types>",
  ].join("");
}

function stylesPart(): string {
  return [
    `<styleSheet xmlns="${main}">`,
    '<fonts count="1"><font><sz val="11"/><name val="Sans"/></font></fonts>',
    '<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>',
    '<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>',
    '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>',
    '<cellXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/></cellXfs>',
    "</styleSheet>",
  ].join("");
}

function sharedStringsPart(strings: Map<string, number>): string {
  const list = [...strings.keys()].map((text) => `<si><t xml:space="preserve">${escapeXml(text)}</t></si>`);
  return `<sst xmlns="${main}" uniqueCount="${strings.size}">${list.join("")}</sst>`;
}
