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
}

export type Outcome<T> = { ok: true; value: T } | { ok: false; problem: Problem };
