import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import type { Random } from "../../src/numeric/statistics/random.js";

/** Bytes that a reader is to be tried with, and a word on how they were made. */
export interface Mutant {
  bytes: Uint8Array;
  made: string;
}

export interface Corpus {
  files: { name: string; bytes: Uint8Array }[];
  workbooks: { name: string; bytes: Uint8Array }[];
  /** Cells with letters from all text files: headers, units, names, remarks. */
  words: string[];
}

/** Collects the words of a corpus, so that mutants swap headers and units that the trade really writes. */
export function corpusOf(files: Corpus["files"]): Corpus {
  const words = new Set<string>();
  for (const { bytes } of files) {
    if (isZip(bytes)) continue;
    for (const cell of textOf(bytes).split(/[;,\t\n\r|]| {2,}/)) {
      const word = cell.trim();
      if (word.length > 0 && word.length < 60 && !/^[-+\d.,eE ]+$/.test(word)) words.add(word);
    }
  }
  const workbooks = files.filter(({ bytes }) => isZip(bytes));
  return { files, workbooks, words: [...words].sort() };
}

const units =
  "°C K °F C degC Pa kPa MPa GPa N/mm² psi ksi dyn/cm² bar Hz mHz kHz rad/s 1/s s min h ms % mm µm deg ° rad 1 - furlong".split(
    " ",
  );
const numbers = [
  ..."0 -0 1 -1 1e308 1e309 -1e309 1e-320 NaN nan Infinity -inf inf 9.9E37 1.#QNAN #N/A #DIV/0! ---- > * 1,234 1.234,5".split(
    " ",
  ),
  ..."1,234.5 1'234 -273.15 -273.16 -300 99999999999999999999999 0x1F 1e 1e+ .5 5. ,5 +-3 1e999999999 ２３ ٣ ½ =1+1".split(
    " ",
  ),
  "1 234",
  "0".repeat(400),
  `1${"0".repeat(400)}`,
  `0.${"3".repeat(400)}`,
];
const marks = [
  "",
  "\0",
  "\uFEFF",
  "\u2028",
  "\r",
  "\n",
  '"',
  '""',
  "'",
  "\t",
  ";",
  ",",
  "|",
  "\x1b[31m",
  "\u202e",
  "{",
  "(",
  "[",
  "^",
  "\\",
];

type Change = (bytes: Uint8Array, random: Random, corpus: Corpus) => Uint8Array;

const pick = <T>(random: Random, list: readonly T[]): T => list[random.index(list.length)];

/** Random.index gives a number below n; for n = 0 there is none. */
const placeIn = (random: Random, length: number) => (length === 0 ? 0 : random.index(length));

const longestRepeat = 8e6;

