/** AᵀA and Aᵀb of a weighted Maxwell kernel A; see `maxwellGram`. */
export interface MaxwellGram {
  /** (m + 1) × (m + 1), symmetric, row by row; the equilibrium modulus last. */
  gram: Float64Array;
  /** m + 1 numbers. */
  linear: Float64Array;
}

/**
 * The normal equations of the kernel that `maxwellKernel` writes, without writing it. With y = ω²τ²/(1 + ω²τ²) the product of
 * two modes' columns falls into partial fractions, a = τ²:
 *
 * - storage: y_j y_k = (a_j y_k − a_k y_j)/(a_j − a_k)
 * - loss: ωτ_j/(1 + ω²a_j) · ωτ_k/(1 + ω²a_k) = τ_j τ_k (y_j − y_k)/(a_j − a_k)
 *
 * so that the sums over the n points need one pass a mode, O(n m), and the m² elements are made of those sums. The
 * differences lose at most what neighbouring times lose: a_j − a_k of a fifth of a decade is 0.6 a_j.
 *
 * @param angularFrequency_rad_s n frequencies
 * @param storageWeight, lossWeight n each, in 1/Pa
 * @param target 2n weighted data, storage first (`weightedModuli`)
 * @param times_s m times, ascending, no two alike
 */
export function maxwellGram(
  angularFrequency_rad_s: Float64Array,
  storageWeight: Float64Array,
  lossWeight: Float64Array,
  target: Float64Array,
  times_s: Float64Array,
): MaxwellGram {
  const n = angularFrequency_rad_s.length;
  const modes = times_s.length;
  const size = modes + 1;
  const gram = new Float64Array(size * size);
  const linear = new Float64Array(size);
  const storageSum = new Float64Array(modes);
  const lossSum = new Float64Array(modes);
  for (let j = 0; j < modes; j++) {
    const time_s = times_s[j];
    let storage = 0;
    let loss = 0;
    let diagonal = 0;
    let data = 0;
    for (let i = 0; i < n; i++) {
      const x = angularFrequency_rad_s[i] * time_s;
      const share = 1 / (1 + x * x);
      const y = x * x * share;
      const z = x * share;
      const storageWeightHere = storageWeight[i];
      const lossWeightHere = lossWeight[i];
      const s = storageWeightHere * y;
      const l = lossWeightHere * z;
      storage += storageWeightHere * s;
      loss += lossWeightHere * lossWeightHere * y;
      diagonal += s * s + l * l;
      data += s * target[i] + l * target[n + i];
    }
    storageSum[j] = storage;
    lossSum[j] = loss;
    gram[j * size + j] = diagonal;
    linear[j] = data;
  }
  for (let j = 1; j < modes; j++) {
    const a = times_s[j] * times_s[j];
    for (let k = 0; k < j; k++) {
      const b = times_s[k] * times_s[k];
      const product = times_s[j] * times_s[k];
      const value = (a * storageSum[k] - b * storageSum[j] + product * (lossSum[j] - lossSum[k])) / (a - b);
      gram[j * size + k] = value;
      gram[k * size + j] = value;
    }
  }
  let equilibrium = 0;
  for (let i = 0; i < n; i++) {
    equilibrium += storageWeight[i] * storageWeight[i];
    linear[modes] += storageWeight[i] * target[i];
  }
  for (let j = 0; j < modes; j++) {
    gram[j * size + modes] = storageSum[j];
    gram[modes * size + j] = storageSum[j];
  }
  gram[modes * size + modes] = equilibrium;
  return { gram, linear };
}
