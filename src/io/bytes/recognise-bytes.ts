import { problem } from "../../words/codes/codes.js";
import type { Problem } from "../../words/notice.js";

const pictures: [name: string, magic: number[]][] = [
  ["PNG", [0x89, 0x50, 0x4e, 0x47]],
  ["JPEG", [0xff, 0xd8, 0xff]],
  ["GIF", [0x47, 0x49, 0x46, 0x38]],
  ["TIFF", [0x49, 0x49, 0x2a, 0x00]],
  ["TIFF", [0x4d, 0x4d, 0x00, 0x2a]],
  ["WebP", [0x52, 0x49, 0x46, 0x46]],
];

const archives: [name: string, magic: number[]][] = [
  ["gzip", [0x1f, 0x8b]],
  ["7-Zip", [0x37, 0x7a, 0xbc, 0xaf]],
  ["RAR", [0x52, 0x61, 0x72, 0x21]],
  ["bzip2", [0x42, 0x5a, 0x68, 0x39]],
  ["xz", [0xfd, 0x37, 0x7a, 0x58, 0x5a]],
];

/** What bytes are by their first few: text to be decoded, a zip that may be a workbook, or a reason to stop. */
export function recogniseBytes(bytes: Uint8Array): "text" | "workbook" | Problem {
  if (bytes.length === 0)
    return problem("io.empty-file", "The file is empty: it holds no byte. Export it again.");
  const starts = (magic: number[]) => magic.every((byte, i) => bytes[i] === byte);
  if (starts([0x50, 0x4b, 0x03, 0x04]) || starts([0x50, 0x4b, 0x05, 0x06])) return "workbook";
  for (const [name, magic] of pictures) {
    if (!starts(magic)) continue;
    return problem(
      "io.picture",
      `This is a ${name} picture, whatever its name says; expected a table of numbers. Export the measured values, not the plot.`,
    );
  }
  if (starts([0x42, 0x4d]) && bytes.length > 26 && bytes[6] === 0 && bytes[7] === 0 && bytes[14] === 40) {
    return problem(
      "io.picture",
      "This is a BMP picture; expected a table of numbers. Export the measured values, not the plot.",
    );
  }
  if (starts([0x25, 0x50, 0x44, 0x46])) {
    return problem(
      "io.document",
      "This is a PDF document; expected delimited text or an .xlsx workbook. Export the measured values.",
    );
  }
  if (starts([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1])) {
    return problem(
      "io.old-workbook",
      "This is a spreadsheet or document in the binary format of before 2007 (.xls), or an encrypted workbook; expected an .xlsx " +
        "workbook or delimited text. Open it, take off the password where it has one, and save it as .xlsx or .csv.",
    );
  }
  if (starts([0x7b, 0x5c, 0x72, 0x74, 0x66])) {
    return problem(
      "io.document",
      "This is a rich-text document; expected delimited text or an .xlsx workbook. Save it as plain text.",
    );
  }
  for (const [name, magic] of archives) {
    if (starts(magic)) {
      return problem(
        "io.archive",
        `This is a ${name} archive; expected a workbook or delimited text. Unpack it and give the files inside.`,
      );
    }
  }
  return "text";
}

/**
 * A text that is a document or data of another kind and no table, whatever its name: a web page, XML, JSON. Null where
 * its first characters do not say so.
 */
export function documentIn(head: string): Problem | null {
  const start = head
    .replace(/^\ufeff/, "")
    .replace(/^(?:\s*<!-{2}[\s\S]*?(?:-->|$))+/, "")
    .trimStart();
  if (/^<(?:!doctype|html|head|body|meta|style|table|div|p|pre|tr)\b/i.test(start)) {
    return problem(
      "io.document",
      "This is a web page (HTML), whatever its name says; expected delimited text or an .xlsx workbook. Open it in a spreadsheet " +
        "program and save it as .xlsx or .csv.",
      1,
    );
  }
  if (/^<\?xml|^<[a-z][\w.:-]*(?:\s+[\w.:-]+\s*=\s*["'][^"']*["'])*\s*\/?>/i.test(start)) {
    return problem(
      "io.document",
      "This is an XML document, whatever its name says; expected delimited text or an .xlsx workbook. Export the measured values in one of these.",
      1,
    );
  }
  if (/^[[{]\s*(?:["[{\]}]|-?\d+(?:\.\d+)?\s*,)/.test(start) && /"\s*:|^\[\s*[[\d-]/.test(start)) {
    return problem(
      "io.document",
      "This is JSON, data for programs, whatever its name says; expected delimited text or an .xlsx workbook. Export the measured values in one of these.",
      1,
    );
  }
  return null;
}
