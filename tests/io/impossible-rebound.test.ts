import { describe, expect, it } from "vitest";
import { readText } from "../../src/io/read-text.js";

/** A fraction of the energy returned cannot be below 0 or above 1 (ISO 4662: returned over applied energy). */
const read = (text: string) => {
  const outcome = readText(text, "invented.csv");
  if (!outcome.ok) throw new Error(outcome.problem.message);
  const { measurements, notices, skipped } = outcome.value;
  return {
    fractions: measurements
      .flatMap((each) => (each.kind === "rebound" ? each.readings : []))
      .map((r) => r.fractions),
    notices,
    skipped,
  };
};
const problem = (text: string) => {
  const outcome = readText(text, "invented.csv");
  if (outcome.ok) throw new Error("read");
  return outcome.problem;
};

describe("a rebound that cannot be", () => {
  const head = "Sample;T (°C);Rebound (%)\n";
  const sound = "Birch;23;52\nAlder;23;48\nPine;23;55\n";

  it("one row among others goes out and is named with line, column, found, expected and what to do", () => {
    const { fractions, notices, skipped } = read(`${head}${sound}Spruce;23;152\nLarch;23;100\nYew;23;0\n`);
    expect(fractions).toEqual([[0.52], [0.48], [0.55], [1], [0]]);
    expect(notices.find(({ code }) => code === "io.rebound-left-out")).toEqual({
      code: "io.rebound-left-out",
      severity: "caution",
      message:
        'A row of rebound was left out: line 5, column 3 ("Rebound (%)") holds 152 %, a rebound resilience of 152 %; expected 0 to 100 %. Correct it in the export.',
    });
    expect(skipped).toMatchObject([{ line: 5, why: expect.stringContaining("152 %") }]);
  });

  it.each([
    ["below nothing", `${head}${sound}Spruce;23;-4\n`, "−4 %|-4 %"],
    [
      "a rebound above its drop",
      "Sample;Drop height (mm);Rebound height (mm)\nA;400;200\nB;400;210\nC;400;500\n",
      "125 %",
    ],
    [
      "an angle above its drop",
      "Sample;Drop angle (°);Rebound angle (°)\nA;60;45\nB;60;40\nC;60;90\n",
      "200 %",
    ],
    ["a percentage among fractions", "Sample;Rebound (fraction)\nA;0.52\nB;0.5\nC;52\n", "5200 %"],
    ["the same where no unit is stated", "Sample;Rebound\nA;0.52\nB;0.5\nC;52\n", "5200 %"],
    ["one of a row's repeats", "Sample;R1 (%);R2 (%)\nA;52;53\nB;50;51\nC;152;53\n", "152 %"],
  ])("%s", (_, text, found) => {
    const { fractions, notices, skipped } = read(text);
    expect(fractions.length).toBe(text.includes("Spruce") ? 3 : 2);
    expect(skipped.map(({ line }) => line)).toEqual([text.trim().split("\n").length]);
    expect(notices.find(({ code }) => code === "io.rebound-left-out")?.message).toMatch(new RegExp(found));
  });

  it("rows parted into blocks are judged together", () => {
    const { fractions } = read(`${head}Birch;23;52\n\n${head}Alder;23;148\n\n${head}Pine;23;55\n`);
    expect(fractions).toEqual([[0.52], [0.55]]);
  });

  it("one of several temperatures side by side", () => {
    const { fractions } = read(
      "Sample;Rebound at 0 °C (%);Rebound at 23 °C (%);Rebound at 40 °C (%)\nBirch;42;152;55\n",
    );
    expect(fractions).toEqual([[0.42], [0.55]]);
  });

  it.each([
    ["all", `${head}Birch;23;152\nAlder;23;148\n`, 2, 3],
    ["half", `${head}Birch;23;52\nAlder;23;148\n`, 3, 3],
    ["most", `${head}Birch;23;52\nAlder;23;148\nPine;23;155\n`, 3, 3],
    ["the only one", `${head}Birch;23;152\n`, 2, 3],
    [
      "all of one temperature's column",
      "Sample;Rebound at 0 °C (%);Rebound at 23 °C (%);Rebound at 40 °C (%)\nBirch;42;210;45\nAlder;52;220;55\n",
      2,
      3,
    ],
  ])("%s: the unit or the column is doubted", (_, text, line, column) => {
    expect(problem(text)).toMatchObject({ code: "io.resilience-out-of-range", line, column });
  });
});
