import type { Notice, Problem } from "../words/notice.js";
import { shown } from "../words/quoted.js";

/** Stands in messages for the name of the file at hand, until the edge of the reader puts it in. */
const thisFile = "<this file>";

/** What to paste into study.yaml to state a column: `columns: { "birch.csv": { "E'": "storage modulus in MPa" } }`. */
export function columnInStudy(header: string | number, words: string): string {
  return `columns: { "${thisFile}": { ${JSON.stringify(shown(String(header)))}: ${JSON.stringify(words)} } }`;
}

/** What to paste into study.yaml to state a thing of the whole file: `files: { "birch.csv": { frequency_Hz: 10 } }`. */
export function fileInStudy(key: string, value: string | number): string {
  return `files: { "${thisFile}": { ${key}: ${JSON.stringify(value)} } }`;
}

/** A problem or notice with the file's own name in its example; a name with marks of a pattern is given by parts. */
export function withFileName<Said extends Problem | Notice>(said: Said, fileName: string): Said {
  if (!said.message.includes(thisFile)) return said;
  const name = fileName
    .slice(fileName.lastIndexOf("/") + 1)
    .replace(/[\\"[\]{}()!*+@|\p{Cc}\p{Default_Ignorable_Code_Point}]|[^\S ]/gu, "?");
  return { ...said, message: said.message.replaceAll(thisFile, name) };
}
