import { shownWidth } from "./shown-width.js";

/** Stands in for the blank between a number and its unit, which no line ends at. */
const glue = "\u00a0";

const glued = (text: string) =>
  text.replace(
    /(\d) (?=(?:[µmkMG]?(?:Hz|Pa|m|s|N)|mm[²³]|°C|K|g|J|%)(?![\p{Letter}\p{Number}]))/gu,
    `$1${glue}`,
  );

/** Words of a text in lines no wider than so many columns; a word that is too long is broken. */
export function wrapped(text: string, columns: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of glued(text).split(" ")) {
    let rest = word.replaceAll(glue, " ");
    if (line !== "" && shownWidth(line) + 1 + shownWidth(rest) > columns) {
      lines.push(line);
      line = "";
    }
    while (shownWidth(rest) > columns) {
      const cut = cutAt(rest, columns);
      lines.push(rest.slice(0, cut));
      rest = rest.slice(cut);
    }
    line = line === "" ? rest : `${line} ${rest}`;
  }
  if (line !== "" || lines.length === 0) lines.push(line);
  return lines;
}

/** The same with a first indent and a deeper one for the lines that follow: what a list shows. */
export function hanging(text: string, columns: number, first: string, next: string): string[] {
  const inner = wrapped(text, columns - next.length);
  return inner.map((line, i) => (i === 0 ? first : next) + line);
}

function cutAt(text: string, columns: number): number {
  let width = 0;
  let at = 0;
  for (const character of text) {
    width += shownWidth(character);
    if (width > columns) break;
    at += character.length;
  }
  return Math.max(1, at);
}
