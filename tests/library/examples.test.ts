import { inspect } from "node:util";
import { describe, expect, it } from "vitest";
import * as library from "../../src/index.js";
import { publicFunctions } from "./public-functions.js";

const functions = publicFunctions();

describe("every public function", () => {
  it("is found by the compiler", () => {
    const values = Object.entries(library).filter(([, value]) => typeof value === "function");
    expect(functions.map(({ name }) => name).sort()).toEqual(values.map(([name]) => name).sort());
  });

  it.each(functions)("$name says what it does and gives an example with its result", (one) => {
    expect(one.description.length, one.file).toBeGreaterThan(40);
    expect(one.examples.length, one.file).toBeGreaterThan(0);
    for (const example of one.examples) expect(example, one.file).toMatch(/ \/\/ \S/);
  });
});

describe("the example in the docstring gives the stated result", () => {
  const examples = functions.flatMap(({ name, examples }) => examples.map((example) => ({ name, example })));

  it.each(examples)("$name: $example", async ({ name, example }) => {
    const at = example.lastIndexOf(" // ");
    const [code, stated] = [example.slice(0, at), example.slice(at + 4)];
    expect(code).toContain(name);
    const shown = printed(await evaluate(code));
    expect(shown).toMatch(patternOf(stated));
  });
});

const AsyncFunction = (async () => {}).constructor as new (
  ...args: string[]
) => (...values: unknown[]) => Promise<unknown>;

function evaluate(expression: string): Promise<unknown> {
  return new AsyncFunction(...Object.keys(library), `return (${expression});`)(...Object.values(library));
}

/** On one line, numbers to 12 digits, typed arrays as lists. */
function printed(value: unknown): string {
  const plain = (one: unknown): unknown => {
    if (typeof one === "number") return Number(one.toPrecision(12));
    if (one instanceof Float64Array) return Array.from(one, plain);
    if (Array.isArray(one)) return one.map(plain);
    if (one !== null && typeof one === "object") {
      return Object.fromEntries(Object.entries(one).map(([key, entry]) => [key, plain(entry)]));
    }
    return one;
  };
  return spaceless(inspect(plain(value), { breakLength: Number.POSITIVE_INFINITY, depth: 5 }));
}

/** Without the blanks and quotes in which two ways to write one value differ. */
function spaceless(text: string): string {
  return text.replace(/[\s'"]/g, "");
}

/** "…" stands for further digits of a number, or for the rest. */
function patternOf(stated: string): RegExp {
  const escaped = spaceless(stated).replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
  return new RegExp(`^${escaped.replace(/(\d)…/g, "$1[\\d.]*").replaceAll("…", ".*")}$`, "s");
}
