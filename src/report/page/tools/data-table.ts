import { type Html, html } from "../../html/html.js";
import { significant, withMinusSign } from "../../html/numbers.js";
import type { Cell, PlotTable } from "../frame/plot-spec.js";

const mostRows = 1000;

function cellHtml(cell: Cell): Html {
  if (cell === null || cell === undefined) return html`<td class="number">—</td>`;
  if (typeof cell === "number") {
    const plain =
      Number.isInteger(cell) && Math.abs(cell) < 1e6 ? withMinusSign(String(cell)) : significant(cell, 4);
    return html`<td class="number">${plain}</td>`;
  }
  return html`<td><bdi>${cell}</bdi></td>`;
}

/** A plot's numbers as a table; four digits, the CSV file has them all. */
export function dataTable({ columns, rows, remarks }: PlotTable, label: string): Html {
  const numeric = (k: number) => rows.some((row) => typeof row[k] === "number");
  return html`<div class="table-frame tall" role="group" aria-label="${label}" tabindex="0"><table class="facts data"><thead><tr>${columns.map(
    (column, k) => html`<th scope="col"${numeric(k) && html` class="number"`}>${column}</th>`,
  )}</tr></thead><tbody>${rows.slice(0, mostRows).map((row) => html`<tr>${row.map(cellHtml)}</tr>`)}</tbody></table></div>${
    rows.length > mostRows &&
    html`<p class="small">The first ${mostRows} of ${rows.length} rows; the CSV file has all.</p>`
  }<ul class="plain small">${remarks.map((remark) => html`<li><bdi>${remark}</bdi></li>`)}</ul>`;
}
