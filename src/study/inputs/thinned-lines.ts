import type { FileContent, Measurement } from "../../io/measurement.js";
import type { Notice, Outcome } from "../../words/notice.js";

/**
 * Puts the line numbers of the whole file into what was read from some of its lines.
 * @param lines number in the file of each line that was read, in order
 */
export function withLinesOf(outcome: Outcome<FileContent>, lines: readonly number[]): Outcome<FileContent> {
  const lineOf = (line: number) => lines[line - 1] ?? line;
  const textOf = (text: string) =>
    text.replace(/\b(lines? )(\d+)(?:( to )(\d+))?/gi, (_, word: string, first: string, to = "", last = "") =>
      [word, lineOf(Number(first)), to, last === "" ? "" : lineOf(Number(last))].join(""),
    );
  if (!outcome.ok) {
    const { problem } = outcome;
    const place = problem.line === undefined ? {} : { line: lineOf(problem.line) };
    return { ok: false, problem: { ...problem, ...place, message: textOf(problem.message) } };
  }
  const { measurements, notices, skipped } = outcome.value;
  return {
    ok: true,
    value: {
      ...outcome.value,
      measurements: measurements.map((each) => withLines(each, lineOf)),
      notices: notices.map((each): Notice => ({ ...each, message: textOf(each.message) })),
      skipped: skipped.map((each) => ({ ...each, line: lineOf(each.line), why: textOf(each.why) })),
    },
  };
}

function withLines(measurement: Measurement, lineOf: (line: number) => number): Measurement {
  const { provenance } = measurement;
  const placed = {
    ...provenance,
    firstLine: lineOf(provenance.firstLine),
    lastLine: lineOf(provenance.lastLine),
  };
  if (measurement.kind !== "rebound") return { ...measurement, provenance: placed };
  const readings = measurement.readings.map((each) => ({ ...each, line: lineOf(each.line) }));
  return { ...measurement, readings, provenance: placed };
}
