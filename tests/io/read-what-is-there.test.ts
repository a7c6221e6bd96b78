import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import type { DynamicMeasurement, FileContent, ReboundMeasurement } from "../../src/io/measurement.js";
import { readBytes } from "../../src/io/read-bytes.js";
import type { ReadOptions } from "../../src/io/read-options.js";
import { readText } from "../../src/io/read-text.js";

/** Whole files in which something stands that is not what it seems: what must be read, and what must not. */

const ok = (text: string, name = "invented.csv", options?: ReadOptions): FileContent => {
  const outcome = readText(text, name, options);
  if (!outcome.ok) throw new Error(`${outcome.problem.code}: ${outcome.problem.message}`);
  return outcome.value;
};
const problem = (text: string, name = "invented.csv", options?: ReadOptions) => {
  const outcome = readText(text, name, options);
  if (outcome.ok) throw new Error("read");
  return outcome.problem;
};
const sweeps = (reading: FileContent) => reading.measurements as DynamicMeasurement[];
const rebounds = (reading: FileContent) =>
  (reading.measurements as ReboundMeasurement[]).map(({ sample, readings }) => [
    sample,
    ...readings.map(({ temperature_C, fractions }) => [
      Number.isNaN(temperature_C) ? null : temperature_C,
      ...fractions.map((value) => Number((100 * value).toPrecision(6))),
    ]),
  ]);

/** A sweep through the glass transition without a frequency: T; E'; E''. */
const rows = [-60, -50, -40, -30, -20, -10, 0, 10]
  .map((T, i) => `${T};${[1950, 1400, 310, 60, 18, 9, 7, 6][i]};${[60, 210, 190, 45, 9, 2, 1, 0.7][i]}`)
  .join("\n");
const sweep = (above: string, below = "") => `${above}\nT (°C);E' (MPa);E'' (MPa)\n${rows}\n${below}`;
/** Isotherm rows without a temperature. */
const isotherm = (above: string) =>
  `${above}\nf (Hz);E' (MPa);E'' (MPa)\n0.1;5;0.4\n1;6;0.6\n10;7;0.9\n100;9;1.6\n`;

describe("a frequency is read where its name says so", () => {
  it.each([
    "Frequency: 10 Hz\nSampling rate: 2000 Hz",
    "Furnace control loop 2 Hz\nFrequency: 10 Hz",
    "Pump 50 Hz, loop 2 Hz\nFrequency: 10 Hz",
    "Calibration frequency: 1 Hz\nFrequency: 10 Hz",
    "Frequenz;10 Hz\nAbtastfrequenz;1 kHz\nNetzfrequenz;50 Hz",
    "Fréquence d'acquisition : 500 Hz\nFréquence : 10 Hz\nFréquence propre : 41 Hz",
    "Frecuencia de muestreo: 200 Hz\nFrecuencia: 10 Hz",
    "Frequenza: 10 Hz\nFrequenza di campionamento: 200 Hz",
    "Frequência: 10 Hz\nFrequência de amostragem: 200 Hz",
    "频率：10 Hz\n采样频率：1000 Hz",
    "周波数：10 Hz\nサンプリング周波数：1000 Hz\n共振周波数：33 Hz",
    "Test frequency: 10 Hz\nBlower: 25 Hz\nStroboscope: 50 Hz\nLow-pass filter: 300 Hz",
    "Frequency: 10 Hz ± 0.1 Hz",
    "Clamp: film tension; Freq. 10 Hz; Amp 15 µm; heat 2 K/min",
    "f = 10 Hz",
  ])("%j gives 10 Hz", (above) => {
    expect([...new Set(sweeps(ok(sweep(above)))[0].frequency_Hz)]).toEqual([10]);
  });

  it.each([
    "Frequencies: 1, 10, 100 Hz",
    "Frequency: 1 - 100 Hz",
    "Frequency: max. 100 Hz",
    "Frequency: 0.1 to 10 Hz",
    "Instrument limit: 200 Hz",
    "Resonance: 41 Hz",
    "Specimen: cut at 50 Hz mains saw",
    "Encoder, 5000 Hz",
  ])("%j gives none, and says what was passed over", (above) => {
    const { code, message } = problem(sweep(above));
    expect(code).toBe("io.no-frequency");
    if (!above.startsWith("Specimen")) expect(message).toMatch(/Not taken for it: .*Hz/);
    const kept = ok(sweep(above), "invented.csv", { unstatedFrequency: true });
    expect(sweeps(kept)[0].frequency_Hz.every(Number.isNaN)).toBe(true);
    expect(kept.notices.map((notice) => notice.code)).toContain("io.frequency-unstated");
  });

  it("of a control loop or a pump in a title is none", () => {
    for (const title of ["Furnace control loop 2 Hz", "Vacuum pump 50 Hz"]) {
      const [read] = sweeps(ok(sweep(title), "invented.csv", { unstatedFrequency: true }));
      expect(Array.from(read.frequency_Hz, Number.isNaN).every(Boolean), title).toBe(true);
    }
  });

  it("two lettered samples before one table are an error with both lines, unless the study says which", () => {
    const both = sweep("Compound A: Birch 60\nCompound B: Alder 45\nFrequency: 10 Hz");
    const { code, message, line } = problem(both);
    expect(code).toBe("io.samples-differ");
    expect(line).toBe(2);
    expect(message).toMatch(/line 1 names "Birch 60", line 2 names "Alder 45"/);
    expect(sweeps(ok(both, "invented.csv", { sample: "Birch 60" }))[0].sample).toBe("Birch 60");
    const one = sweep("Compound A: Birch 60\nFrequency: 10 Hz");
    expect(sweeps(ok(one))[0].sample).toBe("Birch 60");
    // A table of its own under each is what the letters are for.
    const parts = `${one}\n\n${sweep("Compound B: Alder 45\nFrequency: 10 Hz")}`;
    expect(sweeps(ok(parts)).map(({ sample }) => sample)).toEqual(["Birch 60", "Alder 45"]);
  });

  it("two that are named and differ are an error with both lines", () => {
    const { code, message, line } = problem(sweep("Frequency: 10 Hz\nTest frequency: 1 Hz"));
    expect(code).toBe("io.statements-differ");
    expect(message).toContain("line 1 states 10 Hz");
    expect(line).toBe(2);
  });

  it.each([
    ["birch 10Hz.csv", "Sample: Birch"],
    ["invented.csv", "Method: DMA temperature ramp, 10 Hz, 3 K/min"],
    ["invented.csv", "Title: tension, 10 Hz"],
    ["invented.csv", "Birch N, tension, 10 Hz"],
  ])("%s with %j gives 10 Hz as an assumption that is said", (name, above) => {
    const reading = ok(sweep(above), name);
    expect([...new Set(sweeps(reading)[0].frequency_Hz)]).toEqual([10]);
    expect(reading.notices).toContainEqual(
      expect.objectContaining({ code: "io.frequency-assumed", severity: "caution" }),
    );
  });

  it("a line below the table is an assumption, and gives way to the study", () => {
    expect(sweeps(ok(sweep("Sample: A", "\nFrequency: 10 Hz")))[0].frequency_Hz[0]).toBe(10);
    expect(sweeps(ok(sweep("Sample: A"), "a 5Hz.csv", { frequency_Hz: 2 }))[0].frequency_Hz[0]).toBe(2);
    expect(sweeps(ok(sweep("Frequency: 10 Hz"), "a.csv", { frequency_Hz: 2 }))[0].frequency_Hz[0]).toBe(10);
  });
});

