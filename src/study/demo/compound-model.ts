import type { ComplexModulus } from "../../fit/spectrum/complex-modulus.js";
import {
  complexModulus,
  type RelaxationModel,
  relaxationModulus,
} from "../../fit/spectrum/relaxation-model.js";
import { log10ShiftFactor, type WlfLaw, zeroCelsius_K } from "../../fit/spectrum/shift-law.js";
import { atan2, cos, sin } from "../../numeric/elementary/angle.js";
import { exp, exp10 } from "../../numeric/elementary/exponential.js";
import { power, square } from "../../numeric/elementary/power.js";
import type { DemoCompound, DemoPhase } from "./compounds.js";

/** Modes of the discrete spectrum per decade of time: a test holds the ripple against the continuous shape. */
const modesPerDecade = 5;
/** Decades either side of the transition's own time that the discrete spectrum spans. */
const lowestDecade = -26;
const highestDecade = 14;
/** Time of the transition at its own glass temperature: of the order a static measurement waits (common practice). */
export const timeAtGlassTransition_s = 20;
const localDecades = 8;

/**
 * Havriliak–Negami spectrum of the transition, per unit of ln τ and normalised to one:
 * 1/(1+(iωτ0)^α)^β = ∫ g(ln τ)/(1+iωτ) d ln τ (Havriliak and Negami, Polymer 8, 161, 1967; from memory).
 * With the modulus Mg·(1 − that) each g(ln τ) is a Maxwell mode. `x` is τ/τ0.
 */
export function havriliakNegamiSpectrum(x: number, alpha: number, beta: number): number {
  const raised = power(x, alpha);
  const sine = sin(Math.PI * alpha);
  const cosine = cos(Math.PI * alpha);
  const angle = atan2(sine, raised + cosine);
  const denominator = power(square(raised) + 2 * raised * cosine + 1, beta / 2);
  return (power(raised, beta) * sin(beta * angle)) / (Math.PI * denominator);
}

/** Normal density in log10 τ, turned into one per unit of ln τ; arguments in decades. */
function logNormalSpectrum(decade: number, centre: number, width: number): number {
  const distance = (decade - centre) / width;
  return exp(-0.5 * distance * distance) / (Math.sqrt(2 * Math.PI) * width * Math.LN10);
}

/** Spectral strength H(ln τ) of transition and slow losses in Pa, `decade` = log10(τ/τ0), τ0 the transition's time. */
function spectrumDensity_Pa(phase: DemoPhase, decade: number): number {
  const { transition, slow, local } = phase;
  return (
    phase.glassyModulus_Pa *
      (1 - local.share) *
      havriliakNegamiSpectrum(exp10(decade), transition.alpha, transition.beta) +
    slow.modulus_Pa * logNormalSpectrum(decade, slow.centre_decades, slow.width_decades)
  );
}

/** The shift law of a phase: its constants at its glass transition, an Arrhenius tangent below. */
function phaseLaw(phase: DemoPhase): WlfLaw {
  return {
    kind: "wlf",
    referenceTemperature_C: phase.glassTransition_C,
    c1: phase.c1,
    c2_K: phase.c2_K,
    tangentBelow_C: phase.glassTransition_C,
  };
}

const everywhere = {
  verticalShift: { kind: "off" },
  lowestReducedFrequency_Hz: 0,
  highestReducedFrequency_Hz: Number.POSITIVE_INFINITY,
  lowestTemperature_C: -zeroCelsius_K,
  highestTemperature_C: 1000,
} as const;

/** Network, transition and slow losses of a phase, at its glass transition; moduli carry the phase's share. */
export function transitionModel(compound: DemoCompound, phase: DemoPhase): RelaxationModel {
  const count = (highestDecade - lowestDecade) * modesPerDecade + 1;
  const decades = Float64Array.from({ length: count }, (_, i) => lowestDecade + i / modesPerDecade);
  const step_ln = Math.LN10 / modesPerDecade;
  return {
    ...everywhere,
    deformation: compound.deformation,
    law: phaseLaw(phase),
    equilibriumModulus_Pa: phase.share * phase.rubberModulus_Pa,
    times_s: decades.map((decade) => timeAtGlassTransition_s * exp10(decade)),
    moduli_Pa: decades.map((decade) => phase.share * spectrumDensity_Pa(phase, decade) * step_ln),
  };
}

