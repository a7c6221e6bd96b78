import type { Problem } from "../../words/notice.js";

/** Thrown inside the reader only, and caught at its edge: a problem found deep in the rows ends the reading. */
export class Rejection extends Error {
  constructor(readonly problem: Problem) {
    super(problem.message);
  }
}
