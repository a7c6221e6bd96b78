import { exp10 } from "../../numeric/elementary/exponential.js";
import { power } from "../../numeric/elementary/power.js";
import { type ComplexModulus, complexPower, complexSum } from "./complex-modulus.js";
import { densityTemperatureFactor, rubberExpansion_per_K } from "./density-temperature.js";
import { log10ShiftFactor, type ShiftLaw } from "./shift-law.js";

/** A phase as it enters a mixing rule: its modulus times its volume fraction to the power 1/n. */
export interface MixedPhase {
  /** At the same reference temperature as the model's own law. */
  law: ShiftLaw;
  times_s: Float64Array;
  moduli_Pa: Float64Array;
  equilibriumModulus_Pa: number;
  /** Of what rubber elasticity asks, moduli in proportion to T ρ: 1 all of it, 0 none. */
  entropicPart: number;
  lowestReducedFrequency_Hz: number;
  highestReducedFrequency_Hz: number;
}

/**
 * The moduli of a blend by a power law of mixing, M*ⁿ = M1*ⁿ + M2*ⁿ with the volume fractions in M1 and M2 (n = 1: side by
 * side; 1/3: Looyenga, Physica 31, 401, 1965; 1/5, both phases continuous: Davies, J. Phys. D 4, 1176, 1971; from memory).
 */
export interface PhaseMixing {
  exponent: number;
  phases: readonly [MixedPhase, MixedPhase];
  /** Root mean square relative misfit. */
  misfit: number;
}

/** Me + Σ Mi iωτi/(1+iωτi) of one phase; Pa. @param angularFrequency_rad_s at its reference temperature */
export function mixedPhaseModulus(
  {
    equilibriumModulus_Pa,
    times_s,
    moduli_Pa,
  }: Pick<MixedPhase, "equilibriumModulus_Pa" | "times_s" | "moduli_Pa">,
  angularFrequency_rad_s: number,
): ComplexModulus {
  let storageModulus_Pa = equilibriumModulus_Pa;
  let lossModulus_Pa = 0;
  for (let i = 0; i < times_s.length; i++) {
    const x = angularFrequency_rad_s * times_s[i];
    const loss_Pa = moduli_Pa[i] / (x + 1 / x);
    lossModulus_Pa += loss_Pa;
    storageModulus_Pa += loss_Pa * x;
  }
  return { storageModulus_Pa, lossModulus_Pa };
}

/** What a phase's moduli at a temperature are to those at the reference temperature of its law, at equal reduced frequency. */
export function entropicFactor(law: ShiftLaw, temperature_C: number, entropicPart: number): number {
  return power(
    densityTemperatureFactor(temperature_C, law.referenceTemperature_C, rubberExpansion_per_K),
    -entropicPart,
  );
}

/** Complex modulus of the mixture at a temperature and frequency; Pa. */
export function mixedModulus(
  { exponent, phases }: PhaseMixing,
  temperature_C: number,
  frequency_Hz: number,
): ComplexModulus {
  const [a, b] = phases.map((phase) => poweredPhase(phase, exponent, temperature_C, frequency_Hz));
  return complexPower(complexSum(a, b), 1 / exponent);
}

/** A phase's complex modulus in Pa at a temperature and frequency to the power of the mixing rule, M*ⁿ. */
export function poweredPhase(
  phase: Pick<MixedPhase, "law" | "times_s" | "moduli_Pa" | "equilibriumModulus_Pa" | "entropicPart">,
  exponent: number,
  temperature_C: number,
  frequency_Hz: number,
): ComplexModulus {
  const w = 2 * Math.PI * frequency_Hz * exp10(log10ShiftFactor(phase.law, temperature_C));
  const { storageModulus_Pa, lossModulus_Pa } = mixedPhaseModulus(phase, w);
  const factor = entropicFactor(phase.law, temperature_C, phase.entropicPart);
  return complexPower(
    { storageModulus_Pa: factor * storageModulus_Pa, lossModulus_Pa: factor * lossModulus_Pa },
    exponent,
  );
}

/** Relative misfit of what a blend's peaks are read from; undefined for one law. */
export const misfitOfPeaks = ({ misfit, mixing }: { misfit?: number; mixing?: PhaseMixing }) =>
  mixing?.misfit ?? misfit;
