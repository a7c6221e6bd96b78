import { describe, expect, test } from "vitest";
import {
  decimalsFor,
  fixed,
  frequencyText,
  interval,
  intervalIn,
  pascal,
  significant,
  statedTemperature,
} from "../../src/report/html/numbers.js";

const text = (markup: { markup: string }) => markup.markup.replace(/<[^>]+>/g, "");

describe("numbers of the report", () => {
  test("carry a true minus sign and never a negative zero", () => {
    expect(fixed(-38.04, 1)).toBe("−38.0");
    expect(fixed(-0.04, 1)).toBe("0.0");
    expect(statedTemperature(-20)).toBe("−20\u202f°C");
    expect(statedTemperature(-0)).toBe("0\u202f°C");
  });

  // Particle Data Group, Review of Particle Physics, "Rounding": two digits of the uncertainty where its three
  // leading digits lie between 100 and 354, one between 355 and 949 (published).
  test.each([
    [0.119, 2],
    [0.367, 1],
    [1.2, 1],
    [4.1, 0],
    [0.0354, 3],
  ])("half width %f deserves %i decimals", (halfWidth, decimals) => {
    expect(decimalsFor(halfWidth)).toBe(decimals);
  });

  test("take their digits from the interval", () => {
    expect(text(interval(-38.04, -38.23, -37.83, "°C"))).toBe("−38.04\u202f°C −38.23 to −37.83");
    expect(text(interval(14.213, 9.1, 19.5, "K"))).toBe("14\u202fK 9 to 20");
  });

  test("keep a column aligned, with more digits where the interval would vanish", () => {
    expect(text(intervalIn(0.6474, 0.6327, 0.6693, "", 3))).toBe("0.647 0.633 to 0.669");
    expect(text(intervalIn(0.0512, 0.05121, 0.0513, "", 2))).toBe("0.0512 0.0512 to 0.0513");
  });

  test("carry a metric prefix and a unit", () => {
    expect(pascal(2.5e6)).toBe("2.50\u202fMPa");
    expect(pascal(9.997e8)).toBe("1.00\u202fGPa");
    expect(frequencyText(1)).toBe("1\u202fHz");
    expect(frequencyText(2412)).toBe("2.41\u202fkHz");
    expect(frequencyText(1e-12)).toBe("1.00·10⁻¹²\u202fHz");
    expect(significant(0.01234)).toBe("0.0123");
    expect(significant(0)).toBe("0");
  });
});
