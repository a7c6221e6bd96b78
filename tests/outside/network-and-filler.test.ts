import { describe, expect, it } from "vitest";
import { glassTransitions } from "../../src/fit/glass/glass-transition.js";
import {
  effectiveVolumeFraction,
  guthGoldVolumeFraction,
  immobilisedShare,
  layerOf_nm,
} from "../../src/fit/network/bound-rubber.js";
import {
  chainMolarMass_g_mol,
  networkDefaults,
  networkDensity_mol_m3,
  rubberyNetwork,
} from "../../src/fit/network/network.js";
import { payneEffects } from "../../src/fit/network/payne.js";
import { fillerVolumeFraction, guthGold } from "../../src/fit/network/reinforcement.js";
import { batchValue, differenceOf, equivalence } from "../../src/predict/batches/batch-difference.js";
import { readSweepAt } from "../../src/predict/batches/sweep-reading.js";
import {
  filledRubber,
  krausLimitOfLinearity,
  krausStorage_Pa,
  makeStrainSweep,
} from "../make/kraus-sweep.js";
import { makeSweep, wedgeMaterials, wedgeModel } from "../make/wedge-material.js";

// Kinetic theory of rubber elasticity, G = νRT = ρRT/Mc: Treloar, The Physics of Rubber Elasticity.
describe("the network of a rubber", () => {
  // Derived: 1e6 Pa / (8.314462618 J/(mol K) · 298.15 K), R by CODATA 2018.
  it("with G = 1 MPa at 298.15 K has 403.4 mol of chains per m³", () => {
    expect(networkDensity_mol_m3(1e6, 25)).toBeCloseTo(403.4, 1);
  });

  // Derived: Mc = ρRT/G = 920 · 8.314462618 · 298.15 / 1e6 kg/mol.
  it("of 920 kg/m³ and that density has chains of 2281 g/mol", () => {
    expect(chainMolarMass_g_mol(920, networkDensity_mol_m3(1e6, 25))).toBeCloseTo(2280.6, 1);
  });

  // ν does not depend on the temperature at which an ideal rubber is read, for G ∝ T (Treloar).
  it("is the same wherever on the plateau of an ideal rubber it is read", () => {
    const at = (T: number) => networkDensity_mol_m3((0.5e6 * (T + 273.15)) / 298.15, T);
    expect(at(80)).toBeCloseTo(at(25), 9);
  });

  // End to end: an invented rubber whose equilibrium modulus is E = 3 MPa at 298.15 K and rises with T, in tension.
  it("comes out of a sweep in tension within 3 %, E taken as 3 G", () => {
    const sweep = makeSweep(
      wedgeModel({ ...wedgeMaterials["natural-rubber-like"], rubberyModulus_Pa: 3e6 }),
      {
        to_C: 80,
        noise: 0.005,
      },
    );
    for (let i = 0; i < sweep.temperature_C.length; i++) {
      const entropic = (sweep.temperature_C[i] + 273.15) / 298.15;
      sweep.storageModulus_Pa[i] *= entropic;
      sweep.lossModulus_Pa[i] *= entropic;
    }
    const { network } = rubberyNetwork(
      [sweep],
      { compound: "ideal", glassTransitions: glassTransitions(sweep).transitions, model: null, draws: [] },
      { ...networkDefaults, density_kg_m3: 920 },
    );
    expect(Math.abs(network!.networkDensity_mol_m3!.value / 403.4 - 1)).toBeLessThan(0.03);
    expect(Math.abs(network!.chainMolarMass_g_mol!.value / 2280.6 - 1)).toBeLessThan(0.03);
  });
});

describe("the reinforcement by filler", () => {
  // Guth, J. Appl. Phys. 16, 20 (1945): 1 + 2.5 φ + 14.1 φ²; 1 + 0.75 + 1.269 at 0.30 (derived).
  it("is 3.019 at 30 % by volume, 1 without filler, and starts with Einstein's 2.5", () => {
    expect(guthGold(0.3)).toBeCloseTo(3.019, 12);
    expect(guthGold(0)).toBe(1);
    // Einstein's coefficient for dilute spheres, Ann. Phys. 19, 289 (1906), corrected 1911 (from memory).
    expect((guthGold(1e-6) - 1) / 1e-6).toBeCloseTo(2.5, 4);
  });

  // Common practice: carbon black or silica raises the modulus up to two or three times, up to 30 % by volume.
  it("of the loads that are used lies where the trade sees it", () => {
    // 50 phr of carbon black (1800 kg/m³) in natural rubber (920 kg/m³): about 20 % by volume (common practice).
    const usual = fillerVolumeFraction({ phr: 50, density_kg_m3: 1800, rubberDensity_kg_m3: 920 })!;
    expect(usual).toBeCloseTo(0.2, 2);
    expect(guthGold(usual)).toBeGreaterThan(2);
    expect(guthGold(0.3)).toBeLessThan(3.1);
  });
});

