import { foldText, wordsOf } from "../../vocabulary/fold-text.js";
import type { HeaderMeaning } from "../../vocabulary/header-meaning.js";
import { meanWords } from "../../vocabulary/terms/qualifiers.js";
import type { Column } from "./column.js";

/**
 * What the words of a header tell of a column that the headers of the others do not say: "trouser" and "Die C" of two tear
 * strengths. Counts, units, standards, temperatures and words for a mean tell nothing.
 */
export function wordsThatDiffer(columns: Column[]): ReadonlyMap<Column, string> {
  const differing = new Map<Column, string>();
  if (columns.length < 2) return differing;
  const words = columns.map(({ reading }) => tellingWords(reading));
  const shared = words[0].filter((word) => words.every((list) => list.includes(word)));
  columns.forEach((column, i) => {
    const own = words[i].filter((word) => !shared.includes(word));
    if (own.some((word) => /\p{L}/u.test(word))) differing.set(column, own.join(" "));
  });
  return differing;
}

function tellingWords({ text, unitText, standard, tag }: HeaderMeaning): string[] {
  let rest = text;
  for (const known of [standard, unitText]) if (known) rest = rest.replace(known, " ");
  if (tag.temperature_C !== undefined)
    rest = rest.replace(/[-−–+]?\d+(?:[.,]\d+)? ?(?:°|º)? ?[CFK](?!\p{L})/u, " ");
  // "3 s" is one word: after how long the reading was taken.
  rest = rest.replace(/(\d) (?=(?:s|sec|min|h|d)(?!\p{L}))/gu, "$1");
  return rest.split(/[\s()[\]{},;:/#_]+/).filter((word) => word !== "" && !isUnderstood(word));
}

function isUnderstood(word: string): boolean {
  return wordsOf(foldText(word)).every((each) => meanWords.has(each) || isCount(each));
}

/** Counts of repeats, and the words of the scales of hardness, which stand in the unit. */
function isCount(word: string): boolean {
  return /^(?:[a-z]{0,3}\d+|%|n|no|nr|rep|repeat|run|test|impact|value|irhd|shore|shorea|a|d)$/.test(word);
}
