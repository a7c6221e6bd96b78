import { describe, expect, it } from "vitest";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import type { ReadOptions } from "../../src/io/read-options.js";
import { readText } from "../../src/io/read-text.js";

/** Storage moduli of an invented rubber from its glass to its plateau, Pa, in 40 rows. */
const storageModulus_Pa = Array.from({ length: 40 }, (_, i) => 3e6 + 2.4e9 / (1 + 10 ** ((i - 15) / 2)));

function sweep(unit: string, values: number[], loss = 0.2): string {
  const rows = values.map(
    (value, i) => `${-70 + 3 * i},1,${value.toPrecision(7)},${(loss * value).toPrecision(7)}`,
  );
  return [`Temperature (°C),Frequency (Hz),E' (${unit}),E'' (${unit})`, ...rows].join("\n");
}

const read = (text: string, options?: ReadOptions) => readText(text, "invented.csv", options);
const points = (text: string, options?: ReadOptions) => {
  const outcome = read(text, options);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return (outcome.value.measurements[0] as DynamicMeasurement).temperature_C.length;
};
const problemOf = (text: string) => {
  const outcome = read(text);
  if (outcome.ok) throw new Error("read, though it should be rejected");
  return outcome.problem;
};

// No polymer reaches 20 GPa; glassy ones have 2 to 5 GPa (handbook values, from memory).
describe("moduli beyond any polymer's in the stated unit", () => {
  it("reject the file with line, column, value, the stated unit, one that fits, and what to write", () => {
    const found = problemOf(sweep("MPa", storageModulus_Pa));
    expect(found).toMatchObject({ code: "io.modulus-impossible", line: 2, column: 3 });
    for (const part of [
      "2403000000",
      "MPa",
      "40 of 40 rows",
      "fit Pa.",
      `{ "E' (MPa)": "storage modulus in Pa" }`,
    ]) {
      expect(found.message).toContain(part);
    }
  });

  // A glass has 0.5 to 5 GPa in tension, a third of it in shear (common practice).
  it.each([
    ["ten times too large", 10, "MPa"],
    ["ten times too large", 10, "Pa"],
    ["a hundred times too large", 100, "MPa"],
  ])("%s, name no unit that would make the glass a rubber (times %d, in %s)", (_, times, unit) => {
    const stated = storageModulus_Pa.map((value) => (times * value) / (unit === "MPa" ? 1e6 : 1));
    const { message, code } = problemOf(sweep(unit, stated));
    expect(code).toBe("io.modulus-impossible");
    expect(message).not.toContain("would fit");
    expect(message).toContain("In none of GPa, MPa, kPa, Pa is its stiffest row a glass's");
    expect(message).toContain("Look for a factor in the export");
    expect(message).toContain(`only where the values are right as they stand, state the column`);
  });

  it.each([1, 1 / 3])(
    "name the one that makes the glass a glass, in tension and in shear (times %d)",
    (times) => {
      const inPascal = storageModulus_Pa.map((value) => times * value);
      for (const [stated, fitting, per_Pa] of [
        ["MPa", "Pa", 1],
        ["GPa", "MPa", 1e-6],
        ["kPa", "Pa", 1],
      ] as const) {
        const { message } = problemOf(
          sweep(
            stated,
            inPascal.map((value) => value * per_Pa),
          ),
        );
        expect(message).toContain(`The values would fit ${fitting}. `);
      }
    },
  );

  it("name the unit of a rubber that shows no glass", () => {
    const plateau = storageModulus_Pa.map((_, i) => 3e6 + 2e4 * i);
    // 3 "million MPa" may be a glass of 3 GPa or a rubber of 3 MPa: nothing in the column tells which.
    expect(problemOf(sweep("MPa", plateau)).message).toContain("would fit kPa or Pa.");
  });

  it("never lose the stiff rows only", () => {
    const inMegapascal = storageModulus_Pa.map((value) => value / 1e6);
    expect(problemOf(sweep("GPa", inMegapascal))).toMatchObject({ code: "io.modulus-impossible" });
    // Two rows above 20 "GPa", the others between 3 and 18.
    const warm = inMegapascal.slice(19);
    expect(warm.filter((value) => value > 20).length).toBeGreaterThan(0);
    expect(warm.filter((value) => value > 20).length).toBeLessThan(5);
    expect(problemOf(sweep("GPa", warm))).toMatchObject({ code: "io.modulus-impossible" });
  });

  it("let one or two spikes among many rows go, by name", () => {
    const spiked = storageModulus_Pa.map((value, i) => (i === 30 ? 5e11 : value));
    expect(points(sweep("Pa", storageModulus_Pa))).toBe(40);
    expect(points(sweep("Pa", spiked))).toBe(39);
    const outcome = read(sweep("Pa", spiked));
    expect(outcome.ok && outcome.value.skipped[0]).toMatchObject({ line: 32 });
    expect(outcome.ok && outcome.value.skipped[0].why).toContain("E' (Pa)");
  });

  it("reject a column that is softer than any rubber all through", () => {
    const found = problemOf(
      sweep(
        "Pa",
        storageModulus_Pa.map((value) => value / 1e6),
      ),
    );
    expect(found.code).toBe("io.modulus-impossible");
    // A gel is as soft, and has no other unit that fits.
    expect(found.message).toContain(
      "In MPa they would be a rubber's; a gel's or a melt's they may be as they stand.",
    );
    expect(found.message).toContain("softer than any rubber (100 Pa)");
  });

  it("keep a melt that flows: its stiff end is a solid's", () => {
    const flowing = storageModulus_Pa.map((value, i) => (i < 30 ? value : 10 ** (6 - (i - 30))));
    expect(points(sweep("Pa", flowing))).toBe(40);
  });

  it("stand where the study states the unit", () => {
    const columns = { "E' (MPa)": "storage modulus in Pa", "E'' (MPa)": "loss modulus in Pa" };
    expect(points(sweep("MPa", storageModulus_Pa), { columns })).toBe(40);
    const gel = sweep(
      "Pa",
      storageModulus_Pa.map((value) => value / 1e6),
    );
    const stated = { "E' (Pa)": "storage modulus in Pa", "E'' (Pa)": "loss modulus in Pa" };
    expect(points(gel, { columns: stated })).toBe(40);
  });

  it("are seen in columns of logarithms too", () => {
    const rows = storageModulus_Pa.map((value, i) => `${-70 + 3 * i};1;${Math.log10(value).toFixed(4)};0.2`);
    const table = (unit: string) => [`T (°C);f (Hz);log E' (${unit});tan δ`, ...rows].join("\n");
    expect(points(table("Pa"))).toBe(40);
    expect(problemOf(table("MPa"))).toMatchObject({ code: "io.modulus-impossible", column: 3 });
  });
});
