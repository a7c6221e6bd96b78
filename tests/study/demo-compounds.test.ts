import { describe, expect, it } from "vitest";
import { maxwellModulus } from "../../src/fit/spectrum/relaxation-model.js";
import {
  compoundModel,
  havriliakNegamiSpectrum,
  tanDeltaPeaks_C,
  timeAtGlassTransition_s,
  transitionModel,
} from "../../src/study/demo/compound-model.js";
import {
  alderN,
  birch48,
  birch60,
  birchGum,
  demoCompounds,
  fillerVolumeFraction,
  juniper55,
  mapleDuo,
} from "../../src/study/demo/compounds.js";
import { exactRebound } from "../../src/study/demo/rebound-table.js";

/** 1 − (1 + (iωτ)^α)^(−β) in closed form: Havriliak and Negami, Polymer 8, 161 (1967), from memory. */
function havriliakNegami(x: number, alpha: number, beta: number): { real: number; imaginary: number } {
  const power = x ** alpha;
  const real = 1 + power * Math.cos((Math.PI * alpha) / 2);
  const imaginary = power * Math.sin((Math.PI * alpha) / 2);
  const size = Math.hypot(real, imaginary) ** -beta;
  const angle = -beta * Math.atan2(imaginary, real);
  return { real: 1 - size * Math.cos(angle), imaginary: -size * Math.sin(angle) };
}