describe("a temperature is read where its name says so", () => {
  it.each([
    "Temperature: minus 20 °C",
    "Temperatur: -20 °C\nPresse: 160 °C",
    "Test temperature: -20 °C\nMixing: dump at 145 °C\nDrying: 60 °C\nVulcanisation: 12 min at 160 °C",
    "Température : moins 20 °C\nTempérature de réticulation : 165 °C",
    "Temperatura: −20 °C\nPunto di rammollimento: 95 °C",
    "试验温度：零下20℃\n硫化温度：160℃",
    "Temperature: -20 °C\nHeat history: 72 h at 70 °C\nCoolant: -150 °C\nTg (DSC): -52 °C",
  ])("%j gives −20 °C", (above) => {
    expect([...new Set(sweeps(ok(isotherm(above)))[0].temperature_C)]).toEqual([-20]);
  });

  it.each([
    "Press: 160 °C",
    "Aged 7 d at 100 °C",
    "Max. specimen temperature: 120 °C",
    "Softening point: 95 °C",
    "Temperature step: 5 °C",
    "Oven temperature: 70 °C",
  ])("%j gives none", (above) => {
    expect(problem(isotherm(above)).code).toBe("io.no-temperature");
  });
});

describe("a column about a column is not that column", () => {
  it.each([
    "Rebound SD (%)",
    "s Rebound (%)",
    "Rebound stdev (%)",
    "Rebound CV (%)",
    "Rebound n",
    "± Rebound (%)",
    "Rebound index (%)",
    "Rebound difference (%)",
    "Rebound repeatability (%)",
    "Aged rebound (%)",
    "Rebound after ageing 72 h 70 °C (%)",
    "Rückprall Standardabweichung (%)",
    "Streuung Rückprall (%)",
    "Écart-type rebond (%)",
    "Desviación rebote (%)",
    "Deviazione rimbalzo (%)",
    "Desvio ressalto (%)",
    "回弹率标准差 (%)",
    "反発弾性率 標準偏差 (%)",
    "Rebound spec min (%)",
    "Target rebound (%)",
    "Grenzwert Rückprall (%)",
    "Rebound range (%)",
    "Δ index rebound (%)",
  ])("%s beside a rebound", (header) => {
    const text = `Compound;T (°C);Rebound (%);${header}\nBirch 60;23;47.9;5.5\nRowan W;23;39.7;6.5\n`;
    expect(rebounds(ok(text))).toEqual([
      ["Birch 60", [23, 47.9]],
      ["Rowan W", [23, 39.7]],
    ]);
  });

  it.each([
    "E' SD (MPa)",
    "E' n",
    "SD of tan δ",
    "E' change (%)",
    "|E*|/sin δ (MPa)",
    "E'/E'0",
    "E'' error (MPa)",
    "Tg (°C)",
    "Ageing temperature (°C)",
    "f sampling (Hz)",
  ])("%s in a sweep", (header) => {
    const lines = rows.split("\n").map((row) => `${row};10;1.5`);
    const reading = ok(`T (°C);E' (MPa);E'' (MPa);f (Hz);${header}\n${lines.join("\n")}`);
    expect([...sweeps(reading)[0].storageModulus_Pa].slice(0, 2)).toEqual([1950e6, 1400e6]);
    expect(sweeps(reading)[0].temperature_C[0]).toBe(-60);
  });

  it.each([
    "Mean",
    "Average (n = 5)",
    "Mittelwert",
    "Std. Dev.",
    "s",
    "n",
    "Écart-type",
    "Media",
    "Desvio padrão",
    "平均",
    "標準偏差",
    "Min",
    "Spec max",
    "CV %",
    "Birch 60 mean",
    "Median",
  ])("a row named %s is no compound", (name) => {
    const text = `Compound;T (°C);Rebound (%)\nBirch 60;23;47.9\nBirch 60;0;28.6\n${name};23;38.2\nRowan W;23;39.7\n`;
    expect(rebounds(ok(text))).toEqual([
      ["Birch 60", [23, 47.9], [0, 28.6]],
      ["Rowan W", [23, 39.7]],
    ]);
  });

  it("compounds whose names only begin like a statistic stay", () => {
    const text =
      "Compound;T (°C);Rebound (%)\nMax 60;23;47.9\nSpecial N;23;39.7\nMeadow 5;23;30\nS 12;23;31\n";
    expect(rebounds(ok(text)).map(([sample]) => sample)).toEqual(["Max 60", "Special N", "Meadow 5", "S 12"]);
  });

  it("rows of statistics under a sweep, their word where a temperature should be, are no points", () => {
    const text = `T (°C);f (Hz);E' (MPa);tan δ\n-20;10;50;0.5\n-10;10;20;0.6\n0;10;8;0.3\n\nMean;10;26;0.46\nSD;0;21;0.15\nMin;10;8;0.3\n`;
    const reading = ok(text);
    expect([...sweeps(reading)[0].temperature_C]).toEqual([-20, -10, 0]);
    expect(reading.skipped.map(({ line }) => line)).toEqual([6, 7, 8]);
  });
});

