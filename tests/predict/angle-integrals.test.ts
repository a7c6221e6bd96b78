import { expect, test } from "vitest";
import { angleIntegrals } from "../../src/predict/contact/hysteresis-angles.js";

test("modes out of reach of the frequencies that are asked for stand together, to a millionth", () => {
  const times_s = Float64Array.from({ length: 61 }, (_, i) => 10 ** (-20 + 0.5 * i));
  const moduli_Pa = times_s.map((_, i) => 1e5 * 10 ** (2 + 2 * Math.sin(i / 7)));
  const spectrum = { equilibriumModulus_Pa: 2e6, times_s, moduli_Pa };
  const whole = angleIntegrals(spectrum);
  for (const [lowest, highest] of [
    [1e-3, 1e2],
    [450, 4e5],
    [1e9, 1e12],
  ]) {
    const within = angleIntegrals(spectrum, lowest, highest);
    for (const w of [lowest, Math.sqrt(lowest * highest), highest]) {
      const [a, b] = [within(w), whole(w)];
      expect(Math.abs(a.lossModulus_Pa / b.lossModulus_Pa - 1)).toBeLessThan(1e-6);
      expect(Math.abs(a.magnitude_Pa2 / b.magnitude_Pa2 - 1)).toBeLessThan(1e-6);
    }
  }
});