// Kraus's strain dependence (J. Appl. Polym. Sci., Appl. Polym. Symp. 39, 75, 1984; from memory) solved in closed form.
describe("the Payne effect of Kraus's curve", () => {
  const [effect] = payneEffects([makeStrainSweep(filledRubber)]).effects;

  it("has the amplitude of its two ends within 1 %", () => {
    const amplitude_Pa = krausStorage_Pa(filledRubber, 1e-4) - krausStorage_Pa(filledRubber, 1);
    expect(Math.abs(effect.amplitude_Pa.value / amplitude_Pa - 1)).toBeLessThan(0.01);
  });

  it("leaves the linear range where M′ has dropped by 5 %, within 3 % of the strain", () => {
    const limit = krausLimitOfLinearity(filledRubber, 1e-4);
    expect(Math.abs(effect.limitOfLinearity!.value / limit - 1)).toBeLessThan(0.03);
  });

  it("has its highest loss at the critical strain, within 3 %", () => {
    expect(Math.abs(effect.lossMaximumStrain!.value / filledRubber.criticalStrain - 1)).toBeLessThan(0.03);
  });
});

describe("the difference of two batches", () => {
  // SciPy 1.17.1: scipy.stats.ttest_ind(b, a, equal_var=False).confidence_interval(0.95) on these readings.
  it("has the interval of Welch's test in SciPy", () => {
    const readings = (values: number[]) =>
      values.map((value) => ({
        value,
        standardError: 0,
        degreesOfFreedom: Number.POSITIVE_INFINITY,
        path: "",
      }));
    const a = batchValue(readings([-35.3, -35.9, -34.8]));
    const b = batchValue(readings([-33.8, -34.1, -33.1, -33.9]));
    const { difference, low, high } = differenceOf(b, a);
    expect(difference).toBeCloseTo(1.6083333, 6);
    // Student's t is an expansion good to 0.3 % (see studentT95), so the half width of 1.097 is good to 0.004.
    expect(Math.abs(low! - 0.5112953)).toBeLessThan(0.004);
    expect(Math.abs(high! - 2.7053714)).toBeLessThan(0.004);
    expect(equivalence(low, high, 3)).toBe("equivalent");
    expect(equivalence(low, high, 2)).toBe("not decided");
    expect(equivalence(low, high, 0.5)).toBe("different");
  });

  // NumPy: numpy.polyfit(T, log(tan δ), 2, cov=True) on these rows; value and error of the constant.
  it("reads tan δ at 0 °C as a parabola fitted by NumPy does", () => {
    const tanDelta = [0.52, 0.47, 0.425, 0.39, 0.37, 0.335, 0.31];
    const sweep = {
      frequency_Hz: 10,
      temperature_C: Float64Array.of(-5, -3.2, -1, 0.5, 2, 4.1, 6),
      storageModulus_Pa: new Float64Array(7).fill(1e7),
      lossModulus_Pa: Float64Array.from(tanDelta, (value) => 1e7 * value),
    };
    const read = readSweepAt(
      sweep,
      0,
      (storageModulus_Pa, lossModulus_Pa) => lossModulus_Pa / storageModulus_Pa,
    )!;
    expect(read.value).toBeCloseTo(0.4028580459, 9);
    expect(read.standardError).toBeCloseTo(0.0015212782, 9);
    expect(read.degreesOfFreedom).toBe(4);
  });
});

describe("bound rubber", () => {
  // Derived from φ_eff = φ (1 + 2Δ/d)³ and Guth–Gold (Guth, J. Appl. Phys. 16, 20, 1945): 0.2 · 1.2³ = 0.3456;
  // 1 + 2.5 · 0.3456 + 14.1 · 0.3456² = 3.548, against 2.064 without a layer.
  it("of 3 nm on spheres of 30 nm makes 20 % filler act as 34.56 %, and 3.548 times as stiff", () => {
    const effective = effectiveVolumeFraction(0.2, 30, 3);
    expect(effective).toBeCloseTo(0.3456, 6);
    expect(guthGold(effective)).toBeCloseTo(3.548, 3);
    expect(guthGold(0.2)).toBeCloseTo(2.064, 6);
    expect(layerOf_nm(guthGoldVolumeFraction(guthGold(effective)), 0.2, 30)).toBeCloseTo(3, 9);
  });

  // By hand from Rao and Pochan (Macromolecules 40, 290, 2007; from memory): peaks of 1 and 2 have W = π/(π + 1) =
  // 0.75855 and 2π/(2π + 1) = 0.86270; 1 − 0.8 · 0.75855/0.86270 = 0.29658.
  it("by the tan δ peaks is what is missing from the transition", () => {
    expect(immobilisedShare(1, 2, 0.2)).toBeCloseTo(0.29658, 4);
    expect(immobilisedShare(2, 2, 0.2)).toBeCloseTo(0.2, 12);
  });
});