describe("the right sample or none", () => {
  it("the name of a row that is left out holds for the rows below it", () => {
    const text =
      "Operator;Compound;T (°C);Rebound (%)\nAnn;Birch 60;-20;21\nAnn;;0;30\nAnn;Rowan W;-20;broken\nAnn;;0;33\nAnn;;23;55\n";
    expect(rebounds(ok(text))).toEqual([
      ["Birch 60", [-20, 21], [0, 30]],
      ["Rowan W", [0, 33], [23, 55]],
    ]);
  });

  it("a name alone in its column stands over the rows below it", () => {
    const text = "Compound;T (°C);Rebound (%)\nBirch 60;;\n;0;30\n;23;48\nRowan W;;\n;0;20\n;23;40\n";
    expect(rebounds(ok(text))).toEqual([
      ["Birch 60", [0, 30], [23, 48]],
      ["Rowan W", [0, 20], [23, 40]],
    ]);
  });

  it.each([
    ["Sample: Birch 60", "Name: Rowan W"],
    ["Compound: Birch 60", "Specimen: Rowan W"],
    ["Material: Birch 60", "Sample name: Rowan W"],
    ["Sample: Birch 60", "Compound Rowan W"],
    ["Mischung: Birch 60", "Rowan W"],
    ["# Birch 60", "# Rowan W"],
  ])("a block under %j and one under %j", (first, second) => {
    const table = `T (°C);f (Hz);E' (MPa);tan δ\n-20;10;50;0.5\n-10;10;20;0.6\n0;10;8;0.3\n`;
    const isBare = first.startsWith("#");
    const text = isBare
      ? `${table.replace("\n", `\n${first}\n`)}${second}\n${table.slice(table.indexOf("\n") + 1)}`
      : `${first}\n${table}\n${second}\n${table}`;
    expect(sweeps(ok(text)).map(({ sample }) => sample)).toEqual(["Birch 60", "Rowan W"]);
  });

  it("a remark among the rows names nothing", () => {
    const text =
      "Sample: Birch 60\nT (°C);f (Hz);E' (MPa);tan δ\n-20;10;50;0.5\n-10;10;20;0.6\nthe door was opened\n0;10;8;0.3\n10;10;6;0.2\n";
    expect(sweeps(ok(text)).map(({ sample, temperature_C }) => [sample, temperature_C.length])).toEqual([
      ["Birch 60", 4],
    ]);
  });
});

