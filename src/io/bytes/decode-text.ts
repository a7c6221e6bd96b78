import { problem } from "../../words/codes/codes.js";
import type { Outcome } from "../../words/notice.js";
import { ideographTerms } from "../vocabulary/terms/ideograph-terms.js";
import { oneByteEncodingOf } from "./one-byte-encoding.js";
import { controlsAmong, isControl, startOfAsciiTail } from "./scan-bytes.js";

/** How the bytes of a text were understood. */
interface Encoded {
  /** In plain words. */
  encoding: string;
  /** True where the bytes do not settle the encoding and one was taken by what the text says. */
  assumed: boolean;
}

export interface DecodedText extends Encoded {
  text: string;
}

/** The text of a file as valid UTF-8 without a byte order mark. */
export interface Utf8Text extends Encoded {
  utf8: Uint8Array;
}

/** A string cannot be longer than about 5·10^8 characters in today's engines. */
const mostBytes = 500_000_000;

/** The text of a file as a string; see `utf8TextOf`. */
export function decodeText(bytes: Uint8Array): Outcome<DecodedText> {
  const outcome = utf8TextOf(bytes);
  if (!outcome.ok) return outcome;
  const { utf8, encoding, assumed } = outcome.value;
  return { ok: true, value: { text: textOfUtf8(utf8, 0, utf8.length), encoding, assumed } };
}

/**
 * The text of a file: byte order marks first, then UTF-16 by where its zero bytes stand, then UTF-8, then the
 * one-byte and Asian encodings of older programs. Bytes that are no text give a problem. Bytes that are UTF-8
 * already are not copied.
 */
export function utf8TextOf(file: Uint8Array): Outcome<Utf8Text> {
  // Of one class whoever calls: an engine is slower at bytes that are now of one and now of another.
  const bytes = new Uint8Array(file.buffer, file.byteOffset, file.byteLength);
  if (bytes.length > mostBytes) {
    return {
      ok: false,
      problem: problem(
        "io.too-large",
        `The file holds ${Math.round(bytes.length / 1e6)} MB; at most ${mostBytes / 1e6} MB are read at once. Split the export.`,
      ),
    };
  }
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) {
    const unmarked = bytes.subarray(3);
    const isUtf8 = headOf(unmarked, startOfAsciiTail(unmarked)) !== null;
    if (isUtf8) return settledUtf8(unmarked, "UTF-8 with BOM");
  }
  if (bytes[0] === 0xff && bytes[1] === 0xfe)
    return wide(bytes.subarray(2), "utf-16le", "UTF-16 LE with BOM");
  if (bytes[0] === 0xfe && bytes[1] === 0xff)
    return wide(bytes.subarray(2), "utf-16be", "UTF-16 BE with BOM");
  const tail = startOfAsciiTail(bytes);
  const order = zeroPattern(bytes, tail);
  if (order === "utf-16le") return wide(bytes, "utf-16le", "UTF-16 LE");
  if (order === "utf-16be") return wide(bytes, "utf-16be", "UTF-16 BE");
  if (isFullOfControls(bytes)) return binary();
  if (order === "binary") return withZeroBytes(bytes);
  const head = headOf(bytes, tail);
  if (head !== null) return repaired(bytes, head);
  if (isNearlyUtf8(bytes)) {
    return settled(new TextDecoder("utf-8").decode(bytes), "UTF-8 with damaged characters", true);
  }
  return narrow(bytes);
}

/** Valid characters of several bytes, and more of them than of bytes that fit nowhere. */
function isNearlyUtf8(bytes: Uint8Array): boolean {
  let valid = 0;
  let invalid = 0;
  const count = Math.min(bytes.length, 1 << 20);
  for (let i = 0; i < count; i++) {
    const byte = bytes[i];
    if (byte < 0x80) continue;
    const length = byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : byte >= 0xc2 ? 2 : 0;
    let follow = 1;
    while (follow < length && (bytes[i + follow] & 0xc0) === 0x80) follow++;
    if (length > 0 && follow === length) {
      valid++;
      i += length - 1;
    } else invalid++;
  }
  return valid > invalid;
}

/** What UTF-8 looks like after it was taken for Windows-1252 and written as UTF-8 again. */
const encodedTwice = /Â[°²µ]|Î´|Ï‰|â€[²³™]|Ã[¼©³£]/;

/** Undoes an encoding that was done twice, where the whole text can be. */
function repaired(utf8: Uint8Array, head: string): Outcome<Utf8Text> {
  if (!encodedTwice.test(head)) return settledUtf8(utf8, "UTF-8");
  const text = textOfUtf8(utf8, 0, utf8.length);
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    const place = code < 0x100 ? -1 : upperControls.indexOf(text[i]);
    if (code >= 0x100 && place < 0) return settledUtf8(utf8, "UTF-8");
    bytes[i] = place < 0 ? code : 0x80 + place;
  }
  const once = decoded(bytes, "utf-8");
  return once === null ? settledUtf8(utf8, "UTF-8") : settled(once, "UTF-8, encoded twice", true);
}

function settled(text: string, encoding: string, assumed = false): Outcome<Utf8Text> {
  return settledUtf8(new TextEncoder().encode(text), encoding, assumed);
}

function settledUtf8(utf8: Uint8Array, encoding: string, assumed = false): Outcome<Utf8Text> {
  return { ok: true, value: { utf8, encoding, assumed } };
}

const utf8Decoder = new TextDecoder("utf-8", { ignoreBOM: true });
let strictUtf8Decoder = new TextDecoder("utf-8", { ignoreBOM: true, fatal: true });

/** A span of bytes that are known to be UTF-8, as a string. */
export function textOfUtf8(utf8: Uint8Array, start: number, end: number): string {
  return start === end ? "" : utf8Decoder.decode(utf8.subarray(start, end));
}

