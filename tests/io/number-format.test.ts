import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { commaFormat, NumberParser, pointFormat } from "../../src/io/table/lines/number-format.js";

const point = (text: string, power = 0) => new NumberParser(pointFormat).parse(text, 0, text.length, power);
const comma = (text: string, power = 0) => new NumberParser(commaFormat).parse(text, 0, text.length, power);

describe("numbers as laboratories write them", () => {
  it.each<[string, number]>([
    ["12.5", 12.5],
    ["-0.001", -0.001],
    ["+7", 7],
    [".5", 0.5],
    ["5.", 5],
    ["−12.5", -12.5],
    ["–3", -3],
    ["1.25E+05", 125000],
    ["1.25e-5", 0.0000125],
    ["1.25D3", 1250],
    ["1,234.5", 1234.5],
    ["1,234,567", 1234567],
    ["1 234.5", 1234.5],
    ["1\u00a0234.5", 1234.5],
    ["1\u2009234\u2009567.25", 1234567.25],
    ["1\u202f234", 1234],
    ["1'234.5", 1234.5],
    ["1’234.5", 1234.5],
    ["  42 ", 42],
    ["0.1000000000000000055511151231257827", 0.1],
    ["123456789012345680", 123456789012345680],
  ])("reads %j with a decimal point", (text, value) => {
    expect(point(text)).toBe(value);
  });

  it.each<[string, number]>([
    ["12,5", 12.5],
    ["1.234,5", 1234.5],
    ["1.234.567", 1234567],
    ["1 234,5", 1234.5],
    ["-0,001", -0.001],
    ["1,25E+05", 125000],
  ])("reads %j with a decimal comma", (text, value) => {
    expect(comma(text)).toBe(value);
  });

  it.each([
    "",
    " ",
    "-",
    "--",
    "abc",
    "1.2.3",
    "12,34",
    "1,2345",
    "1,23.4",
    "1.234,5",
    "0,123",
    "1e",
    "e5",
    "1e99999",
    "12 34",
    "1 2345",
    "1,234 567",
    "0x10",
    "1_000",
    "NaN",
    "Infinity",
    ">5",
    "1.5 MPa",
    "'5",
  ])("does not take %j for a number with a decimal point", (text) => {
    expect(point(text)).toBeNaN();
  });

  it("scales by a power of ten as if the digits had been written so", () => {
    // 922.34 · 10⁶ rounds twice as a product; as digits it is exact.
    expect(point("922.34", 6)).toBe(922340000);
    expect(point("2100.68", 6)).toBe(2100680000);
    expect(comma("0,012", -2)).toBe(0.00012);
  });

  it("agrees with the engine on every double it prints", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        // String(-0) is "0".
        expect(point(String(value))).toBe(value + 0);
        expect(comma(String(value).replace(".", ","))).toBe(value + 0);
      }),
      { seed: 1, numRuns: 2000 },
    );
  });

  it("agrees with the engine on shifted decimals", () => {
    const digits = fc.tuple(
      fc.integer({ min: -999999, max: 999999 }),
      fc.integer({ min: 0, max: 6 }),
      fc.integer({ min: -9, max: 9 }),
    );
    fc.assert(
      fc.property(digits, ([mantissa, decimals, power]) => {
        const text = (mantissa / 10 ** decimals).toFixed(decimals);
        expect(point(text, power)).toBe(Number(`${text}e${power}`));
      }),
      { seed: 2, numRuns: 2000 },
    );
  });

  it("never gives a number for what has letters in it", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 12 }), (text) => {
        if (/[a-ce-z]/i.test(text.replace(/e/gi, ""))) expect(point(text)).toBeNaN();
      }),
      { seed: 3, numRuns: 2000 },
    );
  });
});
