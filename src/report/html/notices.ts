import type { Notice } from "../../words/notice.js";
import { type Html, html } from "./html.js";

const words: Record<Notice["severity"], string> = { error: "Error", caution: "Caution", info: "Note" };
const rank: Record<Notice["severity"], number> = { error: 0, caution: 1, info: 2 };

/** Hyphens before a number are minus signs. */
export function withTrueMinus(text: string): string {
  return text.replace(/(^|[\s(])-(?=\d)/g, "$1−");
}

/** Notices, gravest first; `inputNumber` gives the number of the input a notice is about. */
export function noticeList(notices: Notice[], inputNumber: (path: string) => number | null): Html {
  if (notices.length === 0) return html``;
  const sorted = [...notices].sort((a, b) => rank[a.severity] - rank[b.severity]);
  return html`<ul class="notices">${sorted.map((notice) => {
    const number = notice.path === undefined ? null : inputNumber(notice.path);
    return html`<li class="${notice.severity}"><b>${words[notice.severity]}</b> <span>${withTrueMinus(notice.message)}${
      number !== null && html` <a class="source" href="#input-${number}">file ${number}</a>`
    } <code>${notice.code}</code></span></li>`;
  })}</ul>`;
}