describe("scale and kind", () => {
  const tanRows = (factor: number) =>
    [-60, -50, -40, -30, -20]
      .map((T, i) => `${T};10;${[1950, 1400, 310, 60, 18][i]};${[0.03, 0.15, 0.61, 0.75, 0.5][i] * factor}`)
      .join("\n");
  it.each([
    ["tan δ ×10³", 1000],
    ["1000 tan δ", 1000],
    ["100 tan δ", 100],
    ["tan δ (x100)", 100],
    ["tan δ [10^-3]", 1000],
    ["tan δ (%)", 100],
    ["tan delta *100", 100],
  ])("%s", (header, factor) => {
    const reading = ok(`T (°C);f (Hz);E' (MPa);${header}\n${tanRows(factor)}`);
    expect(sweeps(reading)[0].lossModulus_Pa[1] / sweeps(reading)[0].storageModulus_Pa[1]).toBeCloseTo(
      0.15,
      9,
    );
  });

  it("swapped moduli are found by what tan δ can be", () => {
    const swapped = problem(`T (°C);f (Hz);E'' (MPa);E' (MPa)\n${rows.replace(/^([^;]*);/gm, "$1;10;")}`);
    expect(swapped.code).toBe("io.tan-delta-impossible");
    expect(swapped.message).toContain("swapped");
  });

  // A narrow transition made outside this program (a lognormal spectrum, 1 % noise): tan δ 1.68 and 1.55 above 0.3 GPa.
  const narrow = `-35.6;0.1;1.80;1.83
-35.6;1;4.26;14.2
-35.6;10;35.4;87.9
-35.6;63.1;193;324
-35.6;100;299;421
-40.4;0.1;2.71;7.52
-40.4;1;19.5;52.5
-40.4;10;158;280
-40.4;15.8;239;371
-40.4;63.1;734;622
-40.4;100;952;659`;
  const glassRows = "0.1;2010;31\n1;2040;25\n10;2070;21\n100;2100;18";

  it("a narrow transition that ends in the glass is none with swapped moduli; swapped it is", () => {
    const preamble = "Temperature: -60 °C";
    const reading = ok(`T (°C);f (Hz);E' (MPa);E'' (MPa)\n${narrow}`);
    expect([...sweeps(reading)[0].lossModulus_Pa]).toContain(371e6);
    expect(problem(`${preamble}\nf (Hz);E'' (MPa);E' (MPa)\n${glassRows}`).code).toBe(
      "io.tan-delta-impossible",
    );
  });

  it.each([
    "Strain (p-p) (%)",
    "Peak-to-peak strain (%)",
    "Dehnung Spitze-Spitze (%)",
    "Double strain amplitude (%)",
    "Déformation crête à crête (%)",
  ])("%s is halved", (header) => {
    const reading = ok(
      `Temperature: 60 °C\nFrequency: 10 Hz\n${header};G' (MPa);G'' (MPa)\n0.1;5.8;0.7\n1;5.2;0.8\n10;4;0.9\n50;2;0.7\n`,
    );
    expect(
      [...(sweeps(reading)[0].strainAmplitude ?? [])].map((value) => Number(value.toPrecision(9))),
    ).toEqual([0.0005, 0.005, 0.05, 0.25]);
  });

  it("a sweep of displacement is called one", () => {
    const reading = ok(
      "Temperature: 60 °C\nFrequency: 10 Hz\nDisplacement (µm);E' (MPa);E'' (MPa)\n1;5.8;0.7\n5;5.2;0.8\n20;4;0.9\n100;2;0.7\n",
    );
    expect(sweeps(reading)[0]).toMatchObject({ kind: "strain sweep", strainAmplitude: null });
    expect(reading.notices.map(({ code }) => code)).toContain("io.displacement-sweep");
  });

  it("a compliance is turned into the modulus, and an override does not make it one", () => {
    const text = "T (°C);f (Hz);J' (1/MPa);J'' (1/MPa)\n-20;10;0.08;0.06\n0;10;0.3;0.04\n";
    const [one] = sweeps(ok(text));
    // 1/(0.08 − 0.06 i) = (0.08 + 0.06 i)/0.01
    expect([...one.storageModulus_Pa].map((value) => Math.round(value))[0]).toBe(8e6);
    expect(Math.round(one.lossModulus_Pa[0])).toBe(6e6);
    expect(problem(text, "a.csv", { columns: { "J' (1/MPa)": "storage modulus in MPa" } }).code).toBe(
      "io.bad-override",
    );
  });
});