const changes: Record<string, Change> = {
  bits(bytes, random) {
    const copy = bytes.slice();
    for (let i = 0; i <= random.index(3) && copy.length > 0; i++)
      copy[random.index(copy.length)] ^= 1 << random.index(8);
    return copy;
  },
  bytes(bytes, random) {
    const copy = bytes.slice();
    const at = placeIn(random, copy.length);
    const end = Math.min(copy.length, at + 1 + random.index(8));
    for (let i = at; i < end; i++) copy[i] = random.index(256);
    return copy;
  },
  truncation: (bytes, random) => bytes.slice(0, placeIn(random, bytes.length)),
  beheading: (bytes, random) => bytes.slice(placeIn(random, bytes.length)),
  gap(bytes, random) {
    const at = placeIn(random, bytes.length);
    return joined(bytes.subarray(0, at), bytes.subarray(at + 1 + random.index(64)));
  },
  repeat(bytes, random) {
    const at = placeIn(random, bytes.length);
    const piece = bytes.subarray(at, at + 1 + random.index(40));
    const times = random.index(50) === 0 ? 5000 : 1 + random.index(6);
    return joined(bytes.subarray(0, at), ...Array.from({ length: times }, () => piece), bytes.subarray(at));
  },
  mark(bytes, random) {
    const at = placeIn(random, bytes.length);
    return joined(bytes.subarray(0, at), strToU8(pick(random, marks)), bytes.subarray(at));
  },
  "line removed": onLines((lines, random) => lines.splice(random.index(lines.length), 1 + random.index(3))),
  "line repeated": onLines((lines, random) => {
    const line = pick(random, lines);
    const wanted = random.index(50) === 0 ? 3000 : 1 + random.index(3);
    // A line that repeats have made long, 3000 times over, outgrows the longest text the engine can hold.
    const times = Math.min(wanted, Math.ceil(longestRepeat / (line.length + 1)));
    lines.splice(random.index(lines.length), 0, ...Array.from({ length: times }, () => line));
  }),
  "lines swapped": onLines((lines, random) => {
    const [i, j] = [random.index(lines.length), random.index(lines.length)];
    [lines[i], lines[j]] = [lines[j], lines[i]];
  }),
  "lines of another file": onLines((lines, random, corpus) => {
    const other = linesOf(pick(random, corpus.files).bytes);
    const from = random.index(other.length);
    lines.splice(
      random.index(lines.length),
      random.index(3),
      ...other.slice(from, from + 1 + random.index(12)),
    );
  }),
  "cell: number": onCells((cells, random) => {
    cells[random.index(cells.length)] = pick(random, numbers);
  }),
  "cell: word": onCells((cells, random, corpus) => {
    cells[random.index(cells.length)] = pick(random, corpus.words);
  }),
  "cell: removed": onCells((cells, random) => cells.splice(random.index(cells.length), 1)),
  "cell: added": onCells((cells, random, corpus) =>
    cells.splice(random.index(cells.length), 0, pick(random, random.index(2) ? corpus.words : numbers)),
  ),
  "cell: blank": onCells((cells, random) => {
    cells[random.index(cells.length)] = pick(random, ["", " ", "-", "n/a", "\u00a0"]);
  }),
  header: onLines((lines, random, corpus) => {
    const at = headerOf(lines);
    const mark = commonestMark(lines[at]);
    const cells = lines[at].split(mark);
    cells[random.index(cells.length)] = pick(random, corpus.words);
    lines[at] = cells.join(mark);
  }),
  "header twice": onLines((lines, random) =>
    lines.splice(random.index(lines.length), 0, lines[headerOf(lines)]),
  ),
  unit: onLines((lines, random) => {
    const at = random.index(3) === 0 ? random.index(lines.length) : headerOf(lines);
    const wanted = random.index(6);
    let seen = 0;
    lines[at] = lines[at].replace(/[([/,] ?[°%A-Za-zµ²/]{1,8}[)\]]?/g, (found) =>
      seen++ === wanted
        ? `${found[0]}${pick(random, units)}${/[)\]]$/.test(found) ? found.at(-1) : ""}`
        : found,
    );
  }),
  column: onLines((lines, random) => {
    const mark = commonestMark(lines[headerOf(lines)]);
    const at = random.index(6);
    const isDoubled = random.index(2) === 0;
    for (const [i, line] of lines.entries()) {
      const cells = line.split(mark);
      if (at < cells.length) cells.splice(at, 1, ...(isDoubled ? [cells[at], cells[at]] : []));
      lines[i] = cells.join(mark);
    }
  }),
  delimiter: onText((text, random) =>
    text.replaceAll(pick(random, [",", ";", "\t", "|"]), pick(random, [",", ";", "\t", "|", " ", "  "])),
  ),
  "decimal mark": onText((text, random) =>
    random.index(2) ? text.replaceAll(".", ",") : text.replaceAll(",", "."),
  ),
  "line ends": onText((text, random) =>
    text.replace(/\r\n|\n|\r/g, pick(random, ["\r", "\r\n", "\n", "\n\n", "\u0085", "\r\r\n"])),
  ),
  "UTF-16": (bytes, random) => {
    const text = textOf(bytes);
    const wide = Buffer.from(random.index(2) ? `\uFEFF${text}` : text, "utf16le");
    return new Uint8Array(random.index(2) ? wide : wide.length % 2 === 0 ? wide.swap16() : wide);
  },
  "Latin-1 as UTF-8": (bytes) => strToU8(Buffer.from(bytes).toString("latin1")),
};

const partChanges: Record<string, Change> = {
  "part: bytes": (bytes, random, corpus) =>
    pick(random, [changes.bits, changes.bytes, changes.gap])(bytes, random, corpus),
  "part: cut": changes.truncation,
  "part: tag": onText((text, random) => {
    const tags = text.match(/<[^>]*>/g) ?? [""];
    return text.replace(
      pick(random, tags),
      pick(random, [...tags, "<c>", "</row>", "<row r='9'/>", "<![CDATA[1]]>", "<!-- -->", "<a/>"]),
    );
  }),
  "part: reference": onText((text, random) => {
    const found = text.match(/\br="[^"]*"/g) ?? [""];
    const to = pick(random, [
      "A1",
      "XFD1048576",
      "ZZZZZZ99999999",
      "0",
      "-1",
      "1e9",
      "",
      "a1",
      "A",
      "99999999999",
    ]);
    return text.replace(pick(random, found), `r="${to}"`);
  }),
  "part: value": onText((text, random, corpus) => {
    const found = text.match(/>[^<>]+</g) ?? [""];
    const to = pick(random, random.index(2) ? numbers : corpus.words).replace(/[<>&]/g, "");
    return text.replace(pick(random, found), () => `>${to}<`);
  }),
  "part: type": onText((text, random) =>
    text.replace(/\bt="[a-zA-Z]*"/g, (found) =>
      random.index(3) === 0
        ? `t="${pick(random, ["s", "n", "str", "inlineStr", "b", "e", "d", "x"])}"`
        : found,
    ),
  ),
  "part: target": onText((text, random) =>
    text.replace(
      /Target="[^"]*"/,
      `Target="${pick(random, ["../../../../etc/passwd", "/xl/workbook.xml", "", "..", "xl/../..", "file:///etc/passwd", "worksheets/sheet1.xml"])}"`,
    ),
  ),
  "part: nesting": onText((text, random) => {
    const depth = 1 + random.index(100);
    return text.replace("<sheetData", `${"<a>".repeat(depth)}${"</a>".repeat(depth)}<sheetData`);
  }),
  "part: entity": onText((text, random) =>
    text.replace(
      pick(random, ["<worksheet", "<sst", "<workbook"]),
      (found) => `<!DOCTYPE x [<!ENTITY a "b">]>${found}`,
    ),
  ),
};

