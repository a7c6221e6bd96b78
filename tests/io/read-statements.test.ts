import { describe, expect, it } from "vitest";
import { commaFormat, pointFormat } from "../../src/io/table/number-format.js";
import { readStatements } from "../../src/io/table/read-statements.js";

describe("lines outside a table", () => {
  it.each<[string[], object[]]>([
    [["Frequency", "10", "Hz"], [{ about: "frequency", value: 10 }]],
    [["Frequency: 10 Hz"], [{ about: "frequency", value: 10 }]],
    [["Frequency (Hz)", "10"], [{ about: "frequency", value: 10 }]],
    [["--- f = 1.0 Hz ---"], [{ about: "frequency", value: 1 }]],
    [["Angular frequency: 62.8 rad/s"], [{ about: "frequency", value: 62.8 / (2 * Math.PI) }]],
    [["Isotherm at -20 °C"], [{ about: "temperature", value: -20 }]],
    [["Heating rate", "2", "K/min"], [{ about: "heating rate", value: 2 }]],
    [["昇温速度", "3 ℃/min"], [{ about: "heating rate", value: 3 }]],
    [["变形模式：拉伸"], [{ about: "deformation", mode: "tension", rank: 1 }]],
    [["Geometry", "3-point bending"], [{ about: "deformation", mode: "bending", rank: 1 }]],
    [["Prüfart", "Scherung (Doppelscherprobe)"], [{ about: "deformation", mode: "shear", rank: 1 }]],
    [["Mode de sollicitation", "traction"], [{ about: "deformation", mode: "tension", rank: 1 }]],
    [["Modo de deformación: compresión"], [{ about: "deformation", mode: "compression", rank: 1 }]],
    [["Strain amplitude (%): 0.1"], [{ about: "strain", value: 0.001 }]],
    [["试样名称：桦木 60"], [{ about: "sample", text: "桦木 60", rank: 1 }]],
    [["# sample = Alder N"], [{ about: "sample", text: "Alder N", rank: 1 }]],
    [["Specimen", "length 20.0 mm, width 5 mm"], []],
    [["Drop height;40 cm".split(";")[0], "40 cm"], [{ about: "drop height", value: 0.4 }]],
    [["Operator: Ann, 10 Hz, -20 °C"], [{ about: "remark" }]],
    [["Conditioned for 24 h at 23 °C, 50 % humidity"], []],
    [["Frequencies: 1, 10, 100 Hz"], []],
    [["Frequency sweep from 0.1 to 100 Hz"], []],
    [["Temperature range: -100 °C to 80 °C"], []],
    [["Start temperature", "-100 °C"], [{ about: "remark" }]],
    [["Wheels", "2"], []],
  ])("%j", (cells, expected) => {
    expect(readStatements(cells, pointFormat)).toEqual(expected);
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
      { about: "frequency", value: 1 },
    ]);
  });

  it("takes the line that names a rebound standard for the method", () => {
    expect(readStatements(["Rückprallelastizität, Pendelhammer nach ISO 4662;"], pointFormat)).toEqual([
      { about: "method", text: "Rückprallelastizität, Pendelhammer nach ISO 4662", rank: 3 },
    ]);
  });
});
