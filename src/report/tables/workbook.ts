import { strToU8, zipSync } from "fflate";

export type WorkbookCell = string | number | null;

export interface Sheet {
  /** At most 31 signs, none of : \ / ? * [ ]. */
  name: string;
  rows: WorkbookCell[][];
}

const main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const relationships = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const packaged = "http://schemas.openxmlformats.org/package/2006";
const contentType = "application/vnd.openxmlformats-officedocument.spreadsheetml";

export const workbookType = `${contentType}.sheet`;

/**
 * Sheets as an .xlsx workbook (ECMA-376, transitional). There a number is a number in every country, where in CSV a
 * spreadsheet with a decimal comma takes 5.06 for a day in June; and a text is a text, whatever it begins with.
 * The same sheets give the same bytes.
 * @example workbookBytes([{ name: "Data", rows: [["Rebound"], [0.52]] }]).slice(0, 2) // Uint8Array [80, 75]
 */
export function workbookBytes(sheets: Sheet[]): Uint8Array<ArrayBuffer> {
  const paths = sheets.map((_, i) => `worksheets/sheet${i + 1}.xml`);
  const list = sheets.map(
    ({ name }, i) => `<sheet name="${escapeXml(name)}" sheetId="${i + 1}" r:id="rId${i + 1}"/>`,
  );
  const overrides = paths.map(
    (path) => `<Override PartName="/xl/${path}" ContentType="${contentType}.worksheet+xml"/>`,
  );
  const parts: [path: string, xml: string][] = [
    [
      "[Content_Types].xml",
      `<Types xmlns="${packaged}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="${contentType}.sheet.main+xml"/>${overrides.join("")}</Types>`,
    ],
    ["_rels/.rels", relationshipsXml("officeDocument", ["xl/workbook.xml"])],
    [
      "xl/workbook.xml",
      `<workbook xmlns="${main}" xmlns:r="${relationships}"><sheets>${list.join("")}</sheets></workbook>`,
    ],
    ["xl/_rels/workbook.xml.rels", relationshipsXml("worksheet", paths)],
    ...sheets.map(({ rows }, i): [string, string] => [`xl/${paths[i]}`, sheetXml(rows)]),
  ];
  const declaration = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
  const entries = parts.map(([path, xml]) => [path, strToU8(declaration + xml)] as const);
  // The earliest time that an archive can state.
  return zipSync(Object.fromEntries(entries), { mtime: new Date(1980, 0, 1) });
}

function relationshipsXml(type: string, targets: string[]): string {
  const list = targets.map(
    (target, i) => `<Relationship Id="rId${i + 1}" Type="${relationships}/${type}" Target="${target}"/>`,
  );
  return `<Relationships xmlns="${packaged}/relationships">${list.join("")}</Relationships>`;
}

function sheetXml(rows: WorkbookCell[][]): string {
  // The headings are the first of the widest rows; above them stand remarks.
  const widest = rows.reduce((most, row) => Math.max(most, row.length), 0);
  const headings = rows.find((row) => row.length === widest) ?? [];
  const columns = headings.length === 0 ? "" : `<cols>${headings.map(columnWidth).join("")}</cols>`;
  return `<worksheet xmlns="${main}">${columns}<sheetData>${rows.map(rowXml).join("")}</sheetData></worksheet>`;
}

/** Wide enough for the heading, and for a name in the first column. */
function columnWidth(heading: WorkbookCell, k: number): string {
  const width = Math.max(k === 0 ? 22 : 10, String(heading ?? "").length + 2);
  return `<col min="${k + 1}" max="${k + 1}" width="${width}" customWidth="1"/>`;
}

function rowXml(cells: WorkbookCell[], k: number): string {
  return `<row r="${k + 1}">${cells.map((cell, column) => cellXml(cell, `${letters(column)}${k + 1}`)).join("")}</row>`;
}

function cellXml(cell: WorkbookCell, at: string): string {
  if (typeof cell === "string")
    return `<c r="${at}" t="inlineStr"><is><t xml:space="preserve">${escapeXml(cell)}</t></is></c>`;
  return typeof cell === "number" && Number.isFinite(cell) ? `<c r="${at}"><v>${cell}</v></c>` : "";
}

/** A for the first column, AA for the 27th. */
function letters(column: number): string {
  const last = String.fromCharCode(65 + (column % 26));
  return column < 26 ? last : letters(Math.floor(column / 26) - 1) + last;
}

function escapeXml(text: string): string {
  return text
    .replaceAll(/[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu, "\uFFFD")
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");
}
