import { describe, expect, it } from "vitest";
import { maxwellModulus, relaxationModulus } from "../../src/fit/spectrum/relaxation-model.js";
import { fitSpectrum } from "../../src/fit/spectrum/spectrum.js";
import { modelOf } from "../fit/spectrum-model.js";

/**
 * Materials with a closed form for the complex modulus and for the relaxation modulus, none of them a sum of
 * modes on the program's grid. Sources beside each.
 */
interface ClosedForm {
  name: string;
  complexModulus_Pa: (angularFrequency_rad_s: number) => [number, number];
  relaxationModulus_Pa: (time_s: number) => number;
  /** Largest relative error allowed in the inner part of the window. */
  tolerance: number;
}

/** e^{x²} erfc(x) = (2/√π) ∫₀^∞ exp(−u² − 2xu) du (Abramowitz and Stegun 7.1.2 with u = t − x), by Simpson's rule. */
function scaledComplementaryError(x: number): number {
  const steps = 4000;
  const end = Math.min(7, 40 / Math.max(x, 1e-9));
  const h = end / steps;
  let sum = 0;
  for (let i = 0; i <= steps; i++) {
    const u = i * h;
    const weight = i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight * Math.exp(-u * u - 2 * x * u);
  }
  return ((2 / Math.sqrt(Math.PI)) * sum * h) / 3;
}

const closedForms: ClosedForm[] = [
  {
    // Ferry, Viscoelastic Properties of Polymers, 3rd ed., ch. 3: M′ = M x²/(1+x²), M″ = M x/(1+x²), M(t) = M e^{−t/τ}.
    name: "single Maxwell element",
    complexModulus_Pa: (w) => {
      const x = w * 0.0317;
      return [(1e7 * x * x) / (1 + x * x), (1e7 * x) / (1 + x * x)];
    },
    relaxationModulus_Pa: (t) => 1e7 * Math.exp(-t / 0.0317),
    tolerance: 0.01,
  },
  {
    // Fractional Zener element M* = Me + ΔM z/(1+z), z = (iωτ)^α, with α = ½: relaxation modulus
    // Me + ΔM E_½(−√(t/τ)), and E_½(−x) = e^{x²} erfc(x) (Mainardi, Fractional Calculus and Waves in Linear
    // Viscoelasticity, 2010, ch. 3 and app. E).
    name: "fractional Zener element of order one half",
    complexModulus_Pa: (w) => {
      const size = Math.sqrt(w * 0.02);
      const re = size * Math.SQRT1_2;
      const im = size * Math.SQRT1_2;
      const d = (1 + re) ** 2 + im ** 2;
      return [1e6 + (1e9 * (re * (1 + re) + im * im)) / d, (1e9 * im) / d];
    },
    relaxationModulus_Pa: (t) => 1e6 + 1e9 * scaledComplementaryError(Math.sqrt(t / 0.02)),
    tolerance: 0.01,
  },
  ...[0.25, 0.5, 0.7].map((n): ClosedForm => {
    // Power law M* = K (iω)^n, relaxation modulus K t^{−n}/Γ(1 − n) (Ferry, 3rd ed., ch. 3; critical gel).
    const gamma = { 0.25: 1.2254167024651776, 0.5: 1.7724538509055159, 0.7: 2.99156898768759 }[n]!;
    return {
      name: `power law of exponent ${n}`,
      complexModulus_Pa: (w) => [
        1e6 * w ** n * Math.cos((n * Math.PI) / 2),
        1e6 * w ** n * Math.sin((n * Math.PI) / 2),
      ],
      relaxationModulus_Pa: (t) => (1e6 * t ** -n) / gamma,
      tolerance: 0.01,
    };
  }),
];

describe("closed forms of linear viscoelasticity come back from the spectrum", { timeout: 60_000 }, () => {
  it.each(closedForms)("$name", ({ complexModulus_Pa, relaxationModulus_Pa, tolerance }) => {
    const frequency_Hz = Float64Array.from({ length: 81 }, (_, i) => 10 ** (-4 + i / 10));
    const moduli = Array.from(frequency_Hz, (f) => complexModulus_Pa(2 * Math.PI * f));
    const { spectrum, notices } = fitSpectrum({
      frequency_Hz,
      storageModulus_Pa: Float64Array.from(moduli, ([storage]) => storage),
      lossModulus_Pa: Float64Array.from(moduli, ([, loss]) => loss),
    });
    expect(notices).toEqual([]);
    const model = modelOf(spectrum);
    for (const [i, f] of frequency_Hz.entries()) {
      // The modulus at t needs frequencies on both sides of 1/t: a decade from either end of the window.
      if (f < 1e-3 || f > 1e3) continue;
      const w = 2 * Math.PI * f;
      const { storageModulus_Pa, lossModulus_Pa } = maxwellModulus(spectrum, w);
      expect(Math.abs(storageModulus_Pa / moduli[i][0] - 1)).toBeLessThan(tolerance);
      expect(Math.abs(lossModulus_Pa / moduli[i][1] - 1)).toBeLessThan(tolerance);
      const expected = relaxationModulus_Pa(1 / w);
      // A single mode is gone after a few of its times: then only the absolute error says anything.
      const scale = Math.max(expected, 1e-3 * relaxationModulus_Pa(1e-6));
      expect(Math.abs(relaxationModulus(model, 23, 1 / w) - expected) / scale).toBeLessThan(tolerance);
    }
  });
});
