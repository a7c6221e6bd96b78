import { describe, expect, it } from "vitest";
import type { DynamicMeasurement, FileContent, ReboundMeasurement } from "../../src/io/measurement.js";
import type { ReadOptions } from "../../src/io/read-options.js";
import { readText } from "../../src/io/read-text.js";

function reading(text: string, options?: ReadOptions): FileContent {
  const outcome = readText(text, "invented.csv", options);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problem));
  return outcome.value;
}

function problem(text: string, options?: ReadOptions) {
  const outcome = readText(text, "invented.csv", options);
  if (outcome.ok) throw new Error("read, though it should be rejected");
  return outcome.problem;
}

const dynamic = (text: string, options?: ReadOptions) =>
  reading(text, options).measurements as DynamicMeasurement[];
const codes = (text: string) => reading(text).notices.map(({ code }) => code);

/** Lines of cells; rows are given by a function of their number. */
function table(header: string[], count: number, row: (i: number) => (string | number)[], mark = ";"): string {
  return [header, ...Array.from({ length: count }, (_, i) => row(i))]
    .map((cells) => cells.join(mark))
    .join("\n");
}

const T = (i: number) => -60 + 10 * i;
const E = (i: number) => 1000 - 50 * i;

describe("the kind of a measurement, from its data", () => {
  it("one ramp", () => {
    const [sweep] = dynamic(table(["T/°C", "f/Hz", "E'/MPa", "tan δ"], 8, (i) => [T(i), 10, E(i), 0.5]));
    expect(sweep).toMatchObject({ kind: "temperature sweep", direction: "heating", deformation: "unstated" });
    expect([...sweep.lossModulus_Pa]).toEqual(Array.from({ length: 8 }, (_, i) => E(i) * 1e6 * 0.5));
  });

  it("a ramp at four frequencies that is stepped", () => {
    const f = [1, 3, 10, 30];
    const text = table(["T/°C", "f/Hz", "G'/MPa", "tan δ"], 80, (i) => [
      -60 + 2 * Math.floor(i / 4),
      f[i % 4],
      100,
      0.2,
    ]);
    const [sweep, ...others] = dynamic(text);
    expect(others).toEqual([]);
    expect(sweep).toMatchObject({ kind: "temperature sweep", direction: "heating", deformation: "shear" });
    expect(sweep.temperature_C.length).toBe(80);
  });

  it("seventeen isotherms of sixteen frequencies with wandering temperatures", () => {
    const text = table(["T/K", "ω/(rad/s)", "G'/MPa", "G''/MPa"], 17 * 16, (i) => [
      (213.15 + 5 * Math.floor(i / 16) + 0.3 * Math.sin(i)).toFixed(2),
      (10 ** ((i % 16) / 5)).toPrecision(5),
      100,
      20,
    ]);
    const [sweep, ...others] = dynamic(text);
    expect(others).toEqual([]);
    expect(sweep).toMatchObject({ kind: "frequency sweep", direction: null });
    expect(sweep.frequency_Hz[0]).toBeCloseTo(1 / (2 * Math.PI), 12);
  });

  it("strain sweeps at two temperatures are two measurements", () => {
    const text = table(["Strain (%)", "T (°C)", "f (Hz)", "G' (MPa)", "G'' (MPa)"], 16, (i) => [
      0.1 * 2 ** (i % 8),
      i < 8 ? 23 : 60,
      10,
      5,
      1,
    ]);
    const found = dynamic(text);
    expect(found.map(({ kind, temperature_C }) => [kind, temperature_C[0], temperature_C.length])).toEqual([
      ["strain sweep", 23, 8],
      ["strain sweep", 60, 8],
    ]);
    expect(found[0].strainAmplitude?.[1]).toBeCloseTo(0.002, 15);
  });

  it("a strain that a machine holds within some per cent is no strain sweep", () => {
    const text = table(["T (°C)", "f (Hz)", "γ (%)", "G' (MPa)", "G'' (MPa)"], 40, (i) => [
      -60 + i,
      10,
      (0.1 * (1 + 0.1 * Math.sin(i))).toFixed(4),
      5,
      1,
    ]);
    expect(dynamic(text).map(({ kind }) => kind)).toEqual(["temperature sweep"]);
  });

  it("heating, cooling and heating again are three legs, each row in one of them", () => {
    const up = Array.from({ length: 12 }, (_, i) => -50 + 5 * i);
    const all = [...up, ...up.toReversed().slice(1), ...up.slice(1)];
    const found = dynamic(
      `Frequency: 1 Hz\n${table(["T (°C)", "E' (MPa)", "tan δ"], all.length, (i) => [all[i], E(0), 0.1])}`,
    );
    expect(found.map(({ direction, temperature_C }) => [direction, temperature_C.length])).toEqual([
      ["heating", 12],
      ["cooling", 11],
      ["heating", 11],
    ]);
    expect(found.flatMap(({ temperature_C }) => [...temperature_C])).toEqual(all);
  });

  it("a second run that starts again from the cold is no cooling leg", () => {
    const once = Array.from({ length: 10 }, (_, i) => -50 + 5 * i);
    const all = [...once, ...once];
    const found = dynamic(
      `Frequency: 1 Hz\n${table(["T (°C)", "E' (MPa)", "tan δ"], 20, (i) => [all[i], E(0), 0.1])}`,
    );
    expect(found.map(({ direction, temperature_C }) => [direction, temperature_C.length])).toEqual([
      ["heating", 10],
      ["heating", 10],
    ]);
  });

  it("the heating rate is the slope against the time column, in its own unit", () => {
    const [sweep] = dynamic(
      table(["t (min)", "T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 9, (i) => [5 * i, T(i), 1, E(i), 0.1]),
    );
    expect(sweep.heatingRate_K_min).toBeCloseTo(2, 12);
    expect(sweep.time_s?.[2]).toBe(600);
  });

  it("a table that is sorted against its time was cooled, whatever its order", () => {
    const [sweep] = dynamic(
      table(["t (s)", "T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 9, (i) => [
        900 - 100 * i,
        T(i),
        1,
        E(i),
        0.1,
      ]),
    );
    expect(sweep.direction).toBe("cooling");
  });
});

describe("layouts", () => {
  it("samples side by side under their names", () => {
    const text = `Birch 60;;;;Rowan W\n${table(["T (°C)", "f (Hz)", "E' (MPa)", "tan δ", "T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 6, (i) => [T(i), 1, E(i), 0.1, T(i) + 1, 1, 2 * E(i), 0.2])}`;
    const found = dynamic(text);
    expect(
      found.map(({ sample, temperature_C, storageModulus_Pa }) => [
        sample,
        temperature_C[0],
        storageModulus_Pa[0],
      ]),
    ).toEqual([
      ["Birch 60", -60, 1e9],
      ["Rowan W", -59, 2e9],
    ]);
  });

  it("samples side by side that share the temperature", () => {
    const text = `T (°C);f (Hz);Birch 60;;Rowan W\n${table(["", "", "E' (MPa)", "tan δ", "E' (MPa)", "tan δ"], 6, (i) => [T(i), 1, E(i), 0.1, 2 * E(i), 0.2])}`;
    expect(dynamic(text).map(({ sample, storageModulus_Pa }) => [sample, storageModulus_Pa[0]])).toEqual([
      ["Birch 60", 1e9],
      ["Rowan W", 2e9],
    ]);
  });

  it("isotherms side by side", () => {
    const text = table(
      ["f (Hz)", "G' at −20 °C (MPa)", "G'' at −20 °C (MPa)", "G' at 0 °C (MPa)", "G'' at 0 °C (MPa)"],
      5,
      (i) => [10 ** (i - 2), 10, 5, 4, 1],
    );
    const [sweep] = dynamic(text);
    expect(sweep.kind).toBe("frequency sweep");
    expect(new Set(sweep.temperature_C)).toEqual(new Set([-20, 0]));
    expect(sweep.temperature_C.length).toBe(10);
  });

  it("a header over three lines of aligned blanks", () => {
    const text = [
      "Frequency: 1 Hz",
      "",
      "              Storage      Loss      Loss",
      "    Temp      Modulus   Modulus    Factor",
      "    (°C)        (MPa)     (MPa)       (-)",
      "   -60.0      1000.00    100.00    0.1000",
      "   -50.0       900.00    110.00    0.1222",
      "   -40.0       800.00    120.00    0.1500",
    ].join("\n");
    const [sweep] = dynamic(text);
    expect([...sweep.lossModulus_Pa]).toEqual([1e8, 1.1e8, 1.2e8]);
  });

  it("aligned blanks with an empty cell: the place tells which", () => {
    const text = [
      "   T/°C    f/Hz    E'/MPa   E''/MPa",
      "  -60.0     1.0   1000.00    100.00",
      "  -50.0     1.0              110.00",
      "  -40.0     1.0    800.00    120.00",
      "  -30.0     1.0    700.00    130.00",
    ].join("\n");
    const { measurements, skipped } = reading(text);
    expect((measurements[0] as DynamicMeasurement).temperature_C).toEqual(Float64Array.of(-60, -40, -30));
    expect(skipped).toMatchObject([{ line: 3, why: expect.stringContaining("E'/MPa") }]);
  });

  it("units in the cells instead of the header", () => {
    const [sweep] = dynamic(
      table(["Temperature", "Frequency", "E'", "tan δ"], 5, (i) => [
        `${T(i)} °C`,
        "10 Hz",
        `${E(i)} MPa`,
        0.1,
      ]),
    );
    expect(sweep.storageModulus_Pa[0]).toBe(1e9);
  });

  it("a name row, a symbol row and a unit row", () => {
    const text = `Temperature;Frequency;Storage modulus;Loss modulus\nT;f;G';G''\n°C;Hz;kPa;kPa\n${table([], 5, (i) => [T(i), 10, E(i), 10]).trim()}`;
    const [sweep] = dynamic(text);
    expect(sweep).toMatchObject({ deformation: "shear" });
    expect(sweep.storageModulus_Pa[0]).toBe(1e6);
  });

  it("a sentence that mentions moduli is no header", () => {
    const text = `The table lists the storage modulus, E', and tan δ\n${table(["T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 5, (i) => [T(i), 10, E(i), 0.1], ",")}`;
    expect(dynamic(text)[0].provenance.firstLine).toBe(3);
  });

  it("a sample column that names each sample once", () => {
    const text = table(["Compound", "T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 8, (i) => [
      i % 4 === 0 ? `Mix ${i}` : "",
      T(i % 4),
      1,
      E(i),
      0.1,
    ]);
    expect(dynamic(text).map(({ sample, temperature_C }) => [sample, temperature_C.length])).toEqual([
      ["Mix 0", 4],
      ["Mix 4", 4],
    ]);
    expect(codes(text)).toContain("io.sample-carried-down");
  });

  it("log columns beside plain ones, ω beside f: one of the two is enough", () => {
    const text = table(
      ["ω (rad/s)", "f (Hz)", "log f", "T (°C)", "G' (Pa)", "log G'", "G'' (Pa)"],
      6,
      (i) => [6.28, 1, 0, T(i), 1e6, 6, 1e5],
    );
    expect(dynamic(text)[0].frequency_Hz[0]).toBe(1);
  });
});

describe("what is asked for instead of guessed", () => {
  it("decimal commas between commas", () => {
    const found = problem("Frequency: 1 Hz\nT (°C),E' (MPa),tan δ\n-60,5,1000,25,0,1\n-50,5,900,25,0,2\n");
    expect(found).toMatchObject({ code: "io.no-rows", line: 3 });
    expect(found.message).toMatch(/decimal comma/);
  });

  it("kelvin or °C, where the numbers could be either", () => {
    const text = table(["Temperature", "f (Hz)", "E' (MPa)", "tan δ"], 5, (i) => [
      213 + 10 * i,
      1,
      E(i),
      0.1,
    ]);
    expect(problem(text)).toMatchObject({ code: "io.unit-missing", line: 1, column: 1 });
    expect(dynamic(text, { columns: { Temperature: "temperature in K" } })[0].temperature_C[0]).toBe(-60.15);
  });

  it("moduli of a size that only pascals have are taken for pascals, and that is said", () => {
    const text = table(["T (°C)", "f (Hz)", "E'", "E''"], 5, (i) => [T(i), 1, 1e9 - 1e8 * i, 1e8]);
    expect(dynamic(text)[0].storageModulus_Pa[0]).toBe(1e9);
    expect(codes(text)).toContain("io.unit-assumed");
    expect(dynamic(text)[0].provenance.columns[2]).toMatchObject({ unit: "Pa", unitAssumed: true });
  });

  it("a frequency is never guessed; the options may state it", () => {
    const text = table(["T (°C)", "E' (MPa)", "tan δ"], 5, (i) => [T(i), E(i), 0.1]);
    expect(problem(text)).toMatchObject({ code: "io.no-frequency", line: 1 });
    expect(dynamic(text, { frequency_Hz: 11 })[0].frequency_Hz[0]).toBe(11);
  });

  it("an override that names no column", () => {
    const text = table(["T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 5, (i) => [T(i), 1, E(i), 0.1]);
    const found = problem(text, { columns: { "Kanal 9": "storage modulus in MPa" } });
    expect(found.code).toBe("io.bad-override");
    expect(found.message).toMatch(/Kanal 9.*E' \(MPa\)/s);
    expect(problem(text, { columns: { "T (°C)": "warmth in MPa" } }).code).toBe("io.bad-override");
  });

  it("an override with control characters is quoted without them", () => {
    const text = table(["T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 5, (i) => [T(i), 1, E(i), 0.1]);
    const found = problem(text, { columns: { "T\u001b[2J\u202e (°C)": "warmth\n\u0007in\u009b31m MPa" } });
    expect(found.code).toBe("io.bad-override");
    expect(found.message).toContain('"T [2J (°C): warmth in 31m MPa"');
  });

  it("a table without a header, with columns by number", () => {
    const text = Array.from({ length: 5 }, (_, i) => [T(i), 1, E(i), 0.1].join(" ")).join("\n");
    const columns = {
      "1": "temperature in °C",
      "2": "frequency in Hz",
      "3": "storageModulus in MPa",
      "4": "tan delta",
    };
    expect(dynamic(text, { columns })[0].storageModulus_Pa[0]).toBe(1e9);
  });

  it("options stand before what the file says", () => {
    const text = `Sample: A\nMode: tension\n${table(["T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 5, (i) => [T(i), 1, E(i), 0.1])}`;
    expect(dynamic(text, { sample: "B", deformation: "bending" })[0]).toMatchObject({
      sample: "B",
      deformation: "bending",
    });
  });
});

describe("doubts are said", () => {
  it("E' in a file that states shear", () => {
    const text = `Mode: shear\n${table(["T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 5, (i) => [T(i), 1, E(i), 0.1])}`;
    expect(dynamic(text)[0].deformation).toBe("unstated");
    expect(codes(text)).toContain("io.deformation-contradicts");
  });

  it("a stated heating rate that the times deny", () => {
    const text = `Heating rate: 5 K/min\n${table(["t (min)", "T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 9, (i) => [5 * i, T(i), 1, E(i), 0.1])}`;
    expect(dynamic(text)[0].heatingRate_K_min).toBe(5);
    expect(codes(text)).toContain("io.heating-rate-differs");
  });

  it("a section's title right under the header is no row of units", () => {
    const rows = ["-60.00;0.1;1200;90", "-60.00;0.2;1201;91", "-60.00;0.4;1202;92", "-60.00;0.8;1203;93"];
    const warm = rows.map((row) => row.replace("-60", "-50"));
    const head = "Sample;Rowan W\nTemperature (°C);Frequency (Hz);E' (MPa);E'' (MPa)";
    const text = [head, "Temperature: -60 °C", ...rows, "Temperature: -50 °C", ...warm].join("\n");
    const outcome = readText(text, "sections.csv");
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const [measurement] = outcome.value.measurements;
    expect(measurement).toMatchObject({ kind: "frequency sweep", sample: "Rowan W" });
    expect(measurement.kind === "rebound" ? [] : [...measurement.temperature_C]).toEqual([
      ...new Array(4).fill(-60),
      ...new Array(4).fill(-50),
    ]);
  });

  it("a tan δ written as 0.00 through the glass goes out row by row; the rest of the sweep is read", () => {
    const rows = Array.from(
      { length: 30 },
      (_, i) => `${-60 + 4 * i},1,${2000 - 60 * i},${i < 12 ? "0.00" : "0.15"}`,
    );
    const outcome = readText(
      `Temperature (°C),Frequency (Hz),E' (MPa),tan delta\n${rows.join("\n")}`,
      "glass.csv",
    );
    if (!outcome.ok) throw new Error(outcome.problem.message);
    expect(outcome.value.measurements[0]).toMatchObject({ kind: "temperature sweep" });
    expect(outcome.value.skipped).toHaveLength(12);
    expect(outcome.value.notices.map(({ code }) => code)).toContain("io.rows-left-out");
  });

  it("one loss modulus below zero in many rows goes out with its row; many end the reading", () => {
    const rows = (bad: number[]) =>
      table(["T (°C)", "f (Hz)", "E' (MPa)", "E'' (MPa)"], 40, (i) => [
        -60 + i,
        1,
        E(0),
        bad.includes(i) ? -0.5 : 9,
      ]);
    const { measurements, skipped } = reading(rows([7]));
    expect((measurements[0] as DynamicMeasurement).temperature_C.length).toBe(39);
    expect(skipped).toMatchObject([{ line: 9, why: expect.stringContaining("zero or below") }]);
    expect(problem(rows([7, 8, 9]))).toMatchObject({ code: "io.modulus-not-positive", line: 9, column: 4 });
  });

  it("thousands and decimals that look alike", () => {
    const text = table(
      ["T (°C)", "f (Hz)", "E' (kPa)", "E'' (kPa)"],
      6,
      (i) => [T(i), 10, "1,234", i < 3 ? "987" : "1,001"],
      "\t",
    );
    expect(dynamic(text)[0].storageModulus_Pa[0]).toBe(1.234e6);
    expect(codes(text)).toContain("io.decimal-mark-assumed");
  });

  it("a name with its colon in a cell of its own, in a file with commas between cells", () => {
    const named = (line: string) =>
      dynamic(
        `${line}\n\n${table(["T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 8, (i) => [T(i), 1, E(i), 0.5], ",")}`,
      )[0].sample;
    expect(named("Sample:,Birch 60")).toBe("Birch 60");
    expect(named("样品名称：,桦木 60")).toBe("桦木 60");
    expect(named("Sample: Birch 60, black")).toBe("Birch 60, black");
  });

  it("the last printed digit of small values is no disagreement between columns", () => {
    const glass = (tanDelta: string) => [1380, 0.0782, tanDelta];
    const printed = (tanDelta: string) =>
      codes(
        table(["T (°C)", "f (Hz)", "E' (MPa)", "E'' (MPa)", "tan δ"], 8, (i) => [
          T(i),
          1,
          ...(i < 3 ? glass(tanDelta) : [1000, 100, "0.1000"]),
        ]),
      );
    // 0.0782 / 1380 = 0.0000567, which four decimals round to 0.0001; 0.0003 they do not.
    expect(printed("0.0001")).not.toContain("io.columns-disagree");
    expect(printed("0.0003")).toContain("io.columns-disagree");
  });

  it("tells by line what is left out, and counts past a thousand", () => {
    const text = table(["T (°C)", "f (Hz)", "E' (MPa)", "E'' (MPa)"], 2500, (i) => [
      i / 100,
      1,
      i < 1500 ? "---" : 5,
      1,
    ]);
    const { skipped } = reading(text);
    expect(skipped.length).toBe(1500);
    expect(skipped[0]).toEqual({
      line: 2,
      text: "0 1 --- 1",
      why: 'column 3 ("E\' (MPa)") holds "---", no value',
    });
  });
});

describe("abrasion", () => {
  const read = (header: string) => {
    const outcome = readText(`Compound,Hardness (Shore A),${header}\nBirch 60,61,132\n`, "invented.csv");
    if (!outcome.ok) throw new Error(outcome.problem.message);
    return outcome.value.properties.map(({ property }) => property);
  };

  it.each(["Abrasion (ARI) (%)", "Abrasion ARI (%)", "Abrasion resistance index (%)", "ARI (%)"])(
    "%s is an index, of which more is better",
    (header) => expect(read(header)).toEqual(["hardness", "abrasion resistance index"]),
  );

  it.each(["Abrasion (ARI %)", "Abrasion (index %)", "Rel. abrasion to reference"])(
    "%s is taken for no loss in mm³",
    (header) => expect(read(header)).not.toContain("abrasion loss"),
  );

  it("a loss without a unit is still one", () => {
    expect(read("Abrasion loss")).toEqual(["hardness", "abrasion loss"]);
  });
});

describe("rebound tables", () => {
  const rebound = (text: string) =>
    (reading(text).measurements as ReboundMeasurement[]).map(({ sample, readings }) => [
      sample,
      readings.map(({ temperature_C, fractions }) => [temperature_C, fractions]),
    ]);

  it("a title over samples side by side", () => {
    const text = "Rebound resilience (%)\nTemperature (°C);Birch 60;Rowan W\n0;28.5;60\n23;48;70\n";
    expect(rebound(text)).toEqual([
      [
        "Birch 60",
        [
          [0, [0.285]],
          [23, [0.48]],
        ],
      ],
      [
        "Rowan W",
        [
          [0, [0.6]],
          [23, [0.7]],
        ],
      ],
    ]);
  });

  it("a title over temperatures side by side", () => {
    const text = "Rückprallelastizität in %\nMischung;0 °C;23 °C\nBirch 60;28,5;48\nRowan W;60;70\n";
    expect(rebound(text)).toEqual([
      [
        "Birch 60",
        [
          [0, [0.285]],
          [23, [0.48]],
        ],
      ],
      [
        "Rowan W",
        [
          [0, [0.6]],
          [23, [0.7]],
        ],
      ],
    ]);
  });

  it("single values and their mean: the mean is not counted twice", () => {
    const text = "Compound;T (°C);Rebound 1 (%);Rebound 2 (%);Mean rebound (%)\nBirch 60;0;28;29;28.5\n";
    expect(rebound(text)).toEqual([["Birch 60", [[0, [0.28, 0.29]]]]]);
  });

  it("a mean alone is what there is", () => {
    expect(rebound("Compound;T (°C);Mean rebound (%)\nBirch 60;0;28.5\n")).toEqual([
      ["Birch 60", [[0, [0.285]]]],
    ]);
  });

  it("angles by 1 − cos, ISO 4662's relation for a pendulum", () => {
    // From 90° the drop energy is that of the whole arm; 60° of rebound keep 1 − cos 60° = ½ of it.
    const text = "Sample;T (°C);Drop angle (°);Rebound angle (°)\nA;23;90;60\n";
    const [one] = reading(text).measurements as ReboundMeasurement[];
    expect(one.readings[0].fractions[0]).toBeCloseTo(0.5, 14);
  });

  it.each([
    ["a resilience above 100 %", "Sample;T (°C);Rebound (%)\nA;23;148\nA;0;48\n", 2],
    ["a rebound above the drop", "Sample;T (°C);Drop height (mm);Rebound height (mm)\nA;23;400;500\n", 2],
    ["a negative resilience", "Sample;T (°C);Rebound (%)\nA;23;48\nA;0;-3\n", 3],
  ])("refuses %s", (_, text, line) => {
    expect(problem(text)).toMatchObject({ code: "io.resilience-out-of-range", line });
  });

  it("asks for the drop that rebound heights need", () => {
    expect(problem("Sample;T (°C);Rebound height (mm)\nA;23;200\n").message).toMatch(/drop height/);
  });

  it("a table of both a sweep and rebound values gives both", () => {
    const text = table(["T (°C)", "f (Hz)", "E' (MPa)", "tan δ", "Rebound (%)"], 5, (i) => [
      T(i),
      10,
      E(i),
      0.1,
      50,
    ]);
    expect(
      reading(text)
        .measurements.map(({ kind }) => kind)
        .sort(),
    ).toEqual(["rebound", "temperature sweep"]);
  });
});

describe("strain and time", () => {
  const header = ["Strain (%)", "T (°C)", "f (Hz)", "G' (MPa)", "G'' (MPa)"];

  it("a strain sweep leaves rows without a strain out and says so", () => {
    const text = table(header, 10, (i) => [i === 3 ? "---" : i === 5 ? 0 : 0.1 * 2 ** i, 60, 10, 5, 1]);
    const { measurements, skipped } = reading(text);
    expect(measurements[0]).toMatchObject({ kind: "strain sweep" });
    expect((measurements[0] as DynamicMeasurement).strainAmplitude?.length).toBe(8);
    expect(skipped.map(({ line }) => line)).toEqual([5, 7]);
  });

  it("a temperature sweep keeps its rows where the strain was not recorded", () => {
    const [sweep] = dynamic(table(header, 10, (i) => [0, T(i), 10, 5, 1]));
    expect(sweep).toMatchObject({ kind: "temperature sweep", strainAmplitude: null });
    expect(sweep.temperature_C.length).toBe(10);
  });

  it("a double strain amplitude is halved", () => {
    const [sweep] = dynamic(table(["DSA (%)", ...header.slice(1)], 8, (i) => [0.2 * 2 ** i, 60, 10, 5, 1]));
    expect(sweep.strainAmplitude?.[0]).toBe(0.001);
  });

  it.each(["Time", "Time (hh:mm:ss)", "Zeit [mm:ss]"])("times as on a clock, under %s", (time) => {
    const [sweep] = dynamic(
      table([time, "T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 9, (i) => [
        `0:${String(5 * i).padStart(2, "0")}:00`,
        T(i),
        1,
        E(i),
        0.1,
      ]),
    );
    expect(sweep.time_s?.[2]).toBe(600);
    expect(sweep.heatingRate_K_min).toBeCloseTo(2, 12);
  });
});

describe("text as spreadsheets and editors leave it", () => {
  it("a line break inside a quoted header", () => {
    const text =
      'Frequency: 1 Hz\r\n"Temperature\r\n(°C)";"E\'\r\n(MPa)";tan δ\r\n-20;5;0.1\r\n-10;4;0.2\r\n';
    const [sweep] = dynamic(text);
    expect(sweep.provenance).toMatchObject({ firstLine: 5, lastLine: 6 });
  });

  it('a line "sep=;" before the rest', () => {
    expect(
      dynamic(`sep=;\n${table(["T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 5, (i) => [T(i), 1, E(i), 0.1])}`)
        .length,
    ).toBe(1);
  });

  it("a stray quote does not swallow the file", () => {
    const rows = table(["T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 50, (i) => [T(i) / 10, 1, E(0), 0.1]);
    expect(dynamic(`"open\n${rows}`)[0].temperature_C.length).toBe(50);
  });

  it("an inch mark for a double prime at the start of a cell", () => {
    expect(
      dynamic(`T (°C);f (Hz);E';"E"""\n°C;Hz;MPa;MPa\n${table([], 4, (i) => [T(i), 1, E(i), 5]).trim()}`)
        .length,
    ).toBe(1);
  });
});

describe("sections", () => {
  const section = (title: string) =>
    `${title}\n${table(["T (°C)", "E' (MPa)", "tan δ"], 5, (i) => [T(i), E(i), 0.1])}\n\n`;

  it("a title that cannot be read does not leave the last frequency in force", () => {
    const found = problem(section("Frequency: 1 Hz") + section("Frequency: ?? Hz"));
    expect(found).toMatchObject({ code: "io.no-frequency" });
    expect(problem(section("Frequency: 1 Hz") + section("Frequency: 0.0 Hz")).code).toBe("io.no-frequency");
  });

  it("a remark between sections changes nothing", () => {
    const text = section("Frequency: 1 Hz") + section("The door was opened.\nFrequency: 10 Hz");
    expect(new Set(dynamic(text)[0].frequency_Hz)).toEqual(new Set([1, 10]));
  });

  it("each measurement names its sections", () => {
    const [sweep] = dynamic(section("Frequency: 1 Hz") + section("Frequency: 10 Hz"));
    expect(sweep.provenance.section).toBe('2 sections, from "Frequency: 1 Hz" to "Frequency: 10 Hz"');
  });
});

describe("a modulus that follows from the other cells of its line", () => {
  const withCell = (cell: string, column: number, count = 1) =>
    table(["T (°C)", "f (Hz)", "E' (MPa)", "E'' (MPa)", "tan δ"], 6, (i) => {
      const cells = [T(i), 1, E(i), 0.1 * E(i), 0.1];
      return cells.map((own, k) => (k === column && i >= 2 && i < 2 + count ? cell : own));
    });
  const said = (text: string) =>
    reading(text).notices.flatMap(({ code, message }) => (code === "io.modulus-completed" ? [message] : []));

  it("a word in its cell is said with line, column, found and what was done", () => {
    const cell = "vingt-deux";
    const text = withCell(cell, 2);
    expect(dynamic(text)[0].storageModulus_Pa[2] / 1e6).toBeCloseTo(900, 9);
    const [message, ...more] = said(text);
    expect(more).toEqual([]);
    expect(message).toContain('Line 4: column 3 ("E\' (MPa)") holds');
    expect(message).toContain('"vingt-deux", not a number');
    expect(message).toContain("storage and loss modulus were taken from its other cells");
    expect(said(withCell(cell, 3, 3))[0]).toContain("The same holds for 2 lines more.");
  });

  it("a blank cell and a mark for a missing value are completed without a word, and a line that nothing completes is left out", () => {
    for (const cell of ["", "n/a", "—"]) {
      expect(dynamic(withCell(cell, 2))[0].storageModulus_Pa[2] / 1e6).toBeCloseTo(900, 9);
      expect(said(withCell(cell, 2))).toEqual([]);
    }
    const text = table(["T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 6, (i) => [
      T(i),
      1,
      i === 2 ? "vingt" : E(i),
      0.1,
    ]);
    expect(dynamic(text)[0].temperature_C).toHaveLength(5);
    expect(said(text)).toEqual([]);
    expect(reading(text).skipped).toMatchObject([{ line: 4, why: expect.stringContaining("vingt") }]);
  });
});

describe("values that no specimen can have", () => {
  it.each([
    ["a modulus of 5e-324 Pa", "5e-324", "0.1"],
    ["a modulus of 1e22 Pa", "1e16", "0.1"],
    ["a tan δ of a million", "5", "1e6"],
  ])("%s goes out with its row", (_, modulus, tanDelta) => {
    const text = `${table(["T (°C)", "f (Hz)", "E' (MPa)", "tan δ"], 6, (i) => [T(i), 1, E(i), 0.1])}\n20;1;${modulus};${tanDelta}`;
    const { measurements, skipped } = reading(text);
    expect((measurements[0] as DynamicMeasurement).temperature_C.length).toBe(6);
    expect(skipped).toMatchObject([{ line: 8, why: expect.stringContaining("out of range") }]);
  });

  it("a whole column in a wrong unit leaves no row, and the reason is told", () => {
    const found = problem(
      table(["T (°C)", "f (Hz)", "E' (GPa)", "tan δ"], 6, (i) => [T(i), 1, 1e9 + i, 0.1]),
    );
    expect(found).toMatchObject({ code: "io.modulus-impossible", line: 2, column: 3 });
    expect(found.message).toMatch(/E' \(GPa\).*so are 6 of 6 rows/);
  });

  it("an override that names no column of a text without a table", () => {
    const page = "<html><head><title>Session ended</title></head>\n".repeat(3);
    expect(problem(page, { columns: { "-50.0": "frequency in kHz" } }).code).toMatch(
      /^io\.(document|no-known-column)$/,
    );
  });
});
