import { unbroken, unbrokenAfterValue } from "./unbroken.js";

/**
 * Markup that is safe to write into the page. Only `html` makes it, and `html` escapes every value that is
 * not markup already, so that a name from a file can never become an element.
 */
export class Html {
  constructor(readonly markup: string) {}
  toString(): string {
    return this.markup;
  }
}

export type HtmlValue = Html | string | number | null | undefined | false | HtmlValue[];

const entities: Record<string, string> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

// Control characters other than tab and line feed are not allowed in HTML text, and a browser would
// complain or drop them; each is shown as the replacement character. Lone surrogates would not survive UTF-8.
const unprintable = /[^\P{Cc}\t\n]|\p{Surrogate}|[\ufffe\uffff]/gu;

/** Text for element content or a quoted attribute. */
function escapeText(text: string): string {
  return text.replace(unprintable, "\ufffd").replace(/[&<>"']/g, (character) => entities[character]);
}

function toMarkup(value: HtmlValue): string {
  if (value === null || value === undefined || value === false) return "";
  if (value instanceof Html) return value.markup;
  if (Array.isArray(value)) return value.map(toMarkup).join("");
  return escapeText(String(value));
}

/** The fixed parts of each template, with no break between a number and its unit; a template is written once. */
const fixedParts = new WeakMap<TemplateStringsArray, string[]>();

function fixedPartsOf(strings: TemplateStringsArray): string[] {
  const known = fixedParts.get(strings);
  if (known !== undefined) return known;
  const parts = strings.map((part, i) => (i === 0 ? unbroken(part) : unbrokenAfterValue(part)));
  fixedParts.set(strings, parts);
  return parts;
}

/**
 * Markup from a template; every value in it is escaped, except markup made by `html` itself.
 * @example html`<b>${"<script>"}</b>`.markup // "<b>&lt;script&gt;</b>"
 */
export function html(strings: TemplateStringsArray, ...values: HtmlValue[]): Html {
  const parts = fixedPartsOf(strings);
  let markup = parts[0];
  for (let i = 0; i < values.length; i++) markup += toMarkup(values[i]) + parts[i + 1];
  return new Html(markup);
}

/** Several pieces with a separator between them. */
export function joinHtml(parts: HtmlValue[], separator: HtmlValue): Html {
  return new Html(parts.map(toMarkup).join(toMarkup(separator)));
}

/** "a, b and c". */
export function listHtml(parts: Html[]): Html {
  if (parts.length < 2) return joinHtml(parts, "");
  return html`${joinHtml(parts.slice(0, -1), ", ")} and ${parts[parts.length - 1]}`;
}

/** A name from a file or study, isolated so that right-to-left marks in it turn nothing around it. */
export function nameHtml(name: string): Html {
  return html`<bdi class="name">${name}</bdi>`;
}
