import { describe, expect, it } from "vitest";
import { readHeader } from "../../src/io/vocabulary/read-header.js";

const summary = (header: string) => {
  const { quantity, letter, unit, unitText, logarithm, tag, repeat, mean } = readHeader(header);
  return {
    quantity,
    ...(letter ? { letter } : {}),
    ...(unit ? { unit: unitText } : {}),
    ...(logarithm ? { logarithm } : {}),
    ...(Object.keys(tag).length > 0 ? { tag } : {}),
    ...(repeat === null ? {} : { repeat }),
    ...(mean ? { mean } : {}),
  };
};

describe("what a header says", () => {
  it.each<[string, object]>([
    ["Temperatur [°C]", { quantity: "temperature", unit: "°C" }],
    ["T/K", { quantity: "temperature", unit: "K" }],
    ["Temp_C", { quantity: "temperature", unit: "C" }],
    ["t / s", { quantity: "time", unit: "s" }],
    ["time_min", { quantity: "time", unit: "min" }],
    ["E′ (MPa)", { quantity: "storage modulus", letter: "E", unit: "MPa" }],
    ["E’’ (MPa)", { quantity: "loss modulus", letter: "E", unit: "MPa" }],
    ['E" [MPa]', { quantity: "loss modulus", letter: "E", unit: "MPa" }],
    ["G`` /kPa", { quantity: "loss modulus", letter: "G", unit: "kPa" }],
    ["G´ in N/mm²", { quantity: "storage modulus", letter: "G", unit: "N/mm²" }],
    ["E'/(N/mm²)", { quantity: "storage modulus", letter: "E", unit: "N/mm²" }],
    ["Storage modulus E', dyn/cm^2", { quantity: "storage modulus", letter: "E", unit: "dyn/cm²" }],
    ["E' [10⁶ Pa]", { quantity: "storage modulus", letter: "E", unit: "10⁶ Pa" }],
    ["|G*| (kPa)", { quantity: "complex modulus", letter: "G", unit: "kPa" }],
    [
      "Betrag des komplexen Schubmoduls |G*| (kPa)",
      { quantity: "complex modulus", letter: "G", unit: "kPa" },
    ],
    ["Re(E*) (MPa)", { quantity: "storage modulus", letter: "E", unit: "MPa" }],
    ["Im(E*) (MPa)", { quantity: "loss modulus", letter: "E", unit: "MPa" }],
    ["tan(delta)", { quantity: "tan delta" }],
    ["tan_delta", { quantity: "tan delta" }],
    ["Verlustfaktor tan δ [-]", { quantity: "tan delta", unit: "-" }],
    ["E\"/E'", { quantity: "tan delta" }],
    ["δ (°)", { quantity: "phase angle", unit: "°" }],
    ["Phasenwinkel δ [rad]", { quantity: "phase angle", unit: "rad" }],
    ["ω (rad/s)", { quantity: "angular frequency", unit: "rad/s" }],
    ["Kreisfrequenz [1/s]", { quantity: "angular frequency", unit: "1/s" }],
    ["log10(E'/Pa)", { quantity: "storage modulus", letter: "E", unit: "Pa", logarithm: 10 }],
    ['lg G" [MPa]', { quantity: "loss modulus", letter: "G", unit: "MPa", logarithm: 10 }],
    ["logE'", { quantity: "storage modulus", letter: "E", logarithm: 10 }],
    ["ln ω", { quantity: "angular frequency", logarithm: Math.E }],
    ["log f", { quantity: "frequency", logarithm: 10 }],
    ["E' 10 Hz (MPa)", { quantity: "storage modulus", letter: "E", unit: "MPa", tag: { frequency_Hz: 10 } }],
    ["E'_10Hz/MPa", { quantity: "storage modulus", letter: "E", unit: "MPa", tag: { frequency_Hz: 10 } }],
    ["tan δ (@ 0,5 Hz)", { quantity: "tan delta", tag: { frequency_Hz: 0.5 } }],
    [
      "G' at −20 °C [MPa]",
      { quantity: "storage modulus", letter: "G", unit: "MPa", tag: { temperature_C: -20 } },
    ],
    ["Rückprall 3 (%)", { quantity: "rebound resilience", unit: "%", repeat: 3 }],
    ["Mean rebound (%)", { quantity: "rebound resilience", unit: "%", mean: true }],
    ["Rebound (cm)", { quantity: "rebound height", unit: "cm" }],
    ["Ｅ′［ＭＰａ］", { quantity: "storage modulus", letter: "E", unit: "MPa" }],
    ["温度（℃）", { quantity: "temperature", unit: "°C" }],
    ["角频率 (rad/s)", { quantity: "angular frequency", unit: "rad/s" }],
    ["損失正接", { quantity: "tan delta" }],
    ["貯蔵せん断弾性率 (MPa)", { quantity: "storage modulus", unit: "MPa" }],
    ["Module de perte E'' (MPa)", { quantity: "loss modulus", letter: "E", unit: "MPa" }],
    ["Facteur d’amortissement", { quantity: "tan delta" }],
    ["Ampiezza di deformazione (%)", { quantity: "strain amplitude", unit: "%" }],
    ["Módulo de armazenamento (GPa)", { quantity: "storage modulus", unit: "GPa" }],
    ["Static force (N)", { quantity: "not used", unit: "N" }],
    ["E' std dev", { quantity: "not used", letter: "E" }],
    ["Heating rate (K/min)", { quantity: "not used", unit: "K/min" }],
    ["Strain (µm)", { quantity: "displacement amplitude", unit: "μm" }],
  ])("%s", (header, expected) => {
    expect(summary(header)).toEqual(expected);
  });

  it("keeps a letter's case apart where it counts", () => {
    expect(readHeader("T").quantity).toBe("temperature");
    expect(readHeader("t").quantity).toBe("time");
    expect(readHeader("F").quantity).toBe("not used");
    expect(readHeader("f").quantity).toBe("frequency");
    expect(readHeader("f (mHz)").unit?.power).toBe(-3);
    expect(readHeader("f (MHz)").unit?.power).toBe(6);
  });

  it.each(["Storage modulus (furlong)", "E'/furlong", "E', furlong"])(
    "names the unknown unit of %s",
    (header) => {
      const { quantity, unit, unknownUnit } = readHeader(header);
      expect({ quantity, unit, unknownUnit }).toEqual({
        quantity: "storage modulus",
        unit: null,
        unknownUnit: "furlong",
      });
    },
  );

  it.each([
    "Wheels",
    "Customer",
    "The following table lists the storage modulus of all samples",
    "",
    "Kanal 3",
    "12.5",
  ])("knows no quantity in %j", (header) => {
    expect(readHeader(header).quantity).toBeNull();
  });

  it("answers to a megabyte as to a word, whatever it is made of", () => {
    for (const piece of [
      "(",
      "[(",
      "log10(",
      "E' ",
      "10 Hz ",
      "/",
      ",",
      "°",
      "a_",
      "'",
      "储能模量",
      "tan(",
      "１",
    ]) {
      const reading = readHeader(piece.repeat(1_000_000 / piece.length));
      expect(reading.quantity).toBeNull();
      expect(reading.text.length).toBeLessThan(100);
    }
  }, 5000);
});