/**
 * The text up to where all that follows is ASCII, null where the bytes are no UTF-8. In most exports all is ASCII
 * from the header on, and what is needs no check.
 */
function headOf(bytes: Uint8Array, tail: number): string | null {
  try {
    return strictUtf8Decoder.decode(bytes.subarray(0, tail));
  } catch {
    // A decoder that has failed is not trusted with the next file.
    strictUtf8Decoder = new TextDecoder("utf-8", { ignoreBOM: true, fatal: true });
    return null;
  }
}

function decoded(bytes: Uint8Array, label: string): string | null {
  try {
    return new TextDecoder(label, { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return null;
  }
}

function wide(bytes: Uint8Array, label: string, encoding: string): Outcome<Utf8Text> {
  // A file cut in the middle of a character is still readable up to there.
  const whole = bytes.subarray(0, bytes.length - (bytes.length % 2));
  const text = new TextDecoder(label, { ignoreBOM: true }).decode(whole);
  return isBinaryText(text) ? binary() : settled(text, encoding);
}

/**
 * Text in UTF-16 without a mark: nearly every second byte is zero, and hardly any other.
 * @param tail from where on no byte is zero
 */
function zeroPattern(bytes: Uint8Array, tail: number): "utf-16le" | "utf-16be" | "binary" | null {
  if (!bytes.subarray(0, Math.min(tail, 1 << 18)).includes(0)) return null;
  const count = Math.min(bytes.length, 4096);
  let even = 0;
  let odd = 0;
  for (let i = 0; i < count; i++) {
    if (bytes[i] !== 0) continue;
    if (i % 2 === 0) even++;
    else odd++;
  }
  if (even === 0 && odd === 0) return "binary";
  const half = count / 2;
  if (odd > 0.4 * half && even < 0.1 * half) return "utf-16le";
  if (even > 0.4 * half && odd < 0.1 * half) return "utf-16be";
  return "binary";
}

/** Of the characters of a text. */
const mostControls = 0.01;

/** Whether more than one in a hundred of the first bytes is a control character that texts do not hold. */
function isFullOfControls(bytes: Uint8Array): boolean {
  const count = Math.min(bytes.length, 1 << 13);
  return controlsAmong(bytes, count) > mostControls * count;
}

function isBinaryText(text: string): boolean {
  const count = Math.min(text.length, 1 << 13);
  let controls = 0;
  for (let i = 0; i < count; i++) if (isControl(text.charCodeAt(i))) controls++;
  return count > 0 && controls / count > mostControls;
}

function binary(): Outcome<never> {
  return {
    ok: false,
    problem: problem(
      "io.binary-file",
      "This is a binary file, not text and not a workbook; expected delimited text (.csv, .txt) or an .xlsx workbook. Export the " +
        "measured values in one of these.",
    ),
  };
}

/** Text but for a few zero bytes, as a broken transfer leaves them: what they stand for is not known. */
function withZeroBytes(bytes: Uint8Array): Outcome<never> {
  const first = bytes.indexOf(0);
  const before = bytes.subarray(0, first);
  const lineFeed = 10;
  const line = 1 + before.reduce((count, byte) => count + (byte === lineFeed ? 1 : 0), 0);
  const column = first - before.lastIndexOf(lineFeed);
  const count = bytes.reduce((sum, byte) => sum + (byte === 0 ? 1 : 0), 0);
  if (count > mostControls * bytes.length) return binary();
  const which = count === 1 ? "a zero byte" : `${count} zero bytes, the first of them`;
  return {
    ok: false,
    problem: problem(
      "io.binary-file",
      `The file is text but for ${which} in line ${line}, at byte ${column} of it: what stood there is not known. Export or copy the file again.`,
      line,
    ),
  };
}

/** Asian encodings that the bytes are valid in and then hold the trade's words in, the one with the most; else one byte a character. */
function narrow(bytes: Uint8Array): Outcome<Utf8Text> {
  const sample = bytes.subarray(0, 1 << 16);
  let best: { label: string; name: string; terms: number } | null = null;
  for (const [label, name] of [
    ["gb18030", "GB 18030"],
    ["shift_jis", "Shift JIS"],
    ["big5", "Big5"],
    ["euc-jp", "EUC-JP"],
    ["euc-kr", "EUC-KR"],
  ]) {
    const start = decodedLoosely(sample, label);
    if (start === null) continue;
    const terms = ideographTerms.filter(([term]) => term.length >= 2 && start.includes(term)).length;
    if (terms > (best?.terms ?? 0)) best = { label, name, terms };
  }
  if (best !== null) {
    const text = decoded(bytes, best.label);
    if (text !== null) return settled(text, best.name, true);
  }
  const { label, name } = oneByteEncodingOf(sample, (encoding) => oneByteText(sample, encoding));
  const text = oneByteText(bytes, label);
  return isBinaryText(text) ? binary() : settled(text, name, label !== "windows-1252");
}

function oneByteText(bytes: Uint8Array, label: string): string {
  return label === "windows-1252" ? windows1252(bytes) : new TextDecoder(label).decode(bytes);
}

/** Windows-1252 for 0x80 to 0x9F; the five unused places stay as they are. */
const upperControls = "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ";

/** Some releases of Node decode this label as Latin-1 and leave curly primes as control characters. */
function windows1252(bytes: Uint8Array): string {
  const text = new TextDecoder("windows-1252").decode(bytes);
  return text.replace(/[\x80-\x9f]/g, (control) => upperControls[control.charCodeAt(0) - 0x80]);
}

/** The sample may end inside a character. */
function decodedLoosely(sample: Uint8Array, label: string): string | null {
  try {
    return new TextDecoder(label).decode(sample);
  } catch {
    return null;
  }
}
