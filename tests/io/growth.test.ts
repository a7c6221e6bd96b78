import { describe, expect, it } from "vitest";
import { readText } from "../../src/io/read-text.js";

const header = "T (°C);f (Hz);E' (MPa);tan δ\n";
const repeated = (blocks: number, block: (i: number) => string) =>
  Array.from({ length: blocks }, (_, i) => block(i)).join("");

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

/** How many elements array methods walk over while a text is read: a measure of work that needs no clock. */
function elementsWalked(text: string): number {
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
      walked += this.length;
      return Reflect.apply(own[name], this, args);
    };
  }
  try {
    if (!readText(text, "invented.csv").ok) throw new Error("the text was not read");
    return walked;
  } finally {
    Object.assign(prototype, own);
  }
}

describe("four times as many tables are some four times the work", () => {
  it.each(Object.entries(files))("%s", (_, fileOf) => {
    // What a process remembers of headers is remembered in both.
    elementsWalked(fileOf(400));
    const few = elementsWalked(fileOf(400));
    const many = elementsWalked(fileOf(1600));
    expect(few).toBeGreaterThan(400);
    expect(many / few).toBeLessThan(4.5);
  });
});
