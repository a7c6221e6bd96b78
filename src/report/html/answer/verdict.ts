import type { ColdVerdict } from "../../../predict/outlook.js";
import { type Html, html } from "../html.js";

/** Worst first. What is not determined (null) could be glassy, so it stands right after what may be. */
export const verdictsWorstFirst: readonly (ColdVerdict | null)[] = [
  "glassy",
  "glassy or leathery",
  null,
  "leathery",
  "leathery or rubbery",
  "rubbery",
];

/** Place of a verdict in the order worst first, from 0. */
export function severity(verdict: ColdVerdict | null): number {
  return verdictsWorstFirst.indexOf(verdict);
}

/** The name a style sheet or a symbol gives a verdict. */
export function verdictClass(verdict: ColdVerdict | null): string {
  return verdict === null ? "undetermined" : verdict.replaceAll(" ", "-");
}

const square = `<rect x="2.5" y="2.5" width="11" height="11"/>`;
const diamond = `<path d="M8 1 15 8 8 15 1 8Z"/>`;
const disc = `<circle cx="8" cy="8" r="6.2"/>`;
const halves = (left: string, right: string) =>
  `<g transform="translate(0 1.2) scale(.85)">${left}</g><g transform="translate(14.4 1.2) scale(.85)">${right}</g>`;

/** The shapes: square for glassy, diamond for leathery, disc for rubbery, both where a border is straddled. */
export const verdictSymbols = `<svg class="symbols" width="0" height="0" aria-hidden="true">
<symbol id="mark-glassy" viewBox="0 0 16 16">${square}</symbol>
<symbol id="mark-leathery" viewBox="0 0 16 16">${diamond}</symbol>
<symbol id="mark-rubbery" viewBox="0 0 16 16">${disc}</symbol>
<symbol id="mark-glassy-or-leathery" viewBox="0 0 28 16">${halves(square, diamond)}</symbol>
<symbol id="mark-leathery-or-rubbery" viewBox="0 0 28 16">${halves(diamond, disc)}</symbol>
<symbol id="mark-undetermined" viewBox="0 0 16 16"><path d="M3 7h10v2H3z"/></symbol>
</svg>`;

/** The shape alone, hidden from screen readers: the word always stands beside it. */
export function verdictMark(verdict: ColdVerdict | null): Html {
  const name = verdictClass(verdict);
  return html`<svg class="mark ${name}" aria-hidden="true"><use href="#mark-${name}"/></svg>`;
}

/** Shape and word. */
export function verdictTag(verdict: ColdVerdict | null): Html {
  return html`<span class="verdict ${verdictClass(verdict)}">${verdictMark(verdict)}<span class="word">${
    verdict ?? "not determined"
  }</span></span>`;
}
