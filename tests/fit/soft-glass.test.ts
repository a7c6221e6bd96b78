import { describe, expect, it } from "vitest";
import { defaultMaterialSettings, materialOf } from "../../src/fit/material-of.js";
import type { Deformation, DynamicMeasurement } from "../../src/io/measurement.js";

/**
 * A Maxwell element behind a spring R is again a Maxwell element: compliances add, 1/G + 1/(iωη) + 1/R, so that the viscosity
 * stays and the modulus becomes G R/(G + R). Its relaxation time, and with it every temperature at which it passes ωτ = 1, the
 * M″ peak, is that of the specimen times 1 + G/R. Exact, in a closed form of its own.
 */
const wlf = { c1: 14, c2_K: 50, tg_C: -50, log10Tau_s: 1 };
const peak_C = (log10TimesSlower: number) => {
  // log10 τ(T) + log10(1 + G/R) + log10 ω = 0 at 1 Hz.
  const decades = wlf.log10Tau_s + log10TimesSlower + Math.log10(2 * Math.PI);
  return wlf.tg_C + (decades * wlf.c2_K) / (wlf.c1 - decades);
};

function maxwellSweep(glass_Pa: number, rigid_Pa: number, deformation: Deformation): DynamicMeasurement {
  const temperature_C = Float64Array.from({ length: 60 }, (_, i) => -85 + 2 * i);
  const modulus_Pa = 1 / (1 / glass_Pa + 1 / rigid_Pa);
  const wTau = temperature_C.map((t) => {
    const log10Tau = wlf.log10Tau_s - (wlf.c1 * (t - wlf.tg_C)) / Math.max(wlf.c2_K + t - wlf.tg_C, 10);
    return 2 * Math.PI * (1 + glass_Pa / rigid_Pa) * 10 ** log10Tau;
  });
  return {
    kind: "temperature sweep",
    sample: "Maxwell",
    deformation,
    direction: "heating",
    temperature_C,
    frequency_Hz: new Float64Array(60).fill(1),
    // A network of 1 MPa keeps the rubber side from falling to nothing; it is a two-thousandth of the glass.
    storageModulus_Pa: wTau.map((x) => 1e6 + (modulus_Pa * x * x) / (1 + x * x)),
    lossModulus_Pa: wTau.map((x) => (modulus_Pa * x) / (1 + x * x)),
    strainAmplitude: null,
    time_s: null,
    heatingRate_K_min: null,
    provenance: { file: "maxwell.csv", sheet: null, section: null, firstLine: 2, lastLine: 61, columns: [] },
  };
}

const saidOf = (sweep: DynamicMeasurement) =>
  materialOf([sweep], defaultMaterialSettings).notices.find(({ code }) => code === "fit.soft-glass")?.message;

describe("a glass that reads softer than a rubber's", () => {
  it("is said, with the modulus and with how much colder the M″ peak of a usual glass would stand", () => {
    // A glass of 2 GPa behind as much again: 1 GPa is read, and τ is doubled.
    const said = saidOf(maxwellSweep(2e9, 2e9, "tension"));
    expect(said).toContain("reads 1.0 GPa at most in tension");
    expect(said).toContain("If the glass had 2.0 GPa");
    const colder_K = Number(/would stand ([\d.]+) K colder/.exec(said ?? "")?.[1]);
    const exact_K = peak_C(Math.log10(2)) - peak_C(0);
    expect(Math.abs(colder_K - exact_K)).toBeLessThan(0.15);
  });

  it("is judged by a third of it in shear", () => {
    // Half of 667 MPa, and the network's 1 MPa.
    expect(saidOf(maxwellSweep(2e9 / 3, 1e12, "shear"))).toBeUndefined();
    expect(saidOf(maxwellSweep(2e9 / 3, 2e9 / 3, "shear"))).toContain("reads 334 MPa at most in shear");
  });

  it("is taken for a slip of the unit where it is too soft for an instrument that gives", () => {
    // 2 MPa for 2 GPa: kPa written as Pa, or GPa read as MPa.
    const said = saidOf(maxwellSweep(2e6, 1e12, "tension"));
    expect(said).toContain("reads 3.0 MPa at most in tension");
    expect(said).toContain("a unit or a scale that slipped in the export");
    expect(saidOf(maxwellSweep(2e9 / 3, 1e8, "shear"))).toContain("a unit or a scale that slipped");
  });

  it("is not said of a glass as stiff as a rubber's, nor of a rubber whose glass was not measured", () => {
    expect(saidOf(maxwellSweep(2e9, 1e12, "tension"))).toBeUndefined();
    const whole = maxwellSweep(2e9, 2e9, "tension");
    const warm = (values: Float64Array) => values.slice(20);
    expect(
      saidOf({
        ...whole,
        temperature_C: warm(whole.temperature_C),
        frequency_Hz: warm(whole.frequency_Hz),
        storageModulus_Pa: warm(whole.storageModulus_Pa),
        lossModulus_Pa: warm(whole.lossModulus_Pa),
      }),
    ).toBeUndefined();
  });
});
