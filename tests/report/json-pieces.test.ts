import fc from "fast-check";
import { expect, test } from "vitest";
import { jsonPieces, MadeInTurn } from "../../src/report/json-pieces.js";

const json = fc.dictionary(
  fc.string({ unit: "binary" }),
  fc.oneof(fc.jsonValue(), fc.array(fc.jsonValue()), fc.constant(undefined), fc.constant(Number.NaN)),
);

test("the pieces make the text that JSON.stringify gives, indented or not", () => {
  fc.assert(
    fc.property(json, (value) => {
      for (const indent of [0, 2] as const)
        expect([...jsonPieces(value, indent)].join("")).toBe(JSON.stringify(value, null, indent));
    }),
  );
});

test("a list is made member by member, and goes out in more than one piece where it is long", () => {
  const member = (index: number) => ({ index, text: "−20 °C ".repeat(5000) });
  let made = 0;
  const long = {
    first: "a",
    list: new MadeInTurn(20, (index) => {
      made++;
      return member(index);
    }),
    none: new MadeInTurn(0, member),
  };
  const pieces = jsonPieces(long, 2);
  const start = pieces.next().value as string;
  expect(made).toBeLessThan(20);
  const text = start + [...pieces].join("");
  expect(text.length).toBeGreaterThan(start.length);
  expect(text).toBe(JSON.stringify({ ...long, list: long.list.all(), none: [] }, null, 2));
});
