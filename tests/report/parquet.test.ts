import { parquetMetadata, parquetReadObjects, parquetSchema } from "hyparquet";
import { expect, it } from "vitest";
import { parquetBytes } from "../../src/report/tables/parquet.js";

const table = {
  name: "t.csv",
  header: ["compound", "temperature_C", "tanDeltaPeakBracketed", "low_C"],
  rows: [
    ["Birch 60", -38.125, true, null],
    ["=1+1, “Föhre”", 1e-7, false, null],
    [null, Number.NaN, null, null],
  ],
};
const bytes = parquetBytes(table);
const file = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;

it("another library reads back every cell, missing ones as null", async () => {
  expect(await parquetReadObjects({ file })).toEqual([
    { compound: "Birch 60", temperature_C: -38.125, tanDeltaPeakBracketed: true, low_C: null },
    { compound: "=1+1, “Föhre”", temperature_C: 1e-7, tanDeltaPeakBracketed: false, low_C: null },
    { compound: null, temperature_C: null, tanDeltaPeakBracketed: null, low_C: null },
  ]);
});

it("types follow from the names, so that an empty column is still a number", () => {
  const types = parquetSchema(parquetMetadata(file)).children.map(({ element }) => [
    element.name,
    element.type,
  ]);
  expect(types).toEqual([
    ["compound", "BYTE_ARRAY"],
    ["temperature_C", "DOUBLE"],
    ["tanDeltaPeakBracketed", "BOOLEAN"],
    ["low_C", "DOUBLE"],
  ]);
});

it("is deterministic", () => {
  expect(parquetBytes(table)).toEqual(bytes);
});
