import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readText } from "../../src/io/read-text.js";
import { readLarge } from "../../src/study/inputs/read-large.js";

const lines = [
  "Sample: Birch 60",
  "Frequency: 10 Hz",
  "Mode: tension",
  "",
  "T/°C;E'/MPa;E''/MPa",
  "-40;1500;90",
  "-30;800;160",
  "-20;n/a;120",
  "-10;60;30",
  "0;20;8",
];
const withEnds = (ends: string[]) => lines.map((line, i) => line + ends[i]).join("");
const content = (text: string) => {
  const outcome = readText(text, "invented.csv");
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return outcome.value;
};
const whole = content(withEnds(lines.map(() => "\n")));

describe("line ends", () => {
  it("the sweep as it stands", () => {
    expect(whole.measurements).toMatchObject([{ sample: "Birch 60", deformation: "tension" }]);
    expect(whole.measurements[0].kind === "rebound" || [...whole.measurements[0].temperature_C]).toEqual([
      -40, -30, -10, 0,
    ]);
    expect(whole.skipped).toMatchObject([{ line: 8 }]);
  });

  it("any mix of them reads as one kind does, with the lines' numbers", () => {
    const mix = fc
      .array(fc.constantFrom("\n", "\r\n", "\r"), { minLength: lines.length, maxLength: lines.length })
      // A return before the end of an empty line makes one line end of both, and nobody can tell.
      .filter((ends) => ends[2] !== "\r" || ends[3] === "\r");
    fc.assert(
      fc.property(mix, (ends) => {
        expect(content(withEnds(ends))).toEqual(whole);
      }),
    );
  });

  it.each([
    ["returns alone", lines.map(() => "\r")],
    ["returns alone but for one line feed", lines.map((_, i) => (i === 6 ? "\n" : "\r"))],
    ["line feeds but for one return inside the table", lines.map((_, i) => (i === 6 ? "\r" : "\n"))],
    ["two returns before each line feed", lines.map(() => "\r\r\n")],
    ["a line feed before each return", lines.map(() => "\n\r")],
  ])("%s", (_, ends) => {
    expect(content(withEnds(ends))).toEqual(whole);
  });

  it("no last line end", () => {
    for (const end of ["\n", "\r\n", "\r"])
      expect(content(withEnds(lines.map((_, i) => (i + 1 < lines.length ? end : ""))))).toEqual(whole);
  });

  it("a return in a quoted header parts no row", () => {
    const [sweep] = content(
      'Frequency: 1 Hz\n"T\r(°C)";"E\'\r(MPa)";tan δ\n-20;5;0.1\n-10;4;0.2\n',
    ).measurements;
    expect(sweep.provenance).toMatchObject({ firstLine: 5, lastLine: 6 });
  });

  it("a file read piece by piece, with a line end on the border of two pieces", async () => {
    const head = "Sample: Birch 60\rFrequency: 10 Hz\r\nt/s;T/°C;E'/MPa;tan δ\n";
    const row = (i: number) => `${i};${(-60 + i / 1000).toFixed(3)};${(100 - i / 1000).toFixed(3)};0.5`;
    const text =
      head + Array.from({ length: 50_000 }, (_, i) => row(i) + ["\r", "\r\n", "\n"][i % 3]).join("");
    const bytes = new TextEncoder().encode(text);
    const source = {
      read: (buffer: Uint8Array, offset: number, length: number, position: number) => {
        const piece = bytes.subarray(position, position + length);
        buffer.set(piece, offset);
        return Promise.resolve({ bytesRead: piece.length });
      },
    };
    const outcome = await readLarge(source, "invented.csv", {});
    if (!outcome.ok) throw new Error(outcome.problem.message);
    expect(bytes.length).toBeGreaterThan(1 << 20);
    expect(outcome.value).toEqual(content(text));
    expect(outcome.value.measurements[0].provenance).toMatchObject({ firstLine: 4, lastLine: 50_003 });
  });
});
