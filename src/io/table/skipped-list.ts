import { shown } from "../../words/quoted.js";
import type { Skipped } from "../measurement.js";

/** Lines listed one by one; a file with more of them is told of by their number. */
const mostListed = 10_000;

/** Lines that are left out, in the order in which they are met, and their full number. */
export class SkippedList {
  count = 0;
  private readonly entries: Skipped[] = [];

  add(line: number, text: string, why: string): void {
    this.count++;
    if (this.entries.length < mostListed) this.entries.push({ line, text: shown(text).slice(0, 120), why });
  }

  /** Takes the entry of a line back, which was of use after all. */
  take(line: number): void {
    const at = this.entries.findLastIndex((entry) => entry.line === line);
    if (at < 0) return;
    this.entries.splice(at, 1);
    this.count--;
  }

  addAll(other: SkippedList): void {
    for (const entry of other.entries) if (this.entries.length < mostListed) this.entries.push(entry);
    this.count += other.count;
  }

  /** By line; the last entry counts those that are not listed. */
  list(): Skipped[] {
    const list = this.entries.toSorted((a, b) => a.line - b.line);
    const more = this.count - list.length;
    if (more > 0) {
      list.push({
        line: list[list.length - 1].line,
        text: "",
        why: `${more} more lines were left out; only ${mostListed} are listed`,
      });
    }
    return list;
  }
}
