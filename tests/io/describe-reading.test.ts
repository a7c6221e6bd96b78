import { describe, expect, it } from "vitest";
import { describeReading } from "../../src/io/describe-reading.js";
import { readText } from "../../src/io/read-text.js";
import { shownWidth } from "../../src/words/shown-width.js";

function described(text: string, fileName = "birch.csv"): string {
  const outcome = readText(text, fileName);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return describeReading(outcome.value, fileName);
}

const rows = Array.from({ length: 6 }, (_, i) => `${-60 + 10 * i};10;${1000 - 100 * i};0.1`).join("\n");

describe("how a file was read, for a person", () => {
  it("says all that was taken and assumed, in one page", () => {
    const text = described(
      `Sample;Birch 60\nMode;tension\nTemperature;f [Hz];E' [MPa];tan δ\n${rows}\n10;10;---;0.1\nend of test\n`,
    );
    expect(text).toBe(`birch.csv
────────────────────
  read as       UTF-8, cells parted by semicolon, decimal point
  found         1 × temperature sweep

TEMPERATURE SWEEP
  sample        Birch 60
  where         lines 4 to 9
  deformation   tension
  direction     heating
  points        6
  temperature   −60.0 to −10.0 °C
  frequency     10 Hz
  E′            500 to 1000 MPa
  E″            50 to 100 MPa

  no.  header       taken for        unit
  ───  ───────────  ───────────────  ────────────
    1  Temperature  temperature      °C (assumed)
    2  f [Hz]       frequency        Hz
    3  E' [MPa]     storage modulus  MPa
    4  tan δ        tan delta        –

STATED OUTSIDE THE TABLES
  line 1      sample: Birch 60
  line 2      deformation: tension

NOTICES
  caution   Column 1 ("Temperature") states no unit: °C was assumed.
            [io.unit-assumed]
  info      2 lines were left out (the first is line 10: column 3 ("E' [MPa]")
            holds "---", no value). [io.rows-left-out]

LEFT OUT
  line 10     column 3 ("E' [MPa]") holds "---", no value
              │ 10 10 --- 0.1
  line 11     neither numbers under the header nor a header
              │ end of test
`);
  });

  it("stays within 80 columns, with Chinese headers and long names too", () => {
    const long = "x".repeat(150);
    const text = described(
      `试样名称;${long}\n温度（℃）;频率（Hz）;储能模量（MPa）;损耗因子;${long};Static force of the upper clamp, averaged over the whole cycle (N)\n${rows.replaceAll("0.1", "0.1;1;2")}\n`,
      `${long}.csv`,
    );
    for (const line of text.split("\n").slice(2)) expect(shownWidth(line), line).toBeLessThanOrEqual(80);
  });

  it("shows nothing that could drive a terminal", () => {
    const text = described(`Sample;A\u001b[31mB\u202eC\nT [°C];f [Hz];E' [MPa];tan δ\u0007\n${rows}\n`);
    expect([...text].filter((c) => c < " " && c !== "\n")).toEqual([]);
  });
});

it("the columns of a table of properties are told, those that are not used too", () => {
  const text = described("Compound,Hardness (Shore A),Colour\nBirch 60,60,black\nBirch 60,61,black\n");
  expect(text).toMatch(/1 {2}Compound +sample/);
  expect(text).toMatch(/2 {2}Hardness \(Shore A\) +hardness +Shore A/);
  expect(text).toMatch(/3 {2}Colour +not used/);
});
