import type { Notice } from "../../words/notice.js";
import type { Facts } from "../table/facts.js";
import type { SkippedList } from "../table/skipped-list.js";
import type { SaidLine } from "../table/table-contents.js";
import type { Disagreements } from "./units/disagreements.js";

/** Where series put what they have to say. */
export interface Told {
  /** One of them may be told several times; the reading keeps the first. */
  notices: Notice[];
  skipped: SkippedList;
  disagreements: Disagreements;
  /** What was said to the end of the file, and all that was said or passed over. */
  lastFacts: Facts;
  said: SaidLine[];
  /** Names that may hold a frequency where nothing else does, the nearest first. */
  names: { name: string; what: string }[];
  /** True where all tables of the file lean on one statement of a frequency or temperature. */
  statedOnce: boolean;
}
