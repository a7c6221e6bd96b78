import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { packGrid, packNumbers, unpackGrid, unpackNumbers } from "../../src/report/packed-numbers.js";
import { plotText } from "../../src/report/page/frame/plot-text.js";
import { byFrequency, valueAt } from "../../src/report/page/plots/series.js";
import { csvText } from "../../src/report/page/tools/csv-text.js";
import { fileName } from "../../src/report/page/tools/download.js";

describe("numbers packed for the page", () => {
  test("come back within 2e-11 of their value", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e300, max: 1e300 })),
        (values) => {
          const back = unpackNumbers(packNumbers(values, 6), 6);
          expect(back).toHaveLength(values.length);
          values.forEach((value, i) => {
            // Below the smallest normal double a mantissa has fewer bits to keep.
            if (Math.abs(value) > 1e-300) expect(Math.abs(back[i] / value - 1)).toBeLessThan(2e-11);
          });
        },
      ),
      { numRuns: 50, seed: 1 },
    );
    expect([...unpackNumbers(packNumbers([0, 1, -2.5, Number.POSITIVE_INFINITY], 6), 6)]).toEqual([
      0,
      1,
      -2.5,
      Number.POSITIVE_INFINITY,
    ]);
  });
});

describe("grids of relaxation times", () => {
  test("are kept by their ends where they are even in the logarithm, else number by number", () => {
    const even = Float64Array.from({ length: 120 }, (_, i) => 10 ** (-28 + i / 4));
    expect(packGrid(even)).toEqual({ first: even[0], last: even[119], count: 120 });
    unpackGrid(packGrid(even)).forEach((time, i) => {
      expect(Math.abs(time / even[i] - 1)).toBeLessThan(1e-11);
    });
    const uneven = Float64Array.of(1, 2, 5, 9);
    expect(packGrid(uneven)).toEqual({ values: [1, 2, 5, 9] });
    expect(unpackGrid(packGrid(uneven))).toEqual(uneven);
  });
});

describe("data as CSV", () => {
  test("starts no formula in a spreadsheet and keeps quotes", () => {
    const text = csvText({
      columns: ["Compound", "Grip µ"],
      rows: [
        ['=HYPERLINK("x")', -0.5],
        ['say "hello", twice', null],
      ],
      remarks: ["from a.csv"],
    });
    expect(text).toBe(
      '"# from a.csv"\r\n"Compound","Grip µ"\r\n"\'=HYPERLINK(""x"")",-0.5\r\n"say ""hello"", twice",\r\n',
    );
  });

  test("keeps names apart that differ by a leading apostrophe", () => {
    const text = csvText({ columns: ["c"], rows: [["=1+1"], ["'=1+1"], [" =1+1"]], remarks: [] });
    expect(text.split("\r\n").slice(1, 4)).toEqual(['"\'=1+1"', "\"''=1+1\"", '"\' =1+1"']);
  });
});

describe("names", () => {
  test("become plain text for the plot library", () => {
    expect(plotText("<b>A & B</b>")).toBe("&lt;b&gt;A &amp; B&lt;/b&gt;");
    expect(plotText("%{x}")).not.toContain("%{");
    expect(plotText("N".repeat(500))).toHaveLength(28);
    expect(plotText("\u202eabc")).toBe(" abc");
  });

  test("become plain file names", () => {
    expect(fileName("Sweep · Ä/..\\b", "x")).toBe("Sweep-A-b-x");
    expect(fileName("🧊")).toBe("plot");
  });
});

describe("series", () => {
  test("split a sweep by frequency, in the order of temperature", () => {
    const series = byFrequency({
      kind: "temperature sweep",
      deformation: "shear",
      direction: null,
      file: "a",
      sha256: "",
      section: null,
      temperature_C: [10, 10, 0, 0],
      frequency_Hz: [1, 10, 1.0004, 10],
      storageModulus_Pa: [1e6, 2e6, 3e6, 4e6],
      lossModulus_Pa: [1e5, 1e5, 1e5, 1e5],
      strainAmplitude: null,
    });
    expect(series.map(({ shared, x, storage_MPa }) => ({ shared, x, storage_MPa }))).toEqual([
      { shared: 1, x: [0, 10], storage_MPa: [3, 1] },
      { shared: 10, x: [0, 10], storage_MPa: [4, 2] },
    ]);
    expect(valueAt([0, 10], [3, 1], 5)).toBe(2);
    expect(valueAt([0, 10], [3, 1], 11)).toBeNull();
  });
});
