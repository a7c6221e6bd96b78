import type { TensileSpectrum } from "./tensile-spectrum.js";

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
 */
export function angleIntegrals(spectrum: TensileSpectrum): (frequency_rad_s: number) => AngleIntegrals {
  const { equilibriumModulus_Pa, times_s, moduli_Pa } = spectrum;
  const n = times_s.length;
  const residues_Pa2 = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let laplace_Pa = equilibriumModulus_Pa;
    for (let j = 0; j < n; j++) laplace_Pa += (moduli_Pa[j] * times_s[j]) / (times_s[i] + times_s[j]);
    residues_Pa2[i] = 2 * moduli_Pa[i] * laplace_Pa;
  }
  return (frequency_rad_s) => {
    let loss = 0;
    let magnitude = equilibriumModulus_Pa * equilibriumModulus_Pa;
    for (let i = 0; i < n; i++) {
      const a = frequency_rad_s * times_s[i];
      const s = Math.sqrt(1 + a * a);
      const share = a / (s * (1 + s));
      loss += moduli_Pa[i] * share;
      magnitude += residues_Pa2[i] * a * share;
    }
    return { lossModulus_Pa: 2 * Math.PI * loss, magnitude_Pa2: 2 * Math.PI * magnitude };
  };
}
