import { describe, expect, it } from "vitest";
import { glassTransitions } from "../../src/fit/glass/glass-transition.js";
import {
  networkDefaults,
  networkDensity_mol_m3,
  noPlateauNotice,
  rubberyNetwork,
} from "../../src/fit/network/network.js";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { makeSweep, type SweepMaking, wedgeMaterials, wedgeModel } from "../make/wedge-material.js";
import { exampleDraws } from "../predict/example-materials.js";

/** The network of this invented rubber is its equilibrium modulus of 2 MPa, made to rise with T as an ideal one does. */
const rubber = wedgeModel(wedgeMaterials["natural-rubber-like"]);
const truth_Pa = (temperature_C: number) => (2e6 * (temperature_C + 273.15)) / 293.15;

function entropicSweep(making: SweepMaking = {}, file = "sweep.csv"): DynamicMeasurement {
  const sweep = makeSweep(rubber, { to_C: 80, ...making });
  const scale = (moduli: Float64Array) =>
    moduli.map((modulus, i) => (modulus * (sweep.temperature_C[i] + 273.15)) / 293.15);
  return {
    ...sweep,
    storageModulus_Pa: scale(sweep.storageModulus_Pa),
    lossModulus_Pa: scale(sweep.lossModulus_Pa),
    provenance: { ...sweep.provenance, file },
  };
}

const networkOf = (measurements: DynamicMeasurement[], options: Partial<typeof networkDefaults> = {}) =>
  rubberyNetwork(
    measurements,
    {
      compound: "made for a test",
      glassTransitions: measurements.flatMap((measurement) => glassTransitions(measurement).transitions),
      model: null,
      draws: [],
    },
    { ...networkDefaults, ...options },
  );

describe("the network of a known rubber", () => {
  it("comes back from a temperature sweep with E = 3G, said so", () => {
    const { network } = networkOf([entropicSweep({ frequencies_Hz: [1, 10] })], { density_kg_m3: 930 });
    const {
      plateauModulus_Pa,
      temperature_C,
      networkDensity_mol_m3: nu,
      chainMolarMass_g_mol: Mc,
    } = network!;
    expect(network!.frequency_Hz).toBe(1);
    expect(plateauModulus_Pa.value / truth_Pa(temperature_C)).toBeCloseTo(1, 1);
    expect(plateauModulus_Pa.low!).toBeLessThan(truth_Pa(temperature_C));
    expect(network!.shearModulus_Pa!.value).toBeCloseTo(plateauModulus_Pa.value / 3, 6);
    expect(network!.shearModulusReading).toContain("G = E/3");
    // ν = G/(RT) does not depend on where on the plateau it is read.
    const expected = networkDensity_mol_m3(2e6 / 3, 20);
    expect(nu!.value / expected).toBeCloseTo(1, 1);
    expect(Mc!.value).toBeCloseTo((1000 * 930) / nu!.value, 9);
    expect(Mc!.low!).toBeCloseTo((1000 * 930) / nu!.high!, 9);
    expect(network!.caution).toContain("stiffening by filler");
  });

  it("is inside its interval about as often as it says", () => {
    let covered = 0;
    const runs = 60;
    // Against the same sweep without noise, so that what is judged is the scatter and not the slow end of the spectrum.
    const exact = networkOf([entropicSweep({ noise: 0 })]).network!.networkDensity_mol_m3!.value;
    for (let seed = 1; seed <= runs; seed++) {
      const { networkDensity_mol_m3: nu } = networkOf([entropicSweep({ noise: 0.02, seed })]).network!;
      if (nu!.low! <= exact && nu!.high! >= exact) covered++;
    }
    console.info(`network density covered in ${covered} of ${runs}`);
    expect(covered).toBeGreaterThanOrEqual(0.85 * runs);
  });

  it("takes sweeps of several files as repeats, whose spread makes the interval", () => {
    const files = [1, 1.1, 1.2].map((factor, i) => {
      const sweep = entropicSweep({ noise: 0.002, seed: i + 1 }, `run ${i + 1}.csv`);
      const scale = (moduli: Float64Array) => moduli.map((modulus) => factor * modulus);
      const { storageModulus_Pa, lossModulus_Pa } = sweep;
      return { ...sweep, storageModulus_Pa: scale(storageModulus_Pa), lossModulus_Pa: scale(lossModulus_Pa) };
    });
    const { network } = networkOf(files);
    expect(network!.paths).toEqual(["run 1.csv", "run 2.csv", "run 3.csv"]);
    const each = files.map((file) => networkOf([file]).network!.networkDensity_mol_m3!.value);
    expect(network!.networkDensity_mol_m3!.value / Math.cbrt(each[0] * each[1] * each[2])).toBeCloseTo(1, 9);
    // ln 1, ln 1.1, ln 1.2: standard deviation 0.0913, times t(2) = 4.303 over √3.
    expect(Math.log(network!.plateauModulus_Pa.high! / network!.plateauModulus_Pa.value)).toBeCloseTo(
      (4.303 * 0.0913) / Math.sqrt(3),
      1,
    );
  });

  it("takes the filler out by Guth–Gold beside the apparent value, with a caution", () => {
    const { network, notices } = networkOf([entropicSweep()], {
      density_kg_m3: 1100,
      fillerVolumeFraction: 0.3,
      rubberDensity_kg_m3: 920,
    });
    const { withoutFiller, networkDensity_mol_m3: nu } = network!;
    expect(nu!.value / withoutFiller!.networkDensity_mol_m3.value).toBeCloseTo(3.019, 9);
    expect(withoutFiller!.chainMolarMass_g_mol!.value).toBeCloseTo(
      920e3 / withoutFiller!.networkDensity_mol_m3.value,
      9,
    );
    expect(notices).toContainEqual(
      expect.objectContaining({ code: "fit.network-counts-filler", severity: "caution" }),
    );
  });

  it("comes from the master curve where no temperature sweep shows it", () => {
    const model = {
      ...rubber,
      lowestTemperature_C: -90,
      highestTemperature_C: 60,
      lowestReducedFrequency_Hz: 0,
    };
    // 0.1 Hz at 60 °C, the slowest state of these isotherms.
    const atWarmEnd = 0.1 * 10 ** -((16.7 * 133) / (53.6 + 133));
    const measured = { ...model, lowestReducedFrequency_Hz: atWarmEnd };
    const { network } = rubberyNetwork(
      [],
      { compound: "isotherms", glassTransitions: [], model: measured, draws: exampleDraws(measured, 40) },
      { ...networkDefaults, density_kg_m3: 930 },
    );
    expect(network!.basis).toBe("master curve");
    expect(network!.frequency_Hz).toBeCloseTo(0.1, 6);
    expect(network!.plateauModulus_Pa.value / 2e6).toBeCloseTo(1, 1);
    expect(network!.plateauModulus_Pa.low!).toBeLessThan(network!.plateauModulus_Pa.value);
    expect(network!.plateauModulus_Pa.high!).toBeGreaterThan(network!.plateauModulus_Pa.value);
  });
});

