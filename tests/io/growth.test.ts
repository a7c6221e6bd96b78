import { describe, expect, it } from "vitest";
import type { FileContent } from "../../src/io/measurement.js";
import { readBytes } from "../../src/io/read-bytes.js";
import { readText } from "../../src/io/read-text.js";
import type { Outcome } from "../../src/words/notice.js";
import { workbook } from "../fixtures/make/workbook.mjs";

const header = "T (°C);f (Hz);E' (MPa);tan δ\n";
/** Where the numbers of blocks begin: what a process remembers of the lines of one file is of no use to the next. */
let firstNumber = 0;
const repeated = (blocks: number, block: (i: number) => string) =>
  Array.from({ length: blocks }, (_, i) => block(firstNumber + i)).join("");

/** Files of so many tiny tables. All of it is invented. */
const files: Record<string, (blocks: number) => string> = {
  "rows of one ramp, parted by blank lines": (blocks) =>
    header + repeated(blocks, (i) => `${-20 + (i % 50)};1;5;0.1\n\n`),
  "isotherms of two frequencies": (blocks) =>
    header + repeated(blocks, (i) => `Section ${i}\n${i % 50};1;5;0.1\n${i % 50};10;5;0.1\n`),
  "a header over every two rows": (blocks) =>
    repeated(blocks, (i) => `${header}${i % 50};1;5;0.1\n${(i % 50) + 1};1;5;0.1\n`),
  "strain sweeps of one sample": (blocks) =>
    `T (°C);f (Hz);E' (MPa);tan δ;Strain (%)\n${repeated(blocks, () => "20;1;5;0.1;0.1\n20;1;5;0.1;0.3\n20;1;5;0.1;1\n20;1;5;0.1;3\n\n")}`,
  "rebound of as many samples": (blocks) =>
    `Compound;Temperature (°C);Rebound (%)\n${repeated(blocks, (i) => `Birch ${i};23;45\n\n`)}`,
  "names and values before a table": (blocks) =>
    `${repeated(blocks, (i) => `Parameter ${i};value ${i}; ${i % 7} mm\n`)}${header}-20;1;5;0.1\n-10;1;5;0.1\n`,
  "frequency sweeps, each under titles and a header of its own": (blocks) =>
    repeated(
      blocks,
      (i) =>
        `Sample: Birch ${i % 150}\nTemperature: ${(i % 12) * 10 - 60} °C\nf (Hz);G' (MPa);G'' (MPa)\n` +
        `1;${5 + i / 1000};0.5\n10;${6 + i / 1000};0.6\n100;${7 + i / 1000};0.7\n\n`,
    ),
  "single values of as many samples, one a row": (blocks) =>
    `Sample;Property;Value;Unit\n${repeated(blocks, (i) => `Birch ${i};Hardness;${55 + (i % 20)};Shore A\nBirch ${i};Density;1.12;g/cm³\n`)}`,
  "statements that contradict the columns": (blocks) =>
    repeated(blocks, () => `Deformation: shear\n${header}-20;1;5;0.1\n-10;1;5;0.1\n`),
  "stated rates that the times contradict": (blocks) =>
    repeated(
      blocks,
      (i) =>
        `Sample: Birch ${i}\nHeating rate: ${(i + 1) / 100} K/min\nT (°C);f (Hz);E' (MPa);tan δ;Time (s)\n` +
        "-20;1;5;0.1;0\n-10;1;5;0.1;1\n0;1;5;0.1;2\n",
    ),
};

/** Array methods that walk over elements: the call's own count where they take a function, else all they copy or compare. */
const calling = [
  "find",
  "findLast",
  "some",
  "every",
  "filter",
  "map",
  "flatMap",
  "forEach",
  "reduce",
] as const;
const copying = ["concat", "slice", "includes", "indexOf", "join"] as const;

/** How many elements array methods walk over while something is read: a measure of work that needs no clock. */
async function elementsWalked(
  read: () => Outcome<FileContent> | Promise<Outcome<FileContent>>,
): Promise<number> {
  const prototype = Array.prototype as unknown as Record<string, (...args: unknown[]) => unknown>;
  const own = Object.fromEntries([...calling, ...copying].map((name) => [name, prototype[name]]));
  let walked = 0;
  for (const name of calling) {
    prototype[name] = function (this: unknown[], call: unknown, ...rest: unknown[]) {
      const counted = (...args: unknown[]) => {
        walked++;
        return (call as (...args: unknown[]) => unknown)(...args);
      };
      return Reflect.apply(own[name], this, [counted, ...rest]);
    };
  }
  for (const name of copying) {
    prototype[name] = function (this: unknown[], ...args: unknown[]) {
      const result = Reflect.apply(own[name], this, args);
      // A slice copies what it gives, the others go through all that there is.
      walked += name === "slice" ? (result as unknown[]).length : this.length;
      return result;
    };
  }
  try {
    if (!(await read()).ok) throw new Error("it was not read");
    return walked;
  } finally {
    Object.assign(prototype, own);
  }
}

describe("four times as many tables are some four times the work", () => {
  it.each(Object.entries(files))("%s", async (_, fileOf) => {
    const walkedIn = async (blocks: number) => {
      firstNumber += 2000;
      const text = fileOf(blocks);
      return elementsWalked(() => readText(text, "invented.csv"));
    };
    await walkedIn(400);
    const few = await walkedIn(400);
    const many = await walkedIn(1600);
    expect(few).toBeGreaterThan(400);
    expect(many / few).toBeLessThan(4.5);
  });

  it("rows of a sheet", async () => {
    const sheetOf = (count: number) =>
      workbook([
        {
          name: "Data",
          rows: [
            ["T (°C)", "f (Hz)", "E' (MPa)", "tan δ"],
            ...Array.from({ length: count }, (_, i) =>
              [-60 + i / 100, 10, 5 + i / 1000, 0.1].map((value) => ({ number: String(value) })),
            ),
          ],
        },
      ]);
    const [few, many] = [sheetOf(2000), sheetOf(8000)];
    const walkedIn = (bytes: Uint8Array) => elementsWalked(() => readBytes(bytes, "invented.xlsx"));
    await walkedIn(few);
    const little = await walkedIn(few);
    expect(little).toBeGreaterThan(2000);
    expect((await walkedIn(many)) / little).toBeLessThan(4.5);
  });
});
