import { strToU8, unzipSync, zipSync } from "fflate";
import type { Random } from "../../../src/numeric/statistics/random.js";

/** Pieces that laboratories, spreadsheets and bad luck put into files. */
const pieces = [
  ..."; , \t \" ' ″ ′ ( ) [ ] { } | / \\ = : # * - – — . % ° \0 \ufeff \u2028 \r \n".split(" "),
  "E'",
  "E''",
  "|G*|",
  "tan δ",
  "δ",
  "log10(E'/Pa)",
  "MPa",
  "[°C]",
  "Hz",
  "10 Hz",
  "-20 °C",
  "Frequency: 10 Hz",
  "Sample",
  "Rebound (%)",
  "Temperature (K)",
  "furlong",
  "1e999",
  "-1e999",
  "NaN",
  "Infinity",
  "9.9E37",
  ">9999",
  "---",
  "1.234,5",
  "1,234.5",
  "-300",
  "0",
  "00000000000000000000000000000000000001",
  "1e-400",
  "99999999999999999999999",
  "=1+1",
  "<script>",
  "储能模量",
  "試料",
];

const pick = <T>(random: Random, list: readonly T[]): T =>
  list[Math.min(list.length - 1, Math.floor(random.uniform() * list.length))];
const below = (random: Random, count: number) => Math.min(count - 1, Math.floor(random.uniform() * count));

/** Bytes of a file with one to four things wrong: bytes, pieces, lines, cells, truncation. */
export function mutated(bytes: Uint8Array, random: Random): Uint8Array {
  let current = bytes;
  const count = 1 + below(random, 4);
  for (let i = 0; i < count; i++) current = once(current, random);
  return current;
}

function once(bytes: Uint8Array, random: Random): Uint8Array {
  if (bytes.length === 0) return strToU8(pick(random, pieces));
  switch (below(random, 8)) {
    case 0: {
      const copy = bytes.slice();
      copy[below(random, copy.length)] = below(random, 256);
      return copy;
    }
    case 1:
      return bytes.slice(0, below(random, bytes.length));
    case 2: {
      const at = below(random, bytes.length);
      return joined(bytes.subarray(0, at), strToU8(pick(random, pieces)), bytes.subarray(at));
    }
    case 3: {
      const at = below(random, bytes.length);
      return joined(bytes.subarray(0, at), bytes.subarray(at + 1 + below(random, 20)));
    }
    case 4:
      return onLines(bytes, random, (lines) =>
        lines.splice(below(random, lines.length), 1 + below(random, 3)),
      );
    case 5:
      return onLines(bytes, random, (lines) => {
        const line = lines[below(random, lines.length)];
        lines.splice(below(random, lines.length), 0, line);
      });
    default:
      return onLines(bytes, random, (lines) => {
        const at = below(random, lines.length);
        const mark = pick(random, [";", ",", "\t", " "]);
        const cells = lines[at].split(mark);
        cells[below(random, cells.length)] = pick(random, pieces);
        lines[at] = cells.join(mark);
      });
  }
}

function onLines(bytes: Uint8Array, _random: Random, change: (lines: string[]) => void): Uint8Array {
  // Latin-1 keeps every byte, whatever the encoding.
  const lines = Buffer.from(bytes).toString("latin1").split("\n");
  change(lines);
  return new Uint8Array(Buffer.from(lines.join("\n"), "latin1"));
}

function joined(...parts: Uint8Array[]): Uint8Array {
  return new Uint8Array(Buffer.concat(parts));
}

/** A workbook with a part mutated and zipped again, so that the mutation gets past the checksum. */
export function mutatedWorkbook(bytes: Uint8Array, random: Random): Uint8Array {
  const parts = unzipSync(bytes);
  const name = pick(random, Object.keys(parts));
  if (below(random, 12) === 0) delete parts[name];
  else parts[name] = new Uint8Array(mutated(parts[name], random));
  return zipSync(parts, { level: 1, mtime: new Date(1980, 0, 1) });
}
