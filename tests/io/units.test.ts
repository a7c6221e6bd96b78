import { describe, expect, it } from "vitest";
import { readUnit, toSI } from "../../src/io/vocabulary/units.js";

const inSI = (value: number, unit: string) => toSI(value, readUnit(unit)!);

describe("units against published factors", () => {
  it.each<[string, number, string]>([
    // NIST Special Publication 811 (2008), Appendix B.8.
    ["psi", 6894.757, "pound-force per square inch"],
    ["ksi", 6894757, "kip per square inch"],
    ["dyn/cm²", 0.1, "dyne per square centimetre"],
    ["kgf/cm²", 98066.5, "kilogram-force per square centimetre"],
    ["kgf/mm²", 9806650, "kilogram-force per square millimetre"],
    ["bar", 1e5, "bar"],
    // The International System of Units (SI brochure): prefixes, and N/mm² = MPa by definition.
    ["N/mm²", 1e6, "newton per square millimetre"],
    ["MN/m²", 1e6, "meganewton per square metre"],
    ["kN/m²", 1e3, "kilonewton per square metre"],
    ["GPa", 1e9, "gigapascal"],
    ["10^6 Pa", 1e6, "a power of ten"],
  ])("1 %s is %d Pa: %s", (unit, pascal) => {
    expect(inSI(1, unit) / pascal).toBeCloseTo(1, 6);
    expect(readUnit(unit)!.dimension).toBe("stress");
  });

  it("knows the fixed points of the temperature scales", () => {
    // NIST SP 811, B.8: t/°C = T/K − 273.15 and t/°C = (t/°F − 32)/1.8.
    expect(inSI(273.15, "K")).toBe(0);
    expect(inSI(213.17, "K")).toBe(-59.98);
    expect(inSI(32, "°F")).toBe(0);
    expect(inSI(212, "°F")).toBe(100);
    expect(inSI(-40, "deg F")).toBe(-40);
  });

  it("turns angular frequency into frequency", () => {
    expect(inSI(2 * Math.PI, "rad/s")).toBeCloseTo(1, 15);
    expect(inSI(360, "°/s")).toBe(1);
    expect(inSI(1, "kHz")).toBe(1000);
  });

  it.each(["°C", "ºC", "˚C", "℃", "deg C", "° C", "C", "Celsius", "Grad C", "?C", "\ufffdC"])(
    "takes %s for °C",
    (text) => {
      expect(readUnit(text)).toMatchObject({ dimension: "temperature", before: 0, factor: 1 });
    },
  );

  it.each([
    ["N mm-2", "N/mm²"],
    ["N·mm⁻²", "N/mm²"],
    ["rad s⁻¹", "rad/s"],
    ["µm", "um"],
    ["㎫", "MPa"],
    ["MPA", "MPa"],
    ["Mpa", "MPa"],
  ])("takes %s for %s", (one, other) => {
    expect(readUnit(one)).toEqual(readUnit(other));
  });

  it.each(["furlong", "", "E'", "MPas", "xyz/mm", "10^6", "°", "constructor", "__proto__"])(
    "does not take %j for a stress",
    (text) => {
      expect(readUnit(text)?.dimension).not.toBe("stress");
    },
  );

  it("tells milli from mega where the letter does", () => {
    expect(inSI(1, "mHz")).toBe(0.001);
    expect(inSI(1, "MHz")).toBe(1e6);
    expect(inSI(1, "mPa")).toBe(0.001);
  });
});
