/**
 * A reason why an input cannot be used, as a value. `message` says what was found, what was expected and
 * what to do; `line` and `column` count from 1 and are there where the problem has a place.
 */
export interface Problem {
  code: string;
  message: string;
  line?: number;
  column?: number;
}

export type Severity = "info" | "caution" | "error";

/** Something the reader of a result must know: an assumption, a limit, a doubt. `code` is stable. */
export interface Notice {
  severity: Severity;
  code: string;
  message: string;
  /** The input the notice is about, where it is about one. */
  path?: string;
  /** The fact without the states in which it holds, which its message lists: notices of one fact can be told as one. */
  fact?: { sentence: string; states: string[]; remedy: string };
}

export type Outcome<T> = { ok: true; value: T } | { ok: false; problem: Problem };

/** What a code means: how grave it is, in one sentence what happened, and what its reader can do about it. */
export interface CodeMeaning {
  severity: Severity;
  means: string;
  whatToDo: string;
  /**
   * Where it is told: once for the study, with the compounds it holds for; among the standing cautions, as what a
   * method cannot do; among the steps, as an ordinary part of reading and fitting. Where nothing is said: with the
   * compound, the use or the file it is about.
   */
  told?: "for the study" | "standing" | "step";
  /** Codes that say no more than this one does: where it is told of a compound, they are not told again. */
  covers?: readonly string[];
  /** The code that says the contrary: the two never stand beside each other. */
  contrary?: string;
}
