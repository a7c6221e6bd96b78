import { atan2, cos, sin } from "../../numeric/elementary/angle.js";
import { exp, exp10 } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import type { ComplexModulus, FurtherPhase } from "./relaxation-model.js";
import { log10ShiftFactor } from "./shift-law.js";

/** A phase as it enters a mixing rule: its modulus times its volume fraction to the power 1/n. */
export interface MixedPhase extends FurtherPhase {
  equilibriumModulus_Pa: number;
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

/** z to a real power. */
export function complexPower({ storageModulus_Pa, lossModulus_Pa }: ComplexModulus, exponent: number) {
  const size = exp(
    0.5 * exponent * ln(storageModulus_Pa * storageModulus_Pa + lossModulus_Pa * lossModulus_Pa),
  );
  const angle = exponent * atan2(lossModulus_Pa, storageModulus_Pa);
  return { storageModulus_Pa: size * cos(angle), lossModulus_Pa: size * sin(angle) };
}

/** Me + Σ Mi iωτi/(1+iωτi) of one phase as it enters the rule; Pa. @param angularFrequency_rad_s at its reference temperature */
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

/** Complex modulus of the mixture at a temperature and frequency; Pa. */
export function mixedModulus(
  { exponent, phases }: PhaseMixing,
  temperature_C: number,
  frequency_Hz: number,
): ComplexModulus {
  const sum = { storageModulus_Pa: 0, lossModulus_Pa: 0 };
  for (const phase of phases) {
    const w = 2 * Math.PI * frequency_Hz * exp10(log10ShiftFactor(phase.law, temperature_C));
    const part = complexPower(mixedPhaseModulus(phase, w), exponent);
    sum.storageModulus_Pa += part.storageModulus_Pa;
    sum.lossModulus_Pa += part.lossModulus_Pa;
  }
  return complexPower(sum, 1 / exponent);
}
