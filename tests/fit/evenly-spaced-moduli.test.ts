import { expect, it } from "vitest";
import { evenlySpacedModuli } from "../../src/fit/spectrum/evenly-spaced-moduli.js";
import { maxwellModulus } from "../../src/fit/spectrum/relaxation-model.js";

it("gives the moduli of a spectrum of forty decades to 1e-7, its times in any order", () => {
  const times_s = Float64Array.from({ length: 90 }, (_, j) => 10 ** (-38 + ((j * 37) % 90) * 0.5));
  const moduli_Pa = times_s.map((_, j) => (j % 7 === 0 ? 0 : 1e5 * (1 + (j % 5))));
  const model = { equilibriumModulus_Pa: 1e6, times_s, moduli_Pa };
  const lowest = -9.3;
  const { storageModulus_Pa, lossModulus_Pa } = evenlySpacedModuli(model, lowest, 7, 330);
  for (const [i, storage_Pa] of storageModulus_Pa.entries()) {
    const exact = maxwellModulus(model, 2 * Math.PI * 10 ** (lowest + i / 7));
    expect(storage_Pa / exact.storageModulus_Pa).toBeCloseTo(1, 7);
    expect(lossModulus_Pa[i] / exact.lossModulus_Pa).toBeCloseTo(1, 7);
  }
});
