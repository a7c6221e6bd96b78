import type { Notice, Problem } from "../../words/notice.js";
import type { Block } from "./block.js";
import type { Facts, Statement } from "./facts.js";
import { SkippedList } from "./skipped-list.js";
import { Spellings } from "./spellings.js";

/** What was found in one text or sheet. */
export interface TableContents {
  blocks: Block[];
  /** What was said outside the tables, to the end. */
  facts: Facts;
  skipped: SkippedList;
  problems: Problem[];
  notices: Notice[];
  /** A number in the other decimal convention, the first one met. */
  conflict: { line: number; column: number; cell: string } | null;
  /** The first row of text right above numbers, where no header was known. */
  likelyHeader: { cells: string[]; line: number } | null;
  headers: number;
  /** What lines outside the tables state, and what of it is not the test's. */
  said: SaidLine[];
  /** How the names in it are written. */
  spellings: Spellings;
}

/** A fact that a line states, or a frequency or temperature in it that was passed over. */
export interface SaidLine {
  line: number;
  statement: Statement;
}

/** The contents of a table before its first row. */
export function emptyReading(facts: Facts): TableContents {
  return {
    blocks: [],
    facts,
    skipped: new SkippedList(),
    problems: [],
    notices: [],
    conflict: null,
    likelyHeader: null,
    headers: 0,
    said: [],
    spellings: new Spellings(),
  };
}
