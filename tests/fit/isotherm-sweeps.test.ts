import { describe, expect, it } from "vitest";
import { glassTransitionsFromIsotherms } from "../../src/fit/glass/glass-transition.js";
import { sweepsFromIsotherms } from "../../src/fit/glass/isotherm-sweeps.js";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { densePeak_C, havriliakNegami, measure, narrowIsotherms } from "../make/havriliak-negami.js";

describe("isotherms read across their temperatures", () => {
  it("at the frequencies nearest to 1 Hz and to 10 Hz", () => {
    const [sweep] = sweepsFromIsotherms([narrowIsotherms()]);
    expect([...new Set(sweep.frequency_Hz)].sort((a, b) => a - b)).toEqual([5, 11]);
    const [wide] = sweepsFromIsotherms([
      narrowIsotherms({ frequencies_Hz: [0.1, 0.99, 3.2, 10.1, 32, 100] }),
    ]);
    expect([...new Set(wide.frequency_Hz)].sort((a, b) => a - b)).toEqual([0.99, 10.1]);
  });

  it("hold the true peaks in their intervals as often as they say, in 5 K steps", () => {
    const held = new Map<string, number>();
    for (let seed = 1; seed <= 100; seed++) {
      const { transitions } = glassTransitionsFromIsotherms([narrowIsotherms({ seed })]);
      expect(transitions.map(({ frequency_Hz }) => frequency_Hz)).toEqual([5, 11]);
      for (const { frequency_Hz, tanDeltaPeak, lossModulusPeak, origin } of transitions) {
        expect(origin).toBe("isotherms");
        for (const [quantity, peak] of [
          ["tan delta", tanDeltaPeak],
          ["loss modulus", lossModulusPeak],
        ] as const) {
          if (peak?.low_C == null || peak.high_C === null) continue;
          const truth_C = densePeak_C(havriliakNegami, frequency_Hz, quantity);
          const key = `${quantity} ${frequency_Hz}`;
          if (peak.low_C <= truth_C && truth_C <= peak.high_C) held.set(key, (held.get(key) ?? 0) + 1);
        }
      }
    }
    expect(held.size).toBe(4);
    for (const [key, count] of held) expect(count, key).toBeGreaterThanOrEqual(84);
  });

  it("file by file, or together where each file is one isotherm", () => {
    const whole = narrowIsotherms();
    const single = [...new Set(whole.temperature_C)].map((temperature_C, k): DynamicMeasurement => {
      const rows = Array.from(whole.temperature_C.keys()).filter(
        (i) => whole.temperature_C[i] === temperature_C,
      );
      const pick = (column: Float64Array) => Float64Array.from(rows, (i) => column[i]);
      return {
        ...whole,
        temperature_C: pick(whole.temperature_C),
        frequency_Hz: pick(whole.frequency_Hz),
        storageModulus_Pa: pick(whole.storageModulus_Pa),
        lossModulus_Pa: pick(whole.lossModulus_Pa),
        provenance: { ...whole.provenance, file: `isotherm ${k}.csv` },
      };
    });
    const together = glassTransitionsFromIsotherms(single).transitions;
    expect(together.map(({ tanDeltaPeak }) => tanDeltaPeak)).toEqual(
      glassTransitionsFromIsotherms([whole]).transitions.map(({ tanDeltaPeak }) => tanDeltaPeak),
    );
    const second = {
      ...narrowIsotherms({ seed: 2 }),
      provenance: { ...whole.provenance, file: "second.csv" },
    };
    expect(sweepsFromIsotherms([whole, second])).toHaveLength(2);
  });

  it("name a stray row by its line only where the file has one line a row", () => {
    const spoil = (measurement: DynamicMeasurement) => {
      const at = measurement.temperature_C.findIndex((t, i) => t > 10 && measurement.frequency_Hz[i] > 9);
      measurement.storageModulus_Pa[at] *= 0.1;
      measurement.lossModulus_Pa[at] *= 0.1;
      const { notices } = glassTransitionsFromIsotherms([measurement]);
      const notice = notices.find(({ code }) => code === "fit.spike-left-out");
      return { line: measurement.provenance.firstLine + at, message: notice?.message ?? "" };
    };
    const single = spoil(narrowIsotherms({ frequencies_Hz: [10], step_K: 3 }));
    expect(single.message).toContain(`line ${single.line} at`);
    expect(spoil(narrowIsotherms({ frequencies_Hz: [1, 3, 10], step_K: 3 })).message).toContain("the row at");
  });

  it("not where too few temperatures share a frequency, nor where no peak lies inside", () => {
    expect(sweepsFromIsotherms([narrowIsotherms({ from_C: -40, to_C: -10 })])).toEqual([]);
    expect(sweepsFromIsotherms([measure(havriliakNegami)])).toEqual([]);
    const rubbery = glassTransitionsFromIsotherms([narrowIsotherms({ from_C: 0, to_C: 60 })]);
    expect(rubbery).toEqual({ transitions: [], notices: [] });
  });
});
