import { describe, expect, it } from "vitest";
import type { superpose } from "../../src/fit/material-of.js";
import { isothermsOf } from "../../src/fit/superposition/isotherms/isotherms.js";
import { roughPoints, standingOff } from "../../src/fit/superposition/isotherms/rough-points.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";
import { temperatureText } from "../../src/words/quantity-text.js";
import {
  blend,
  broadPolymer,
  broadSpectrum,
  isothermSweep,
  knownLaws,
  lawAtGlass,
  measurement,
  superposedAlone,
  sweepFrequencies_Hz,
  truthOf,
} from "./synthetic-data.js";

const { law, glass_C, vogel_C, truth, frequencies_Hz, temperatures_C } = broadPolymer;
const clean = (seed = 5) => isothermSweep(temperatures_C, frequencies_Hz, truth, { noise: 0.01, seed });
const leftOut = (result: ReturnType<typeof superpose>) =>
  result.notices.filter(({ code }) => code === "fit.points-left-out");

describe("points that are off", { timeout: 60_000 }, () => {
  it.each([
    { row: 4, storage: 0.2, loss: 0.2 },
    { row: 59, storage: 0.1, loss: 0.1 },
    { row: 82, storage: 2, loss: 2 },
    { row: 131, storage: 0.1, loss: 0.1 },
    { row: 142, storage: 1, loss: 0.1 },
    { row: 142, storage: 0.1, loss: 1 },
    { row: 71, storage: 0.8, loss: 0.8 },
  ])(
    "one of 143, row $row, M′ × $storage, M″ × $loss, is named and changes nothing",
    ({ row, storage, loss }) => {
      const measured = clean();
      measured.storageModulus_Pa[row] *= storage;
      measured.lossModulus_Pa[row] *= loss;
      const result = superposedAlone(measured);
      const notices = leftOut(result);
      expect(notices).toHaveLength(1);
      const [{ message, severity }] = notices;
      expect(severity).toBe("caution");
      expect(message).toContain("One point");
      // The only table of the file begins in line 1.
      expect(message).toContain(`invented.csv, line ${row + 1},`);
      expect(message).toContain(`${temperatureText(measured.temperature_C[row])}`);
      expect(message).toContain(`${Number(measured.frequency_Hz[row].toPrecision(3))} Hz`);
      for (const [quantity, factor] of [
        ["M′", storage],
        ["M″", loss],
      ] as const) {
        const stated = new RegExp(`${quantity} ([0-9.]+) times`).exec(message)?.[1];
        if (factor === 1) expect(stated).toBeUndefined();
        else expect(Math.abs(Number(stated) / factor - 1)).toBeLessThan(0.15);
      }
      const { law: kind, derived, thermorheologicallySimple, rmsLog10 } = result.superposition!;
      expect(kind).toBe("wlf");
      expect(thermorheologicallySimple).toBe(true);
      expect(Math.abs(derived!.vogelTemperature_C! - vogel_C)).toBeLessThan(1);
      expect(rmsLog10!).toBeLessThan((1.3 * 0.01) / Math.LN10);
    },
  );

  it("are off by what they are allowed at least, also where the end of a curve scatters", () => {
    const allowed = 0.02;
    const off = Array.from({ length: 400 }, (_, seed) => {
      const random = seededRandom(seed + 1);
      const curve = Array.from({ length: 30 }, (_, i) => {
        const source = { file: "invented.csv", sheet: null, line: i, firstLine: 0, lastLine: 29 };
        const y = (i < 5 ? 0.15 : 0.004) * random.normal();
        return { source, temperature_C: i, frequency_Hz: 1, quantity: "M″" as const, x: 0.4 * i, y };
      });
      return standingOff([curve], { noise: 6, parabola: () => allowed, line: () => 0.03 });
    }).flat();
    expect(off.length).toBeGreaterThan(300);
    expect(Math.min(...off.map(({ off_decades }) => Math.abs(off_decades)))).toBeGreaterThan(allowed);
  });

  it("several at once are each named", () => {
    const measured = clean();
    const rows = [7, 40, 41, 100];
    for (const row of rows) measured.storageModulus_Pa[row] *= row === 41 ? 0.4 : 3;
    const [{ message }] = leftOut(superposedAlone(measured));
    expect(message).toContain("4 points");
    for (const row of rows) expect(message).toContain(`line ${row + 1},`);
  });

  it("in isotherms of three frequencies and in a ramp at several", () => {
    const sweep = isothermSweep(
      Array.from({ length: 25 }, (_, k) => glass_C + 2.5 * k),
      [1, 3.16, 10],
      truth,
      { noise: 0.01, seed: 2 },
    );
    const points = Array.from({ length: 27 }, (_, k) => glass_C - 10 + 3 * k).flatMap((t) =>
      [1, 3.16, 10, 31.6].map((frequency_Hz, i) => ({ temperature_C: t + 0.3 * i, frequency_Hz })),
    );
    const ramp = measurement("temperature sweep", points, truth, { noise: 0.01, seed: 2 });
    for (const measured of [sweep, ramp]) {
      measured.storageModulus_Pa[50] *= 0.1;
      measured.lossModulus_Pa[50] *= 0.1;
      const result = superposedAlone(measured);
      expect(leftOut(result)[0].message).toContain("line 51,");
      expect(Math.abs(result.superposition!.derived!.vogelTemperature_C! - vogel_C)).toBeLessThan(2.5);
    }
  });

  it("in a sweep of 1,500 frequencies, in a share of a fit's time", () => {
    const many = Array.from({ length: 1500 }, (_, i) => 10 ** (-1 + (2.5 * i) / 1499));
    const temperatures = [0, 8, 16, 24].map((k) => glass_C + 5 + k);
    const measured = isothermSweep(temperatures, many, truth, { noise: 0.01, seed: 1 });
    for (let k = 0; k < 60; k++) measured.lossModulus_Pa[100 * k + 17] *= 2;
    const found = roughPoints(isothermsOf([measured], "shear"));
    expect(found).toHaveLength(60);
    expect(found.every(({ source }) => (source.line! - 18) % 100 === 0)).toBe(true);
  });

  it("where the rows are not the lines of one block the block is named", () => {
    const measured = clean();
    measured.provenance.lastLine += 7;
    measured.lossModulus_Pa[60] *= 0.1;
    expect(leftOut(superposedAlone(measured))[0].message).toContain("lines 1 to 150");
  });

  it("noise alone costs no point: 40 clean sets with 1 to 4 % noise", () => {
    for (let seed = 1; seed <= 40; seed++) {
      const measured = isothermSweep(temperatures_C, frequencies_Hz, truth, {
        noise: 0.01 * (1 + (seed % 4)),
        seed,
      });
      expect(leftOut(superposedAlone(measured))).toEqual([]);
    }
  });

  it("a blend is not cured by leaving out what does not fit", () => {
    const phase = (constants: typeof law, tangentBelow_C: number) =>
      truthOf(broadSpectrum(), { ...lawAtGlass(constants), tangentBelow_C } as never);
    const second = phase({ ...knownLaws[4], glassTemperature_C: -40 }, -40);
    const temperatures = Array.from({ length: 13 }, (_, k) => -55 + 5 * k);
    for (const share of [0.2, 0.5]) {
      const mixed = blend([
        { share: 1 - share, truth: phase(law, glass_C) },
        { share, truth: second },
      ]);
      const measured = isothermSweep(temperatures, sweepFrequencies_Hz, mixed, { noise: 0.01, seed: 3 });
      const result = superposedAlone(measured);
      expect(leftOut(result)).toEqual([]);
      expect(result.superposition!.thermorheologicallySimple).toBe(false);
    }
  });
});
