import { strToU8, zipSync } from "fflate";
import type { Cell, PlotTable } from "../frame/plot-spec.js";

const main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const relationships = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const packaged = "http://schemas.openxmlformats.org/package/2006";
const contentType = "application/vnd.openxmlformats-officedocument.spreadsheetml";

export const workbookType = `${contentType}.sheet`;

/**
 * The table as an .xlsx workbook (ECMA-376, transitional) of one sheet, the remarks first. There a number is a
 * number in every country; in CSV a spreadsheet with a decimal comma takes 5.06 for a day in June.
 */
export function workbookBytes({ columns, rows, remarks }: PlotTable): Uint8Array<ArrayBuffer> {
  const lines: Cell[][] = [...remarks.map((remark) => [remark]), columns, ...rows];
  const sheet = `<worksheet xmlns="${main}"><cols>${columns.map(columnWidth).join("")}</cols><sheetData>${lines.map(row).join("")}</sheetData></worksheet>`;
  const parts = {
    "[Content_Types].xml": `<Types xmlns="${packaged}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="${contentType}.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="${contentType}.worksheet+xml"/></Types>`,
    "_rels/.rels": relationship("officeDocument", "xl/workbook.xml"),
    "xl/workbook.xml": `<workbook xmlns="${main}" xmlns:r="${relationships}"><sheets><sheet name="Data" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    "xl/_rels/workbook.xml.rels": relationship("worksheet", "worksheets/sheet1.xml"),
    "xl/worksheets/sheet1.xml": sheet,
  };
  const declaration = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
  const entries = Object.entries(parts).map(([path, xml]) => [path, strToU8(declaration + xml)] as const);
  // The earliest time that an archive can state: the same table gives the same bytes.
  return zipSync(Object.fromEntries(entries), { mtime: new Date(1980, 0, 1) });
}

function relationship(type: string, target: string): string {
  return `<Relationships xmlns="${packaged}/relationships"><Relationship Id="rId1" Type="${relationships}/${type}" Target="${target}"/></Relationships>`;
}

/** Wide enough for the heading, and for a name in the first column. */
function columnWidth(heading: string, k: number): string {
  const width = Math.max(k === 0 ? 22 : 10, heading.length + 2);
  return `<col min="${k + 1}" max="${k + 1}" width="${width}" customWidth="1"/>`;
}

function row(cells: Cell[], k: number): string {
  return `<row r="${k + 1}">${cells.map((cell, column) => cellXml(cell, `${letters(column)}${k + 1}`)).join("")}</row>`;
}

function cellXml(cell: Cell, at: string): string {
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
    .replaceAll(">", "&gt;");
}