describe("what a person can read is read", () => {
  it.each([
    [
      "Mischung;Rückprall (%)\nKiefer A;47,1\nKiefer B;51,0\n",
      [
        ["Kiefer A", [null, 47.1]],
        ["Kiefer B", [null, 51]],
      ],
    ],
    [
      "Compound,Method,Rebound (%)\nPine A,ISO 4662,47.1\nPine B,ISO 4662,51.0\n",
      [
        ["Pine A", [null, 47.1]],
        ["Pine B", [null, 51]],
      ],
    ],
    [
      "Rebound resilience ISO 4662 (%)\n\nTemperature (°C);Pine A;Pine B\n0;20;28\n23;28;36\n",
      [
        ["Pine A", [0, 20], [23, 28]],
        ["Pine B", [0, 28], [23, 36]],
      ],
    ],
    [
      "Rebound (%)\nCompound;T/°C;1;2;3;Median\nPine A;23;28;28.2;28.4;28.2\n",
      [["Pine A", [23, 28, 28.2, 28.4]]],
    ],
    [
      "Compound;T (°C);Rebound (%)\nPine A;23;28.0 ± 0.4\nPine B;23;36.0 +/- 0.4\n",
      [
        ["Pine A", [23, 28]],
        ["Pine B", [23, 36]],
      ],
    ],
    [
      "Property;Unit;Pine A;Pine B\nRebound 23 °C;%;28;36\nRebound 60 °C;%;41;49\n",
      [
        ["Pine A", [23, 28], [60, 41]],
        ["Pine B", [23, 36], [60, 49]],
      ],
    ],
  ])("%j", (text, expected) => {
    expect(rebounds(ok(text))).toEqual(expected);
  });

  it.each([
    "Sample;Birch\n\n;E' [MPa];;E'' [MPa];\nT [°C];1 Hz;10 Hz;1 Hz;10 Hz\n-40;6.4;8;0.9;1.9\n-30;5.3;5.5;0.3;0.4\n-20;5.1;5.2;0.2;0.3\n",
    "E' (MPa)\nT (°C);1 Hz;10 Hz\n-40;6.4;8\n-30;5.3;5.5\n-20;5.1;5.2\n\nE'' (MPa)\nT (°C);1 Hz;10 Hz\n-40;0.9;1.9\n-30;0.3;0.4\n-20;0.2;0.3\n",
    "Storage modulus (MPa)\nT (°C) \\ f (Hz);1;10\n-40;6.4;8\n-30;5.3;5.5\n-20;5.1;5.2\n\nLoss modulus (MPa)\nT (°C) \\ f (Hz);1;10\n-40;0.9;1.9\n-30;0.3;0.4\n-20;0.2;0.3\n",
    "Temperature (°C);-40;-30;-20;-40;-30;-20\nFrequency (Hz);1;1;1;10;10;10\nE' (MPa);6.4;5.3;5.1;8;5.5;5.2\nE'' (MPa);0.9;0.3;0.2;1.9;0.4;0.3\n",
    "TemperatureC;FrequencyHz;StorageModulusMPa;LossModulusMPa\n-40;1;6.4;0.9\n-30;1;5.3;0.3\n-20;1;5.1;0.2\n-40;10;8;1.9\n-30;10;5.5;0.4\n-20;10;5.2;0.3\n",
    "Teplota (°C);Frekvence (Hz);E' (MPa);E'' (MPa)\n-40;1;6.4;0.9\n-30;1;5.3;0.3\n-20;1;5.1;0.2\n-40;10;8;1.9\n-30;10;5.5;0.4\n-20;10;5.2;0.3\n",
    "Lämpötila (°C);Taajuus (Hz);E' (MPa);E'' (MPa)\n-40;1;6.4;0.9\n-30;1;5.3;0.3\n-20;1;5.1;0.2\n-40;10;8;1.9\n-30;10;5.5;0.4\n-20;10;5.2;0.3\n",
    "T meas. (°C);Actual f (Hz);Stor. Mod. (MPa);Loss Mod. (MPa)\n-40;1;6.4;0.9\n-30;1;5.3;0.3\n-20;1;5.1;0.2\n-40;10;8;1.9\n-30;10;5.5;0.4\n-20;10;5.2;0.3\n",
    "T(C)  F(HZ)  E'(PA)      E''(PA)\n-40   1   6.4D+06  0.9D+06\n-30   1   5.3D+06  0.3D+06\n-20   1   5.1D+06  0.2D+06\n-40   10  8.0D+06  1.9D+06\n-30   10  5.5D+06  0.4D+06\n-20   10  5.2D+06  0.3D+06\n",
    "T (°C);f (Hz);E' (Pa);E'' (Pa)\n-40;1;6.4×10^6;9·10^5\n-30;1;5.3×10^6;3·10^5\n-20;1;5.1×10⁶;2·10^5\n-40;10;8×10^6;1.9·10^6\n-30;10;5.5×10^6;4·10^5\n-20;10;5.2×10^6;3·10^5\n",
  ])("%j", (text) => {
    const points = sweeps(ok(text)).flatMap((one) =>
      Array.from(one.temperature_C, (T, i) => [
        T,
        one.frequency_Hz[i],
        Number((one.storageModulus_Pa[i] / 1e6).toPrecision(9)),
        Number((one.lossModulus_Pa[i] / 1e6).toPrecision(9)),
      ]),
    );
    points.sort((a, b) => a[1] - b[1] || a[0] - b[0]);
    expect(points).toEqual([
      [-40, 1, 6.4, 0.9],
      [-30, 1, 5.3, 0.3],
      [-20, 1, 5.1, 0.2],
      [-40, 10, 8, 1.9],
      [-30, 10, 5.5, 0.4],
      [-20, 10, 5.2, 0.3],
    ]);
  });

  it("repeats side by side are runs of one sample", () => {
    const text =
      "Condition;;Rep 1;;Rep 2;\nT (°C);f (Hz);E' (MPa);E'' (MPa);E' (MPa);E'' (MPa)\n-20;10;50;20;51;21\n0;10;8;2;9;2.1\n";
    expect(
      sweeps(ok(text)).map(({ sample, storageModulus_Pa, provenance }) => [
        sample,
        storageModulus_Pa[0],
        provenance.section,
      ]),
    ).toEqual([
      [null, 50e6, "Rep 1"],
      [null, 51e6, "Rep 2"],
    ]);
  });

  it.each([
    ["windows-1250", [0x50, 0x72, 0xf3, 0x62, 0x6b, 0x61], "Próbka"],
    ["windows-1251", [0xce, 0xe1, 0xf0, 0xe0, 0xe7, 0xe5, 0xf6], "Образец"],
  ])("%s", async (_, name, sample) => {
    const ascii = (text: string) => [...new TextEncoder().encode(text)];
    const bytes = [
      ...name,
      ...ascii(";"),
      ...name,
      ...ascii(" 5\nT ("),
      0xb0,
      ...ascii("C);f (Hz);E' (MPa);E'' (MPa)\n-20;10;50;20\n0;10;8;2\n"),
    ];
    const outcome = await readBytes(Uint8Array.from(bytes), "invented.csv");
    expect(outcome.ok && outcome.value.measurements[0].sample).toBe(`${sample} 5`);
  });

  it.each([
    ["<table><tr><td>T</td></tr></table>", "HTML"],
    ['<?xml version="1.0"?><data/>', "XML"],
    ['{"T": [1, 2]}', "JSON"],
    ['[{"T": 1}]', "JSON"],
  ])("%j is called what it is, whatever its name", (text, what) => {
    expect(problem(text, "data.xls")).toMatchObject({
      code: "io.document",
      message: expect.stringContaining(what),
    });
  });
});

describe("a header that stands again, as on a new page", () => {
  const head = "Temperatur;Speichermodul E';Verlustmodul E''\n";
  const page = (temperatures: number[]) =>
    temperatures.map((T) => `${T};${8 - T / 10};${1 - T / 100}`).join("\n");

  it("keeps the units that a row of their own gave the first", () => {
    const [sweep, ...others] = sweeps(
      ok(`Prüffrequenz: 10 Hz\n${head}°C;MPa;MPa\n${page([10, 20, 30])}\n${head}${page([40, 50, 60])}\n`),
    );
    expect(others).toEqual([]);
    expect([...sweep.temperature_C]).toEqual([10, 20, 30, 40, 50, 60]);
    expect(sweep.storageModulus_Pa[5]).toBeCloseTo(2e6, 3);
  });

  it("with a row of units of its own, or another name, stands for itself", () => {
    const kilo = ok(
      `Prüffrequenz: 10 Hz\n${head}°C;MPa;MPa\n${page([10, 20, 30])}\n${head}°C;kPa;kPa\n40;4000;600\n50;3000;500\n`,
    );
    expect(
      sweeps(kilo)
        .flatMap(({ storageModulus_Pa }) => [...storageModulus_Pa])
        .at(-1),
    ).toBeCloseTo(3e6, 3);
    const other = readText(
      `Prüffrequenz: 10 Hz\n${head}°C;MPa;MPa\n${page([10, 20, 30])}\n${head.replace("E'", "E' neu")}${page([40, 50, 60])}\n`,
      "invented.csv",
    );
    expect(other.ok ? null : other.problem.code).toBe("io.unit-missing");
  });
});