const names = Object.keys(changes);
const partNames = Object.keys(partChanges);

/** A file of the corpus with one to four things wrong. The same random numbers give the same mutant. */
export function mutantOf(corpus: Corpus, random: Random): Mutant {
  // Workbooks are few in the corpus, and have the most ways to go wrong.
  const { name, bytes } = pick(random, random.index(7) === 0 ? corpus.workbooks : corpus.files);
  const made: string[] = [name];
  let current = bytes;
  for (let i = 0, count = 1 + random.index(4); i < count; i++) {
    if (isZip(current) && random.index(4) > 0) {
      const change = pick(random, partNames);
      current = withPart(current, random, corpus, change);
      made.push(change);
    } else {
      const change = pick(random, names);
      // Text habits make no sense of a zip.
      current = (isZip(current) && names.indexOf(change) > 6 ? changes.bits : changes[change])(
        current,
        random,
        corpus,
      );
      made.push(change);
    }
  }
  return { bytes: current, made: made.join(", ") };
}

/** A part of a workbook changed and zipped again, so that the change gets past the checksum. */
function withPart(bytes: Uint8Array, random: Random, corpus: Corpus, change: string): Uint8Array {
  try {
    // The sizes that a broken zip states are not to be trusted here either.
    const parts: Record<string, Uint8Array> = unzipSync(bytes, {
      filter: ({ originalSize }) => originalSize < 1e6,
    });
    const paths = Object.keys(parts);
    const path = pick(random, paths);
    switch (random.index(15)) {
      case 0:
        delete parts[path];
        break;
      case 1:
        parts[pick(random, paths)] = parts[path];
        break;
      case 2:
        parts[
          pick(random, [
            "../../evil.xml",
            "/etc/passwd",
            "xl/worksheets/sheet9.xml",
            "XL/WORKBOOK.XML",
            "a\0b",
          ])
        ] = parts[path];
        break;
      default:
        parts[path] = partChanges[change](parts[path], random, corpus);
    }
    return zipSync(parts, { level: random.index(2) ? 1 : 0, mtime: new Date(1980, 0, 1) });
  } catch {
    // The zip itself was broken by an earlier change.
    return changes.bytes(bytes, random, corpus);
  }
}

function isZip(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b;
}

/** UTF-8 where it is that, else byte by byte, so that every byte comes back. */
function textOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return strFromU8(bytes, true);
  }
}

function onText(change: (text: string, random: Random, corpus: Corpus) => string): Change {
  return (bytes, random, corpus) => {
    const isUtf8 = isValidUtf8(bytes);
    const text = change(isUtf8 ? textOf(bytes) : strFromU8(bytes, true), random, corpus);
    return isUtf8 ? strToU8(text) : new Uint8Array(Buffer.from(text, "latin1"));
  };
}

function isValidUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}

function linesOf(bytes: Uint8Array): string[] {
  return textOf(bytes).split("\n");
}

function onLines(change: (lines: string[], random: Random, corpus: Corpus) => unknown): Change {
  return onText((text, random, corpus) => {
    const lines = text.split("\n");
    change(lines, random, corpus);
    return lines.join("\n");
  });
}

function onCells(change: (cells: string[], random: Random, corpus: Corpus) => unknown): Change {
  return onLines((lines, random, corpus) => {
    const at = random.index(lines.length);
    const mark = commonestMark(lines[at]);
    const cells = lines[at].split(mark);
    change(cells, random, corpus);
    lines[at] = cells.join(mark);
  });
}

function commonestMark(line: string): string {
  const counts = ["\t", ";", ",", "|", "  "].map((mark) => [mark, line.split(mark).length] as const);
  return counts.reduce((best, each) => (each[1] > best[1] ? each : best))[0];
}

/** The line that looks most like a header: the most letters. */
function headerOf(lines: string[]): number {
  let best = 0;
  let most = -1;
  for (let i = 0; i < Math.min(lines.length, 60); i++) {
    const letters = (lines[i].match(/[^\d\s.,;:|"+-]/g) ?? []).length;
    if (letters > most) {
      most = letters;
      best = i;
    }
  }
  return best;
}

function joined(...parts: Uint8Array[]): Uint8Array {
  return new Uint8Array(Buffer.concat(parts));
}
