import { describe, expect, it } from "vitest";
import { decodeText } from "../../src/io/bytes/decode-text.js";
import { readBytes } from "../../src/io/read-bytes.js";

const bytes = (...values: number[]) => Uint8Array.from(values);
const utf8 = (text: string) => new TextEncoder().encode(text);

function decoded(input: Uint8Array) {
  const outcome = decodeText(input);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return outcome.value;
}

function utf16(text: string, littleEndian: boolean): Uint8Array {
  const view = new DataView(new ArrayBuffer(2 * text.length));
  for (let i = 0; i < text.length; i++) view.setUint16(2 * i, text.charCodeAt(i), littleEndian);
  return new Uint8Array(view.buffer);
}

/** Bytes of Windows-1252 for characters that are one byte in Latin-1, and of some that are not. */
const windows1252 = (text: string) =>
  Uint8Array.from(
    text,
    (character) => ({ "’": 0x92, "€": 0x80, "–": 0x96 })[character] ?? character.charCodeAt(0),
  );

describe("encodings", () => {
  const text = "Température [°C];E′;δ\r\n-20;5;0,3\r\n";

  it.each<[string, Uint8Array]>([
    ["UTF-8", utf8(text)],
    ["UTF-8 with BOM", utf8(`\ufeff${text}`)],
    ["UTF-16 LE with BOM", utf16(`\ufeff${text}`, true)],
    ["UTF-16 BE with BOM", utf16(`\ufeff${text}`, false)],
    ["UTF-16 LE", utf16(text, true)],
    ["UTF-16 BE", utf16(text, false)],
  ])("%s", (encoding, input) => {
    expect(decoded(input)).toEqual({ text, encoding, assumed: false });
  });

  it("Windows-1252, curly primes and all", () => {
    expect(decoded(windows1252("Prüf [°C]; E’; 1 – 2 €"))).toEqual({
      text: "Prüf [°C]; E’; 1 – 2 €",
      encoding: "Windows-1252",
      assumed: false,
    });
  });

  it.each<[string, number[]]>([
    // 温度 (temperature) and a number, in the two encodings; byte values from the standards' tables.
    ["GB 18030", [0xce, 0xc2, 0xb6, 0xc8, 0x3b, 0x31]],
    ["Shift JIS", [0x89, 0xb7, 0x93, 0x78, 0x3b, 0x31]],
  ])("%s, where it spells a word of the trade", (encoding, values) => {
    expect(decoded(bytes(...values))).toEqual({ text: "温度;1", encoding, assumed: true });
  });

  it("undoes an encoding that was done twice", () => {
    const twice = utf8(new TextDecoder("latin1").decode(utf8("T (°C);G'")));
    expect(decoded(twice)).toEqual({ text: "T (°C);G'", encoding: "UTF-8, encoded twice", assumed: true });
  });

  it("keeps a UTF-8 text with one broken byte in UTF-8", () => {
    const input = new Uint8Array([...utf8("T (°C);δ;ω;E′;"), 0xff, ...utf8("end")]);
    expect(decoded(input)).toMatchObject({ text: "T (°C);δ;ω;E′;\ufffdend", assumed: true });
  });

  it("gives a problem for bytes that are no text", () => {
    expect(decodeText(bytes(1, 2, 3, 4, 5, 6, 7, 8))).toMatchObject({
      ok: false,
      problem: { code: "io.binary-file" },
    });
    expect(decodeText(new Uint8Array(5000))).toMatchObject({
      ok: false,
      problem: { code: "io.binary-file" },
    });
  });

  it("names the place of a few zero bytes in a text", () => {
    const text = utf8(`T;E'\n${"-20;5.1\n".repeat(40)}`);
    // Line 3 is "-20;5.1" again: the fourth byte of it.
    const broken = text.map((byte, i) => (i === 5 + 8 + 3 ? 0 : byte));
    expect(decodeText(broken)).toMatchObject({
      ok: false,
      problem: { code: "io.binary-file", line: 3, message: expect.stringContaining("line 3, at byte 4") },
    });
  });

  it("names the encoding in the reading, and says where it is not certain", async () => {
    const table = utf8("T (Â°C);f (Hz);E' (MPa);tan Î´\n-20;1;5;0.1\n-10;1;4;0.2\n");
    const outcome = await readBytes(table, "x.csv");
    expect(outcome).toMatchObject({ ok: true, value: { encoding: "UTF-8, encoded twice" } });
    if (outcome.ok) expect(outcome.value.notices.map(({ code }) => code)).toContain("io.encoding-assumed");
  });
});
