import { cube } from "../../numeric/elementary/power.js";
import type { TensileSpectrum } from "./tensile-spectrum.js";

/**
 * a = w τ below which a/(s (1 + s)) is a/2 − 3 a³/8 to 1e-7, and above which it is 1/a − 1/a² to 1e-7 (their next terms
 * are of relative order a⁴ and 1/a³).
 */
const fastBelow = 0.02;
const slowAbove = 200;

/** The two integrals over the sliding direction, at one wave number's own frequency w = q v. */
export interface AngleIntegrals {
  /** A(w) = ∫₀^{2π} cos φ Im E(w cos φ) dφ, Pa. */
  lossModulus_Pa: number;
  /** B(w) = ∫₀^{2π} |E(w cos φ)|² dφ, Pa². */
  magnitude_Pa2: number;
}

/**
 * A spectrum readied for the angle integrals of hysteresis friction, which a generalised Maxwell body has in
 * closed form. With a_i = w τ_i, s_i = √(1 + a_i²) and Ê(p) = Ee + Σ E_j p τ_j/(1 + p τ_j) the modulus on
 * the real Laplace axis,
 *
 *   A(w) = 2π Σ E_i a_i / (s_i (1 + s_i)),
 *   B(w) = 2π [Ee² + 2 Σ E_i Ê(1/τ_i) a_i² / (s_i (1 + s_i))].
 *
 * Both follow from ∫₀^{2π} dφ/(1 + a² cos²φ) = 2π/s and the partial fractions of |E|² = E(iω) E(−iω) in ω²,
 * whose poles are simple, at ω² = −1/τ_i², with residues −2 E_i Ê(1/τ_i) (derived; checked against quad).
 *
 * @param lowest_rad_s the lowest frequency that will be asked for; `highest_rad_s` the highest. The fewer decades, the less work
 */
export function angleIntegrals(
  spectrum: TensileSpectrum,
  lowest_rad_s = 0,
  highest_rad_s = Number.POSITIVE_INFINITY,
): (frequency_rad_s: number) => AngleIntegrals {
  const { equilibriumModulus_Pa, times_s, moduli_Pa } = spectrum;
  const n = times_s.length;
  const residues_Pa2 = new Float64Array(n).fill(equilibriumModulus_Pa);
  // Ê(1/τ_i), each pair of modes at once.
  for (let i = 0; i < n; i++) {
    const viscosity = moduli_Pa[i] * times_s[i];
    let laplace_Pa = residues_Pa2[i] + moduli_Pa[i] / 2;
    for (let j = 0; j < i; j++) {
      const rate = 1 / (times_s[i] + times_s[j]);
      laplace_Pa += moduli_Pa[j] * times_s[j] * rate;
      residues_Pa2[j] += viscosity * rate;
    }
    residues_Pa2[i] = laplace_Pa;
  }
  for (let i = 0; i < n; i++) residues_Pa2[i] *= 2 * moduli_Pa[i];
  // Modes that are fast or slow at every frequency asked for stand together, by the first terms of their series.
  const fast = { loss1: 0, loss3: 0, square: 0, fourth: 0 };
  const slow = { loss1: 0, loss2: 0, whole: 0, rate: 0 };
  const times = new Float64Array(n);
  const strengths = new Float64Array(n);
  const residues = new Float64Array(n);
  let near = 0;
  for (let i = 0; i < n; i++) {
    const [modulus, residue, time] = [moduli_Pa[i], residues_Pa2[i], times_s[i]];
    if (highest_rad_s * time < fastBelow) {
      const cube3 = cube(time);
      fast.loss1 += (modulus * time) / 2;
      fast.loss3 += 0.375 * modulus * cube3;
      fast.square += (residue * time * time) / 2;
      fast.fourth += 0.375 * residue * cube3 * time;
    } else if (lowest_rad_s * time > slowAbove) {
      slow.loss1 += modulus / time;
      slow.loss2 += modulus / (time * time);
      slow.whole += residue;
      slow.rate += residue / time;
    } else {
      times[near] = time;
      strengths[near] = modulus;
      residues[near++] = residue;
    }
  }
  const constant = equilibriumModulus_Pa * equilibriumModulus_Pa + slow.whole;
  return (w) => {
    const w2 = w * w;
    let loss = w * (fast.loss1 - w2 * fast.loss3) + (slow.loss1 - slow.loss2 / w) / w;
    let magnitude = constant - slow.rate / w + w2 * (fast.square - w2 * fast.fourth);
    for (let i = 0; i < near; i++) {
      const a = w * times[i];
      const s = Math.sqrt(1 + a * a);
      const share = a / (s * (1 + s));
      loss += strengths[i] * share;
      magnitude += residues[i] * a * share;
    }
    return { lossModulus_Pa: 2 * Math.PI * loss, magnitude_Pa2: 2 * Math.PI * magnitude };
  };
}
