import { describe, expect, test } from "vitest";
import type { Outlook } from "../../src/predict/outlook.js";
import { doubtOf, doubtsOf } from "../../src/report/doubts.js";
import { marginText } from "../../src/report/html/answer/margin.js";
import { worstFirst } from "../../src/report/html/answer/ranking.js";
import { verdictMatrix } from "../../src/report/html/answer/verdict-matrix.js";
import type { JudgedCompound } from "../../src/report/results/results.js";
import { resultTables } from "../../src/report/tables/result-tables.js";
import { terminalSummary } from "../../src/report/terminal/terminal-summary.js";
import { cold, plain, states } from "./invented-verdicts.js";
import { makeAssessment } from "./make-assessment.js";

function compound(name: string, row: string, temperatures_C = [-30, -10, 20]): JudgedCompound {
  const outlooks = row.split(" ").map((letter, k): Outlook => {
    const verdict = states[letter];
    return {
      use: `use ${k}`,
      temperature_C: temperatures_C[k],
      rebound: null,
      grip: null,
      cushioning: null,
      cold: verdict === null ? null : cold(verdict),
      nearestMeasurement: null,
      flags: [],
      ...(verdict === null && {
        verdictMissing: "The peak lies colder than the data. Run a sweep from -90 °C.",
      }),
    };
  });
  return { name, inputs: [], glassTransitions: [], superposition: null, outlooks, flags: [] };
}

describe("what is not determined", () => {
  const compounds = [
    compound("Rubbery", "r r r"),
    compound("Leathery", "l r r"),
    compound("Unknown", "? ? ?"),
    compound("Glassy", "g r r"),
  ];

  test("stands above what is surely not glassy, and below what is", () => {
    expect(worstFirst(compounds).map((index) => compounds[index].name)).toEqual([
      "Glassy",
      "Unknown",
      "Leathery",
      "Rubbery",
    ]);
  });
});

describe("the figure beside a verdict", () => {
  const peak = (temperature_C: number, low_C: number, high_C: number) => ({
    temperature_C,
    low_C,
    high_C,
    reason: null,
  });

  test("is the distance from the glassy border for one word", () => {
    expect(plain(marginText(cold("glassy")))).toBe("−5 K");
    expect(plain(marginText(cold("leathery")))).toBe("+12 K");
  });

  test("is the interval of the distance from the border that two words straddle", () => {
    const glassTemperatureAtUse = {
      frequency_Hz: 300,
      lossModulusPeak: peak(-15, -27, -12),
      tanDeltaPeak: peak(-10.6, -24.3, -7.9),
    };
    // At −20 °C: −20 − (−12) = −8 K and −20 − (−27) = +7 K.
    const glassy = { ...cold("glassy or leathery"), marginToGlassy_K: -5, glassTemperatureAtUse };
    expect(plain(marginText(glassy))).toBe("−8 to +7 K");
    // At −10 °C the border is 10 K above the peak: −10 − (−7.9 + 10) = −12.1 K and −10 − (−24.3 + 10) = +4.3 K.
    const leathery = { ...cold("leathery or rubbery"), marginToLeathery_K: -9.4, glassTemperatureAtUse };
    expect(plain(marginText(leathery))).toBe("−12 to +4 K of the leathery border");
    const near = {
      ...glassy,
      glassTemperatureAtUse: { ...glassTemperatureAtUse, lossModulusPeak: peak(-15, -20.2, -12) },
    };
    expect(plain(marginText(near))).toBe("−8 to +0.2 K");
  });

  test("is no bare number where two words have no interval that bears them out", () => {
    expect(plain(marginText(cold("glassy or leathery")))).toBe("border not certain");
  });
});

describe("a doubt", () => {
  const doubted = compound("Doubted", "r r r");
  doubted.flags = ["fit.assumed-constants-misfit"];
  doubted.outlooks[0].flags = ["predict.law-outside-range", "predict.verdict-straddles"];

  test("stands in the cell it concerns, and beside the name where it concerns all", () => {
    const matrix = verdictMatrix([doubted, compound("Sure", "r r r")], [0, 1], [false, false]).markup;
    const [first, second] = matrix.split("<tr data-compound").slice(1);
    expect(plain({ markup: first.split("<td")[0] })).toContain("assumed shift misfits");
    const cells = first
      .split('<td class="cell')
      .slice(1)
      .map((markup) => plain({ markup: `<td ${markup}` }));
    expect(cells[0]).toContain("in doubt: extrapolated");
    expect(cells[1]).toMatch(/in doubt$/);
    expect(second).not.toContain("in doubt");
  });

  test("is worded from its code where no words are kept for it", () => {
    expect(doubtOf("fit.broad-transition").words).toBe("broad transition");
  });

  test("is not raised by what the verdict says already, nor where there is no verdict", () => {
    expect(doubtsOf({ flags: [] }, { ...doubted.outlooks[1], flags: ["predict.verdict-straddles"] })).toEqual(
      [],
    );
    expect(doubtsOf(doubted, { ...doubted.outlooks[1], cold: null })).toEqual([]);
  });

  test("is in the terminal's matrix and footnote, and as codes in the table", () => {
    const assessment = makeAssessment({ compounds: 2 });
    const [birch, alder] = assessment.results.compounds;
    birch.flags = ["fit.not-simple"];
    for (const { outlooks } of [birch, alder]) for (const outlook of outlooks) outlook.flags = [];
    birch.outlooks[4].flags = ["predict.law-outside-range"];
    alder.outlooks[0] = { ...alder.outlooks[0], cold: null, verdictMissing: "Sweep from -90 °C." };
    const lines = terminalSummary(assessment).split("\n");
    expect(lines.find((line) => line.startsWith("Birch 60"))?.match(/ !/g)).toHaveLength(5);
    expect(lines.find((line) => line.startsWith("Alder 45"))).not.toContain("!");
    expect(lines).toContain("  Birch 60: does not superpose; extrapolated (−30 °C)");
    expect(lines).toContain("  Alder 45 (23 °C): Sweep from -90 °C.");
    const table = resultTables(assessment).find(({ name }) => name === "outlooks.csv");
    const flags = table?.rows.map((row) => row[table.header.indexOf("flags")]);
    expect(flags?.slice(3, 6)).toEqual(["fit.not-simple", "fit.not-simple predict.law-outside-range", ""]);
  });
});