describe("no network", () => {
  const codes = (result: ReturnType<typeof networkOf>) => result.notices.map(({ code }) => code);

  it("and nothing said of it where nothing was swept over temperature", () => {
    expect(
      rubberyNetwork([], { compound: "rebound alone", glassTransitions: [], model: null, draws: [] }).notices,
    ).toEqual([]);
  });

  it("where the sweep ends in the transition or just above; the notice says how far to go", () => {
    for (const to_C of [-70, -30]) {
      const result = networkOf([entropicSweep({ to_C })]);
      expect(result.network).toBeNull();
      expect(codes(result)).toEqual(["fit.no-plateau"]);
    }
    expect(networkOf([entropicSweep({ to_C: -30 })]).notices[0].message).toMatch(
      /up to −?\d+ °C or more at 1 Hz/,
    );
  });

  it.each([-0.2004, 0.20041, -0.204, -0.26])(
    "where M′/T drifts by %f, whose words lie past the border",
    (drift) => {
      const { message } = noPlateauNotice("Hazel 55", [], { absent: "not flat", drift });
      const [, said, most] = /changes by (−?[\d.]+) % .* and (\d+) % is the most/.exec(message)!;
      expect(Math.abs(Number(said.replace("−", "-")))).toBeGreaterThan(Number(most));
    },
  );

  it("of a material that flows before any plateau, and asks for no warmer sweep", () => {
    const absence = { absent: "ends too early" as const, drift: null };
    const { message } = noPlateauNotice("binder", [], absence, 80);
    expect(message).toMatch(/flows when warm, before any plateau up to 80 °C at 1 Hz\.$/);
    expect(message).not.toContain("Sweep");
  });

  it("where the modulus never comes to rest, as in flow", () => {
    const sweep = entropicSweep();
    const flowing = (moduli: Float64Array) =>
      moduli.map((modulus, i) => modulus * Math.exp(-0.02 * Math.max(0, sweep.temperature_C[i] + 60)));
    const result = networkOf([
      {
        ...sweep,
        storageModulus_Pa: flowing(sweep.storageModulus_Pa),
        lossModulus_Pa: flowing(sweep.lossModulus_Pa),
      },
    ]);
    expect(result.network).toBeNull();
    expect(result.notices[0].message).toContain("steadiest");
  });

  it("density where the mode is not stated, for E would count three times", () => {
    const result = networkOf([{ ...entropicSweep(), deformation: "unstated" }], { density_kg_m3: 930 });
    expect(result.network).toMatchObject({
      shearModulus_Pa: null,
      networkDensity_mol_m3: null,
      chainMolarMass_g_mol: null,
    });
    expect(result.network!.plateauModulus_Pa.value).toBeGreaterThan(1e6);
    expect(codes(result)).toContain("fit.network-mode-unstated");
  });

  it("Mc without a density, said so", () => {
    const result = networkOf([entropicSweep()]);
    expect(result.network!.chainMolarMass_g_mol).toBeNull();
    expect(codes(result)).toContain("fit.network-no-density");
  });

  it("nor mixes modes: the mode with more plateaus speaks", () => {
    const shear = (file: string) => ({ ...entropicSweep({}, file), deformation: "shear" as const });
    const { network } = networkOf([entropicSweep({}, "tension.csv"), shear("a.csv"), shear("b.csv")]);
    expect(network!.deformation).toBe("shear");
    expect(network!.paths).toEqual(["a.csv", "b.csv"]);
  });
});