describe("rows that have a cell more than their header", () => {
  it("are not taken for rows with names where a decimal comma parted a number", () => {
    const { code } = problem("T (°C),E' (MPa),tan δ\n1,100,20,0\n2,90,18,0\n3,80,15,0\n", "a.csv");
    expect(code).toBe("io.no-rows");
  });
});

describe("what a message says to paste works when pasted", () => {
  const pasted = (text: string, name: string): ReadOptions => {
    const { message } = problem(text, name);
    const [example] = /(?:columns|files): \{.*\}/.exec(message) ?? [];
    if (example === undefined) throw new Error(`no example in: ${message}`);
    const { columns, files } = parse(example);
    return { ...(columns && { columns: columns[name] }), ...files?.[name] };
  };

  it.each([
    ["a frequency", sweep("Sample: A")],
    ["a temperature", isotherm("Sample: A")],
    ["a modulus without a unit", sweep("Frequency: 10 Hz").replace("E' (MPa)", "E'")],
    ["an unknown unit", sweep("Frequency: 10 Hz").replace("E' (MPa)", "E' (furlong)")],
    [
      "two columns of one quantity",
      `Frequency: 10 Hz\nT (°C);E' raw (MPa);E' corrected (MPa);E'' (MPa)\n${rows.replace(/^([^;]*);([^;]*)/gm, "$1;$2;$2")}`,
    ],
    [
      "two decimal marks",
      "T (°C);f (Hz);E' (MPa);tan δ\n-20.5;10;50.5;0.5\n-10.5;10;20.5;0.6\n0.5;10;8,5;0.3\n10.5;10;7.5;0.3\n",
    ],
  ])("%s", (what, text) => {
    const options = pasted(text, "birch 7.csv");
    const outcome = readText(text, "birch 7.csv", options);
    // The mark that a study states makes the other numbers the contradiction, and the message names one of them.
    if (what === "two decimal marks")
      expect(outcome.ok ? "" : outcome.problem.code).toBe("io.decimal-marks-differ");
    else expect(outcome.ok ? "read" : outcome.problem.message).toBe("read");
  });

  it.each([
    ["io.rows-pooled", "No.;Hardness (Shore A);Density (g/cm³)\n101;62;1.12\n102;66;1.16\n", ["101", "102"]],
    [
      "io.sample-column-assumed",
      "Quux;Hardness (Shore A);Density (g/cm³)\nday;62;1.12\nnight;66;1.16\n",
      [null],
    ],
  ])("a notice of %s", (code, text, samples) => {
    const name = "birch 7.csv";
    const { message } = ok(text, name).notices.find((one) => one.code === code)!;
    const [example] = /columns: \{.*\}/.exec(message)!;
    const { columns } = parse(example);
    const { properties } = ok(text, name, { columns: columns[name] });
    expect([...new Set(properties.map(({ sample }) => sample))]).toEqual(samples);
  });

  it("rows and columns can be ignored, and a run be stated", () => {
    const text = "ch1;ch2;ch3;ch4;ch5\n-20;50;20;51;21\n-10;1;1;1;1\n0;8;2;9;2.1\n";
    const columns = {
      ch1: "temperature in °C",
      ch2: "storage modulus in MPa, run 1",
      "3": "loss modulus in MPa, run 1",
      "4": "storage modulus in MPa, run 2",
      ch5: "loss modulus in MPa, run 2",
    };
    const reading = ok(text, "a.csv", {
      columns,
      frequency_Hz: 10,
      ignoreRows: [[3, 3]],
      sample: "Birch 60",
      deformation: "tension",
    });
    expect(
      sweeps(reading).map(({ sample, deformation, storageModulus_Pa }) => [
        sample,
        deformation,
        ...storageModulus_Pa,
      ]),
    ).toEqual([
      ["Birch 60", "tension", 50e6, 8e6],
      ["Birch 60", "tension", 51e6, 9e6],
    ]);
  });
});

describe("a row over the header that states an axis", () => {
  const body = "-30;1000;100;1100;90\n-20;500;100;600;100\n-10;100;50;120;40\n0;10;5;12;4\n";
  const header = "T (°C);E' (MPa);E'' (MPa);E' (MPa);E'' (MPa)";
  it.each(["f / Hz;0,1;0,1;1;1", "Frequency (Hz);0.1;;1;"])("%j gives each column its frequency", (row) => {
    const [one] = sweeps(ok(`Sample;A\n\n${row}\n${header}\n${body}`));
    expect([...one.frequency_Hz].slice(0, 2)).toEqual([0.1, 1]);
    expect([...one.storageModulus_Pa].slice(0, 4)).toEqual([1000e6, 1100e6, 500e6, 600e6]);
    expect([...one.lossModulus_Pa].slice(0, 4)).toEqual([100e6, 90e6, 100e6, 100e6]);
  });

  it("gives each column its temperature", () => {
    const text = `T (°C);-30;-30;-20;-20\nf (Hz);E' (MPa);E'' (MPa);E' (MPa);E'' (MPa)\n0.1;500;100;600;100\n1;1000;100;1100;90\n10;1500;90;1600;80\n`;
    const [one] = sweeps(ok(text));
    expect([...one.temperature_C].slice(0, 2)).toEqual([-30, -20]);
    expect([...one.frequency_Hz].slice(0, 4)).toEqual([0.1, 0.1, 1, 1]);
  });

  it("is asked about where a comma leaves it open", () => {
    const outcome = readText(`f (Hz);1,000;1,000;10,000;10,000\n${header}\n${body}`, "invented.csv");
    expect(outcome.ok ? "read" : outcome.problem.code).toBe("io.no-frequency");
  });
});

