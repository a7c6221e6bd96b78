import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { mayNameQuantity } from "../../src/io/vocabulary/may-name-quantity.js";
import { readHeader } from "../../src/io/vocabulary/read-header.js";

const fixtures = join(import.meta.dirname, "..", "fixtures");

/** Whatever stands between marks in the first lines of all fixtures, decoded in two ways. */
function cellsOfFixtures(): Set<string> {
  const cells = new Set<string>();
  const paths = readdirSync(fixtures, { recursive: true, encoding: "utf8" });
  for (const path of paths.filter((one) => /\.(csv|txt|tsv|dat)$/.test(one))) {
    const bytes = readFileSync(join(fixtures, path));
    for (const encoding of ["utf-8", "windows-1252"]) {
      const lines = new TextDecoder(encoding).decode(bytes).split(/\r?\n/).slice(0, 60);
      for (const line of lines) {
        for (const mark of [";", ",", "\t", "|"]) {
          for (const cell of line.split(mark)) if (cell.length < 80) cells.add(cell.trim());
        }
      }
    }
  }
  return cells;
}

describe("the quick look at a cell", () => {
  it("never passes over one that names a quantity in any fixture", () => {
    const named = [...cellsOfFixtures()].filter((cell) => readHeader(cell).quantity !== null);
    expect(named.length).toBeGreaterThan(500);
    expect(named.filter((cell) => !mayNameQuantity(cell))).toEqual([]);
  });

  it.each(["Birch 60-2", "Alder", "Fjordtread_12", "17.03.2026"])("passes over %s", (cell) => {
    expect(mayNameQuantity(cell)).toBe(false);
  });

  it.each(["Taajuus Hz", "Lampotila C"])("does not pass over a unit under an unknown name: %s", (cell) => {
    expect(mayNameQuantity(cell)).toBe(true);
  });
});