describe("the spectra of the demo compounds", () => {
  it("has the area one under the Havriliak–Negami spectrum", () => {
    const step = 0.01;
    let area = 0;
    for (let ln = -120; ln < 40; ln += step) area += havriliakNegamiSpectrum(Math.exp(ln), 0.74, 0.26) * step;
    expect(area).toBeCloseTo(1, 5);
  });

  it("gives the closed form of the transition back from its discrete modes", () => {
    const compound = {
      ...birch60,
      phases: birch60.phases.map((phase) => ({
        ...phase,
        rubberModulus_Pa: 0,
        slow: { ...phase.slow, modulus_Pa: 0 },
      })),
    };
    const [phase] = compound.phases;
    const model = transitionModel(compound, phase);
    const strength = phase.glassyModulus_Pa * (1 - phase.local.share);
    for (let decade = -4; decade <= 10; decade += 0.13) {
      const omega = 10 ** decade / timeAtGlassTransition_s;
      const found = maxwellModulus(model, omega);
      const exact = havriliakNegami(10 ** decade, phase.transition.alpha, phase.transition.beta);
      expect(Math.abs(found.storageModulus_Pa / (strength * exact.real) - 1)).toBeLessThan(2e-3);
      expect(Math.abs(found.lossModulus_Pa / (strength * exact.imaginary) - 1)).toBeLessThan(2e-3);
    }
  });

  it.each(demoCompounds)("$name has its tan δ maxima where the table says", (compound) => {
    const model = compoundModel(compound);
    for (const [frequency_Hz, stated] of [
      [1, compound.tanDeltaPeaks_C.at1Hz],
      [10, compound.tanDeltaPeaks_C.at10Hz],
    ] as const) {
      const found = tanDeltaPeaks_C(model, frequency_Hz);
      expect(found).toHaveLength(stated.length);
      found.forEach((temperature_C, i) => {
        expect(Math.abs(temperature_C - stated[i])).toBeLessThan(0.3);
      });
    }
  });

  it.each(demoCompounds)("$name stays inside the ranges of real rubbers (common practice)", (compound) => {
    const model = compoundModel(compound);
    const shear = compound.deformation === "shear";
    const at = (temperature_C: number) => model.complexModulus(temperature_C, 10);
    // Domains that let go beyond 60 °C are glass inside the rubber, and no transition of it.
    const transitions_C = compound.phases.map((phase) => phase.glassTransition_C).filter((Tg_C) => Tg_C < 60);
    const highestTransition_C = Math.max(...transitions_C);
    const glassy_Pa = at(-110).storageModulus_Pa;
    expect(glassy_Pa).toBeGreaterThan(shear ? 0.5e9 : 1.7e9);
    expect(glassy_Pa).toBeLessThan(shear ? 1.2e9 : 3e9);
    const rubbery_Pa = at(60).storageModulus_Pa;
    expect(rubbery_Pa).toBeGreaterThan(shear ? 0.4e6 : 3e6);
    expect(rubbery_Pa).toBeLessThan(shear ? 5e6 : 15e6);
    const tanDelta60 = at(60).lossModulus_Pa / rubbery_Pa;
    expect(tanDelta60).toBeGreaterThan(compound.filler ? 0.05 : 0.005);
    expect(tanDelta60).toBeLessThan(0.25);
    const peak_C = compound.tanDeltaPeaks_C.at10Hz[compound.tanDeltaPeaks_C.at10Hz.length - 1];
    const peak = at(peak_C);
    expect(peak.lossModulus_Pa / peak.storageModulus_Pa).toBeGreaterThan(0.4);
    expect(peak.lossModulus_Pa / peak.storageModulus_Pa).toBeLessThan(2.6);
    expect(peak_C - highestTransition_C).toBeGreaterThan(10);
    expect(peak_C - highestTransition_C).toBeLessThan(21);
  });

  it("hangs the static transitions where a handbook has them", () => {
    // Handbook of Plastics Technologies, McGraw-Hill 2006, Table 4.1: natural −60, styrene-butadiene −52, chloroprene −43 °C.
    expect(birch60.phases[0].glassTransition_C).toBe(-60);
    expect(alderN.phases[0].glassTransition_C).toBe(-52);
    expect(juniper55.phases[0].glassTransition_C).toBe(-43);
  });

  it("stiffens the network with filler as Guth and Gold say", () => {
    // M/M0 = 1 + 2.5φ + 14.1φ² (Guth, J. Appl. Phys. 16, 20, 1945), φ by hand from phr and densities.
    const fraction = 50 / 1800 / (50 / 1800 + 100 / 920);
    expect(fillerVolumeFraction(birch60.filler!)).toBeCloseTo(fraction, 12);
    const ratio = birch60.phases[0].rubberModulus_Pa / birchGum.phases[0].rubberModulus_Pa;
    expect(ratio).toBeCloseTo(1 + 2.5 * fraction + 14.1 * fraction ** 2, 10);
    expect(birch48.phases[0].rubberModulus_Pa).toBeGreaterThan(birchGum.phases[0].rubberModulus_Pa);
  });

  it("sums the phases of the blend, each with its own shift", () => {
    const whole = compoundModel(mapleDuo).complexModulus(-20, 10);
    const parts = mapleDuo.phases.map((phase) =>
      compoundModel({ ...mapleDuo, phases: [phase] }).complexModulus(-20, 10),
    );
    expect(whole.storageModulus_Pa).toBeCloseTo(parts[0].storageModulus_Pa + parts[1].storageModulus_Pa, 0);
    expect(whole.lossModulus_Pa).toBeCloseTo(parts[0].lossModulus_Pa + parts[1].lossModulus_Pa, 0);
  });

  it.each([-70, -20, 23])("shows the same modulus through its one spectrum at %d °C", (temperature_C) => {
    const model = compoundModel(mapleDuo);
    const direct = model.complexModulus(temperature_C, 10);
    const moved = maxwellModulus(model.modelAt(temperature_C), 2 * Math.PI * 10);
    expect(moved.storageModulus_Pa / direct.storageModulus_Pa).toBeCloseTo(1, 10);
    expect(moved.lossModulus_Pa / direct.lossModulus_Pa).toBeCloseTo(1, 10);
  });

  it("throws a ball back best from the winter compound and worst at a transition", () => {
    const [birch, rowan, , , spruce, linden] = demoCompounds;
    expect(exactRebound(rowan, 0)).toBeGreaterThan(exactRebound(birch, 0));
    expect(exactRebound(spruce, 0)).toBeLessThan(0.15);
    expect(exactRebound(linden, 60)).toBeGreaterThan(exactRebound(rowan, 60));
  });
});
