import { verdictClass, verdictsWorstFirst } from "../../html/answer/verdict.js";

/**
 * Filter and sort for the matrix of verdicts.
 *
 * @returns to be called when the matrix was written anew
 */
export function matrixTools(count: number): () => void {
  const tools = document.getElementById("matrix-tools");
  const matrix = document.getElementById("matrix");
  if (tools === null || matrix === null || count < 2) return () => {};
  const filter = document.createElement("select");
  filter.setAttribute("aria-label", "Show verdicts");
  filter.append(new Option("all verdicts", ""));
  for (const verdict of verdictsWorstFirst) {
    if (verdict !== null) filter.append(new Option(`with ${verdict}`, verdictClass(verdict)));
  }
  if (count > 6) tools.append(filter);

  const apply = () => {
    for (const row of matrix.querySelectorAll<HTMLTableRowElement>("tbody tr"))
      row.hidden = filter.value !== "" && row.querySelector(`td.cell.${filter.value}`) === null;
  };
  filter.addEventListener("input", apply);

  /** What the reader chose, kept when the matrix is written anew. */
  let sorted: Sorted | null = null;
  const sortable = () => {
    for (const head of matrix.querySelectorAll<HTMLElement>("thead th")) {
      const label = head.querySelector(".sort");
      if (label === null || label.querySelector("button") !== null) continue;
      const button = document.createElement("button");
      button.type = "button";
      button.className = "sort-button";
      button.innerHTML = label.innerHTML;
      button.title = "Sort by this column";
      button.addEventListener("click", () => {
        const column = Number(head.dataset.column);
        sorted = { column, down: sorted?.column === column && !sorted.down };
        sortBy(matrix, sorted);
      });
      label.replaceChildren(button);
    }
    if (sorted !== null) sortBy(matrix, sorted);
    apply();
  };
  sortable();
  return sortable;
}

interface Sorted {
  column: number;
  down: boolean;
}

function sortBy(matrix: HTMLElement, { column, down }: Sorted): void {
  const body = matrix.querySelector("tbody");
  if (body === null) return;
  for (const head of matrix.querySelectorAll<HTMLElement>("thead th")) {
    if (Number(head.dataset.column) !== column) head.removeAttribute("aria-sort");
    else head.setAttribute("aria-sort", down ? "descending" : "ascending");
  }
  const rows = [...body.rows];
  const key = (row: HTMLTableRowElement) => row.cells[column];
  rows.sort((a, b) => {
    const difference =
      column === 0
        ? (key(a).textContent ?? "").localeCompare(key(b).textContent ?? "", "en", { numeric: true })
        : Number(key(a).dataset.order) - Number(key(b).dataset.order);
    return down ? -difference : difference;
  });
  body.append(...rows);
}
