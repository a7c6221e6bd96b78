import { notice, problem } from "../words/codes/codes.js";
import type { Outcome, Problem } from "../words/notice.js";
import { utf8TextOf } from "./bytes/decode-text.js";
import { recogniseBytes } from "./bytes/recognise-bytes.js";
import type { FileContent } from "./measurement.js";
import type { ReadOptions } from "./read-options.js";
import { readUtf8 } from "./read-text.js";
import { readWorkbook } from "./workbook/read-workbook.js";

export type { ReadOptions } from "./read-options.js";

/**
 * Reads a file, whatever its name: text in any usual encoding, or an .xlsx workbook. Never throws: a file that
 * cannot be used gives a problem with a code, what was found, what was expected and what to do.
 * Keeps none of the bytes: one room may serve file after file.
 * @param fileName for messages and provenance only
 * @example (await readBytes(new TextEncoder().encode(""), "birch.csv")).problem.code // "io.empty-file"
 */
export async function readBytes(
  bytes: Uint8Array,
  fileName: string,
  options: ReadOptions = {},
): Promise<Outcome<FileContent>> {
  try {
    return readKnown(bytes, fileName, options);
  } catch (error) {
    const what = error instanceof Error ? error.message : String(error);
    return {
      ok: false,
      problem: problem(
        "io.not-read",
        `The reader failed on this file (${what.slice(0, 200)}). This is a defect of the program: please report it.`,
      ),
    };
  }
}

function readKnown(bytes: Uint8Array, fileName: string, options: ReadOptions): Outcome<FileContent> {
  const recognised = recogniseBytes(bytes);
  if (recognised === "workbook") return readWorkbook(bytes, fileName, options);
  if (recognised !== "text") return { ok: false, problem: recognised };
  const decoded = utf8TextOf(bytes);
  if (!decoded.ok) return decoded;
  const { utf8, encoding, assumed } = decoded.value;
  const outcome = readUtf8(utf8, fileName, options);
  if (!outcome.ok) return assumed ? { ok: false, problem: withEncoding(outcome.problem, encoding) } : outcome;
  const notices = assumed
    ? [
        notice(
          "io.encoding-assumed",
          `The encoding is not certain: the bytes were read as ${encoding}. Check names and units.`,
        ),
        ...outcome.value.notices,
      ]
    : outcome.value.notices;
  return { ok: true, value: { ...outcome.value, notices, encoding } };
}

/** A header that is not understood may be one whose letters were read in the wrong encoding. */
function withEncoding(problem: Problem, encoding: string): Problem {
  const message =
    `${problem.message} The encoding is not certain: the bytes were read as ${encoding}. ` +
    `If letters above look wrong, export as UTF-8.`;
  return { ...problem, message };
}