describe("the order of rows", () => {
  const table = (temperatures: number[]) =>
    `Frequency;1 Hz\nT (°C);E' (MPa);tan δ\n${temperatures.map((T) => `${T};${1000 - 5 * T};0.1`).join("\n")}\n`;

  it("by another column: one sweep, which is said", () => {
    // 7 has no factor in common with 31, so this passes through all temperatures, out of order.
    const unordered = Array.from({ length: 31 }, (_, i) => -60 + 4 * ((7 * i) % 31));
    const reading = ok(table(unordered));
    expect(sweeps(reading).map(({ temperature_C, direction }) => [[...temperature_C], direction])).toEqual([
      [unordered, null],
    ]);
    expect(reading.notices.find(({ code }) => code === "io.rows-unordered")?.message).toMatch(
      /^Lines 3 to 33 /,
    );
  });

  it("heating and cooling runs stay apart", () => {
    const up = Array.from({ length: 12 }, (_, i) => -60 + 10 * i);
    const reading = ok(table([...up, ...up.toReversed(), ...up]));
    expect(sweeps(reading).map(({ direction }) => direction)).toEqual(["heating", "cooling", "heating"]);
    expect(reading.notices.map(({ code }) => code)).not.toContain("io.rows-unordered");
  });
});

describe("a rebound table under a title", () => {
  it.each([
    "Rebound resilience\nCompound,Method,Temperature (°C),Reading 1 (%),Reading 2 (%)\nA,ISO 4662,23,52.1,52.4\nB,ISO 4662,-20,20,21\n",
    "Rebound resilience (%)\nCompound,Temperature (°C),R1,R2\nA,23,52.1,52.4\nB,-20,20,21\n",
    "Rückprallelastizität nach ISO 4662\nMischung;Prüftemperatur;R1;R2;Median\nA;23 °C;52,1 %;52,4 %;52,2 %\nB;-20 °C;20 %;21 %;20,5 %\n",
  ])("has its readings numbered beside the samples: %j", (text) => {
    expect(rebounds(ok(text))).toEqual([
      ["A", [23, 52.1, 52.4]],
      ["B", [-20, 20, 21]],
    ]);
  });

  it("may leave its corner blank over temperatures with their unit", () => {
    const text = "Rebound resilience (%)\n;Birch 60;Rowan W\n-20 °C;12;22\n0 °C;25;35\n";
    expect(rebounds(ok(text))).toEqual([
      ["Birch 60", [-20, 12], [0, 25]],
      ["Rowan W", [-20, 22], [0, 35]],
    ]);
    // Bare numbers may be anything.
    expect(problem(text.replaceAll(" °C", "")).code).toBe("io.no-known-column");
  });

  it("may name its standard behind a comma", () => {
    const text = "Rebound resilience (%), ISO 4662\nTemperature,RP 1,RP 2\n-20 °C,12,22\n0 °C,25,35\n";
    expect(rebounds(ok(text))).toEqual([
      ["RP 1", [-20, 12], [0, 25]],
      ["RP 2", [-20, 22], [0, 35]],
    ]);
    expect((ok(text).measurements as ReboundMeasurement[]).map(({ method }) => method)).toEqual([
      "ISO 4662",
      "ISO 4662",
    ]);
  });
});

describe("units in the cells", () => {
  it.each([
    "Compound,Temperature,Rebound\nA,23 °C,45.2 %\nB,0 °C,31 %\n",
    "Mischung;Prüftemperatur;Rückprall\nA;23 °C;45,2 %\nB;0 °C;31 %\n",
  ])("the first row is a row, and the comma a decimal one: %j", (text) => {
    expect(rebounds(ok(text))).toEqual([
      ["A", [23, 45.2]],
      ["B", [0, 31]],
    ]);
  });
});

it("a decimal comma is seen before a scatter", () => {
  const { properties, notices } = ok(
    "Mischung;Härte (Shore A);Zugfestigkeit (MPa)\nA;62 ± 1;18,2 ± 0,4\nB;58 ± 1;21,0 ± 0,6\n",
  );
  expect(properties.map(({ property, values }) => [property, ...values])).toEqual([
    ["hardness", 62],
    ["hardness", 58],
    ["tensile strength", 18.2],
    ["tensile strength", 21],
  ]);
  expect(notices).toEqual([]);
});

