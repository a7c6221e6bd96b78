import { describe, expect, it } from "vitest";
import { commaFormat, pointFormat } from "../../src/io/table/lines/number-format.js";
import { readStatements } from "../../src/io/table/read-statements.js";

describe("lines outside a table", () => {
  it.each<[string[], object[]]>([
    [["Frequency", "10", "Hz"], [{ about: "frequency", value: 10 }]],
    [["Frequency: 10 Hz"], [{ about: "frequency", value: 10 }]],
    [["Frequency (Hz)", "10"], [{ about: "frequency", value: 10 }]],
    [["--- f = 1.0 Hz ---"], [{ about: "frequency", value: 1 }]],
    [["Angular frequency: 62.8 rad/s"], [{ about: "frequency", value: 62.8 / (2 * Math.PI) }]],
    [["Isotherm at -20 °C"], [{ about: "temperature", value: -20, how: "alone" }]],
    [["10 Hz"], [{ about: "frequency", value: 10, how: "alone" }]],
    [["Temperature", "minus 20 °C"], [{ about: "temperature", value: -20 }]],
    [["T = -50"], [{ about: "temperature", value: -50, isUnitAssumed: true }]],
    [["Heating rate", "2", "K/min"], [{ about: "heating rate", value: 2 }]],
    [["昇温速度", "3 ℃/min"], [{ about: "heating rate", value: 3 }]],
    [["变形模式：拉伸"], [{ about: "deformation", mode: "tension", rank: 1 }]],
    [["Geometry", "3-point bending"], [{ about: "deformation", mode: "bending", rank: 1 }]],
    [["Prüfart", "Scherung (Doppelscherprobe)"], [{ about: "deformation", mode: "shear", rank: 1 }]],
    [["Mode de sollicitation", "traction"], [{ about: "deformation", mode: "tension", rank: 1 }]],
    [["Modo de deformación: compresión"], [{ about: "deformation", mode: "compression", rank: 1 }]],
    [["Deformation: træk"], [{ about: "deformation", mode: "tension", rank: 1 }]],
    [["Deformacja", "rozciąganie"], [{ about: "deformation", mode: "tension", rank: 1 }]],
    [["Prøve", "Birk 60"], [{ about: "sample", text: "Birk 60", rank: 1 }]],
    [
      ["Vertical rebound ASTM D2632", "drop height 400 mm"],
      [
        { about: "method", text: "Vertical rebound ASTM D2632", rank: 3 },
        { about: "drop height", value: 0.4 },
      ],
    ],
    [["Strain amplitude (%): 0.1"], [{ about: "strain", value: 0.001 }]],
    [["试样名称：桦木 60"], [{ about: "sample", text: "桦木 60", rank: 1 }]],
    [["# sample = Alder N"], [{ about: "sample", text: "Alder N", rank: 1 }]],
    [["Specimen", "length 20.0 mm, width 5 mm"], []],
    [["Drop height;40 cm".split(";")[0], "40 cm"], [{ about: "drop height", value: 0.4 }]],
    [["Operator: Ann, 10 Hz, -20 °C"], [{ about: "remark" }]],

    [["Frequency sweep from 0.1 to 100 Hz"], []],
    [["Start temperature", "-100 °C"], [{ about: "remark" }]],
    [["Wheels", "2"], []],
  ])("%j", (cells, expected) => {
    expect(readStatements(cells, pointFormat)).toEqual(expected);
  });

  it.each([
    [["Conditioned for 24 h at 23 °C, 50 % humidity"], "23 °C", "storage, not the test's"],
    [["Frequencies: 1, 10, 100 Hz"], "1, 10, 100 Hz", "a range, a list or a limit, not one value"],
    [
      ["Temperature range: -100 °C to 80 °C"],
      "-100 °C to 80 °C",
      "a range, a list or a limit, not one value",
    ],
    [["Frequency", "max. 100 Hz"], "max. 100 Hz", "a range, a list or a limit, not one value"],
    [["Frequency", "up to 100 Hz"], "up to 100 Hz", "a range, a list or a limit, not one value"],
    [["Frequency", "1/10/100 Hz"], "1/10/100 Hz", "a range, a list or a limit, not one value"],
    [["Sampling frequency", "2000 Hz"], "2000 Hz", "sampling, not the test's"],
    [["Abtastrate: 2 kHz"], "2 kHz", "sampling, not the test's"],
    [["Fréquence d'acquisition", "500 Hz"], "500 Hz", "sampling, not the test's"],
    [["Frecuencia de muestreo: 500 Hz"], "500 Hz", "sampling, not the test's"],
    [["Filtre passe-bas", "300 Hz"], "300 Hz", "a filter, not the test's"],
    [["Mains frequency: 50 Hz"], "50 Hz", "the mains, not the test's"],
    [["Eigenfrequenz: 41 Hz"], "41 Hz", "a resonance, not the test's"],
    [["Kalibrierfrequenz", "1 Hz"], "1 Hz", "a calibration, not the test's"],
    [["Stroboscope", "25 Hz"], "25 Hz", "sampling, not the test's"],
    [["Blower", "25 Hz"], "25 Hz", 'the name "Blower" does not say that it is the test\'s'],
    [["Vulkanisation: 12 min bei 160 °C"], "12 min bei 160 °C", "curing, not the test's"],
    [["Press platen temperature", "160 °C"], "160 °C", "moulding, not the test's"],
    [["Température de réticulation : 165 °C"], "165 °C", "curing, not the test's"],
    [["Alterung", "72 h bei 100 °C"], "72 h bei 100 °C", "ageing, not the test's"],
    [["Punto di rammollimento", "95 °C"], "95 °C", "softening, not the test's"],
    [["Glasübergang (DSC)", "-52 °C"], "-52 °C", "the glass transition, not the test's"],
    [["硫化温度：160 ℃"], "160 ℃", "curing, not the test's"],
  ])("passes over %j and says why", (cells, text, why) => {
    expect(readStatements(cells, pointFormat)).toEqual([{ about: "passed over", text, why }]);
  });

  it("a frequency beside a stranger in a title is only mentioned, and the stranger is its name", () => {
    expect(readStatements(["Birch N, tension, 10 Hz"], pointFormat)).toEqual([
      { about: "frequency", value: 10, how: "mentioned" },
      { about: "deformation", mode: "tension", rank: 4 },
      { about: "sample", text: "Birch N", rank: 4 },
    ]);
    expect(readStatements(["Method: temperature sweep, 10 Hz, 3 K/min"], pointFormat)).toEqual([
      { about: "method", text: "temperature sweep, 10 Hz, 3 K/min", rank: 1 },
      { about: "frequency", value: 10, how: "described" },
      { about: "heating rate", value: 3 },
    ]);
  });

  it("takes a step's title for a section and reads what it states", () => {
    expect(readStatements(["Step 3: T = -20 °C"], pointFormat)).toEqual([
      { about: "section", text: "Step 3: T = -20 °C" },
      { about: "temperature", value: -20 },
    ]);
  });

  it("reads values with the file's decimal mark", () => {
    expect(readStatements(["Frequenz", "0,5 Hz"], commaFormat)).toEqual([{ about: "frequency", value: 0.5 }]);
    expect(readStatements(["Dehnungsamplitude", "0,1 %"], commaFormat)).toEqual([
      { about: "strain", value: 0.001 },
    ]);
  });

  it("finds rate and frequency in a title, and takes no end of its range for the temperature", () => {
    expect(readStatements(["Temperature ramp -80 °C to 20 °C, 3 K/min, 1 Hz"], pointFormat)).toEqual([
      { about: "heating rate", value: 3 },
      { about: "frequency", value: 1, how: "alone" },
    ]);
  });

  it("takes the line that names a rebound standard for the method", () => {
    expect(readStatements(["Rückprallelastizität, Pendelhammer nach ISO 4662;"], pointFormat)).toEqual([
      { about: "method", text: "Rückprallelastizität, Pendelhammer nach ISO 4662", rank: 3 },
    ]);
  });
});