/** The local motions of a phase: they have no equilibrium modulus and do not follow the transition's shift. */
function localModel(compound: DemoCompound, phase: DemoPhase): RelaxationModel {
  const { share, slowest_s, activationEnergy_J_mol } = phase.local;
  const count = localDecades * modesPerDecade;
  return {
    ...everywhere,
    deformation: compound.deformation,
    law: { kind: "arrhenius", referenceTemperature_C: phase.glassTransition_C, activationEnergy_J_mol },
    equilibriumModulus_Pa: 0,
    times_s: Float64Array.from({ length: count }, (_, i) => slowest_s * exp10(-i / modesPerDecade)),
    moduli_Pa: new Float64Array(count).fill((phase.share * phase.glassyModulus_Pa * share) / count),
  };
}

/** The exact behaviour of a demo compound: the truth its files are made from. */
export interface CompoundModel {
  /** Complex modulus in the compound's own deformation mode, Pa. */
  complexModulus(temperature_C: number, frequency_Hz: number): ComplexModulus;
  /** Relaxation modulus, Pa. */
  relaxationModulus(temperature_C: number, time_s: number): number;
  /** One spectrum for all phases at a temperature, for an impact or a friction integral there. */
  modelAt(temperature_C: number): RelaxationModel;
}

/** Phases are summed by their shares: each keeps its own transition and shift constants. */
export function compoundModel(compound: DemoCompound): CompoundModel {
  const parts = compound.phases.flatMap((phase) => [
    transitionModel(compound, phase),
    localModel(compound, phase),
  ]);
  return {
    complexModulus(temperature_C, frequency_Hz) {
      let storageModulus_Pa = 0;
      let lossModulus_Pa = 0;
      for (const part of parts) {
        const modulus = complexModulus(part, temperature_C, frequency_Hz);
        storageModulus_Pa += modulus.storageModulus_Pa;
        lossModulus_Pa += modulus.lossModulus_Pa;
      }
      return { storageModulus_Pa, lossModulus_Pa };
    },
    relaxationModulus(temperature_C, time_s) {
      return parts.reduce((sum, part) => sum + relaxationModulus(part, temperature_C, time_s), 0);
    },
    modelAt(temperature_C) {
      const times_s: number[] = [];
      const moduli_Pa: number[] = [];
      let equilibriumModulus_Pa = 0;
      for (const part of parts) {
        const factor = exp10(log10ShiftFactor(part.law, temperature_C));
        equilibriumModulus_Pa += part.equilibriumModulus_Pa;
        for (let i = 0; i < part.times_s.length; i++) {
          times_s.push(part.times_s[i] * factor);
          moduli_Pa.push(part.moduli_Pa[i]);
        }
      }
      return {
        ...everywhere,
        deformation: compound.deformation,
        law: { ...phaseLaw(compound.phases[0]), referenceTemperature_C: temperature_C, tangentBelow_C: null },
        equilibriumModulus_Pa,
        times_s: Float64Array.from(times_s),
        moduli_Pa: Float64Array.from(moduli_Pa),
      };
    },
  };
}

/** Temperatures of all maxima of tan δ between −110 and +60 °C, on a 0.02 K grid, rising; °C. */
export function tanDeltaPeaks_C(model: CompoundModel, frequency_Hz: number): number[] {
  const step_K = 0.02;
  const count = Math.round(170 / step_K);
  const values = Float64Array.from({ length: count + 1 }, (_, i) => {
    const { storageModulus_Pa, lossModulus_Pa } = model.complexModulus(-110 + i * step_K, frequency_Hz);
    return lossModulus_Pa / storageModulus_Pa;
  });
  const peaks: number[] = [];
  for (let i = 1; i < count; i++) {
    if (values[i] > values[i - 1] && values[i] >= values[i + 1] && values[i] > 0.2)
      peaks.push(-110 + i * step_K);
  }
  return peaks;
}