describe("a deformation is read where its name says so", () => {
  const moduli = (above: string) => sweep(`${above}\nFrequency;1 Hz`).replaceAll(/E('+)/g, "M$1");
  const mode = (above: string) => sweeps(ok(moduli(above)))[0].deformation;

  // The words of the trade in each language (common practice).
  it.each([
    ["Deformation;tensile", "tension"],
    ["Deformation: tensile", "tension"],
    ["Deformation mode: tensile", "tension"],
    ["Load;tension", "tension"],
    ["Způsob zatěžování: tah", "tension"],
    ["Způsob namáhání;smyk", "shear"],
    ["Belastning: træk", "tension"],
    ["Belastningsmåte;strekk", "tension"],
    ["Belastningssätt: drag", "tension"],
    ["Belastingswijze;trek", "tension"],
    ["Kuormitustapa;veto", "tension"],
  ])("%j gives %s", (above, expected) => {
    expect(mode(above)).toBe(expected);
  });

  it.each(["Load;5 N", "Remark: drag marks on the film holder", "Sample;Trek 7", "Sample;Veto"])(
    "%j states none",
    (above) => {
      expect(mode(above)).toBe("unstated");
    },
  );
});

describe("a unit that cannot be right is said", () => {
  const codes = ({ notices }: FileContent) => notices.map(({ code }) => code);
  const pasted = (reading: FileContent, code: string, name: string) => {
    const { message } = reading.notices.find((one) => one.code === code)!;
    return parse(/columns: \{.*\}/.exec(message)![0]).columns[name];
  };

  it("kelvin under °C: a glass at 200 °C", () => {
    const name = "alder 3.csv";
    const rows = [193, 203, 213, 223, 233, 243, 253];
    const moduli = [2000, 1900, 1500, 500, 40, 8, 5];
    const text = `Frequency;1 Hz\nT (°C);E' (MPa);tan δ\n${rows.map((T, i) => `${T};${moduli[i]};0.2`).join("\n")}\n`;
    const reading = ok(text, name);
    expect(codes(reading)).toContain("io.glass-when-hot");
    const again = ok(text, name, { columns: pasted(reading, "io.glass-when-hot", name) });
    expect(sweeps(again)[0].temperature_C[0]).toBeCloseTo(193 - 273.15, 9);
    expect(codes(again)).not.toContain("io.glass-when-hot");
    expect(codes(ok(text.replaceAll(/^(\d+);/gm, (_, T) => `${Number(T) - 273};`)))).not.toContain(
      "io.glass-when-hot",
    );
  });

  it("fractions under %", () => {
    const name = "alder 3.csv";
    const text = "Compound;T (°C);Rebound (%)\nA;23;0.52\nB;23;0.61\n";
    const reading = ok(text, name);
    const again = ok(text, name, { columns: pasted(reading, "io.rebound-below-one-percent", name) });
    expect(rebounds(again)).toEqual([
      ["A", [23, 52]],
      ["B", [23, 61]],
    ]);
    // The transition's own minimum beside other temperatures is no reason to doubt the unit.
    expect(codes(ok("Compound;T (°C);Rebound (%)\nA;23;52\nA;-20;0.9\n"))).not.toContain(
      "io.rebound-below-one-percent",
    );
  });
});

describe("lines above a table that are parted as it is not", () => {
  it("state what they state", () => {
    const [one] = sweeps(ok(sweep("Sample,Birch 60\nFrequency (Hz),10\nMode,tension")));
    expect([one.sample, one.frequency_Hz[0], one.deformation]).toEqual(["Birch 60", 10, "tension"]);
  });

  it("and a title with a comma is a title", () => {
    const [one] = sweeps(ok(sweep("Winter series, second mix\nFrequency: 10 Hz")));
    expect(one.sample).toBeNull();
  });
});

describe("what is said of a file that cannot be read", () => {
  it("a frequency of zero is not taken, and that is said", () => {
    const { code, message } = problem(sweep("Frequency (Hz);0"));
    expect(code).toBe("io.no-frequency");
    expect(message).toContain('Not taken for it: "0 Hz" in line 1 (zero or below)');
  });

  it("proposes a column that the file has, and one that is not understood yet", () => {
    const { message } = problem("freq [Hz],X1 [MPa],X2 [MPa],T [degC]\n1,1000,100,-30\n1,900,110,-20\n");
    expect(message).toContain('{ "X1 [MPa]": "storage modulus in MPa" }');
  });

  it("proposes no column where all are understood", () => {
    const { code, message } = problem("Frequency;1 Hz\nT (°C);tan δ\n-30;0.1\n-20;0.5\n-10;0.3\n");
    expect(code).toBe("io.missing-modulus");
    expect(message).not.toContain("study.yaml");
  });

  it("does not deny a column that it knows", () => {
    const { message } = problem(
      "sample,temperature_C,frequency_Hz,quantity,value,unit\nA,-20,1,storage modulus,100,MPa\nA,-20,1,loss modulus,10,MPa\n",
    );
    expect(message).toContain('understood: "sample", "temperature_C", "frequency_Hz"');
  });

  it("names an encoding that is in doubt, for a header may be misread by it", async () => {
    // "Θερμοκρασία" in ISO 8859-7.
    const bytes = [0xc8, 0xe5, 0xf1, 0xec, 0xef, 0xea, 0xf1, 0xe1, 0xf3, 0xdf, 0xe1];
    const outcome = await readBytes(
      new Uint8Array([
        ...bytes,
        ...new TextEncoder().encode(";X (MPa);Y (MPa)\n-30;1000;100\n-20;900;110\n"),
      ]),
      "invented.csv",
    );
    expect(outcome.ok ? "read" : outcome.problem.message).toMatch(/read as Windows-125\d.*export as UTF-8/);
  });
});

describe("open data as a laboratory left them", () => {
  it("a column |G*|/sin δ is not |G*|", () => {
    const text =
      "Temperature (°C),Angular Frequency (rad/s),|G*| (Pa),Phase Angle (°),|G*|/sinδ (Pa)\n10,0.1,5410000,45.9,7540000\n10,0.126,6170000,45.1,8710000\n";
    const [one] = sweeps(ok(text));
    expect(one.storageModulus_Pa[0] / 5410000).toBeCloseTo(Math.cos((45.9 * Math.PI) / 180), 9);
  });
});
