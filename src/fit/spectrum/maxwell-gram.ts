/** AᵀA and Aᵀb of a weighted Maxwell kernel A; see `maxwellGram`. */
export interface MaxwellGram {
  /** (m + 1) × (m + 1), symmetric, row by row; the equilibrium modulus last. */
  gram: Float64Array;
  /** m + 1 numbers. */
  linear: Float64Array;
}

/**
 * The normal equations of the kernel that `maxwellKernel` writes, without writing it. With a = τ², y = ω²a/(1 + ω²a) and
 * q = 1 − y the product of two modes' rows falls into partial fractions,
 *
 * - storage: y_j y_k = (a_j y_k − a_k y_j)/(a_j − a_k) = a_j a_k ω² (y_j − y_k)/(a_j − a_k)
 * - loss: y_j y_k/(ω² τ_j τ_k) = τ_j τ_k (y_j − y_k)/(a_j − a_k) = τ_j τ_k (q_k − q_j)/(a_j − a_k)
 *
 * so that the sums over n points take one pass a mode, O(n m), and the m² elements are made of those sums: 7 to 20 times as fast
 * as the product of matrices. Of the two forms each point takes the one in which little cancels: points slower than
 * the faster mode k the y_j − y_k, the others the rest. Without it a glass whose loss falls as 1/ω lost all digits.
 *
 * @param angularFrequency_rad_s n frequencies
 * @param storageWeight n weights in 1/Pa, and `lossWeight`
 * @param target 2n weighted data, storage first (`weightedModuli`)
 * @param times_s m times, ascending, some tenth of a decade apart or more
 * @param room written over and given back, where there is one of the same m
 */
export function maxwellGram(
  angularFrequency_rad_s: Float64Array,
  storageWeight: Float64Array,
  lossWeight: Float64Array,
  target: Float64Array,
  times_s: Float64Array,
  room: MaxwellGram | null = null,
): MaxwellGram {
  const n = angularFrequency_rad_s.length;
  const modes = times_s.length;
  const size = modes + 1;
  const isRoom = room !== null && room.linear.length === size;
  const { gram, linear } = isRoom
    ? room
    : { gram: new Float64Array(size * size), linear: new Float64Array(size) };
  const points = fastestFirst(angularFrequency_rad_s, storageWeight, lossWeight, target, times_s);
  const { omega, storageOf, lossOf, storageTarget, lossTarget, first } = points;
  let equilibrium = 0;
  let equilibriumData = 0;
  for (let i = 0; i < n; i++) {
    equilibrium += storageOf[i] * storageOf[i];
    equilibriumData += storageOf[i] * storageTarget[i];
  }
  gram[modes * size + modes] = equilibrium;
  linear[modes] = equilibriumData;
  // Sums over the points that are slower than so many modes; then, of each mode, over those slower than itself and the rest.
  const y1 = new Float64Array(size);
  const y2 = new Float64Array(size);
  const q2 = new Float64Array(size);
  const z1 = new Float64Array(size);
  const ownY1 = new Float64Array(modes);
  const ownY2 = new Float64Array(modes);
  const ownQ2 = new Float64Array(modes);
  const ownZ1 = new Float64Array(modes);
  for (let j = 0; j < modes; j++) {
    const time_s = times_s[j];
    const a = time_s * time_s;
    let diagonal = 0;
    let data = 0;
    for (let c = 0; c <= j; c++) {
      let sumY1 = 0;
      let sumZ1 = 0;
      let sumY2 = 0;
      let sumQ2 = 0;
      for (let i = first[c]; i < first[c + 1]; i++) {
        const x = omega[i] * time_s;
        const q = 1 / (1 + x * x);
        const y = x * x * q;
        const storage = storageOf[i] * y;
        const loss = lossOf[i] * x * q;
        const ownStorage = storageOf[i] * storage;
        sumY1 += ownStorage;
        sumZ1 += ownStorage * omega[i] * omega[i];
        sumY2 += lossOf[i] * lossOf[i] * y;
        sumQ2 += lossOf[i] * lossOf[i] * q;
        diagonal += storage * storage + loss * loss;
        data += storage * storageTarget[i] + loss * lossTarget[i];
      }
      y1[c] = sumY1;
      z1[c] = sumZ1;
      y2[c] = sumY2;
      q2[c] = sumQ2;
    }
    // Points slower than this mode are slower than all faster ones too.
    let slowY1 = 0;
    let slowY2 = 0;
    let slowZ1 = 0;
    for (let i = first[j + 1]; i < n; i++) {
      const x = omega[i] * time_s;
      const q = 1 / (1 + x * x);
      const y = x * x * q;
      const storage = storageOf[i] * y;
      const loss = lossOf[i] * x * q;
      slowY1 += storageOf[i] * storage;
      slowZ1 += storageOf[i] * storage * omega[i] * omega[i];
      slowY2 += lossOf[i] * lossOf[i] * y;
      diagonal += storage * storage + loss * loss;
      data += storage * storageTarget[i] + loss * lossTarget[i];
    }
    linear[j] = data;
    // From the slowest points down for the first forms, from the fastest up for the second.
    ownY2[j] = slowY2;
    ownZ1[j] = slowZ1;
    for (let k = j; k >= 0; k--) {
      y2[k] += slowY2;
      z1[k] += slowZ1;
      slowY2 = y2[k];
      slowZ1 = z1[k];
    }
    for (let k = 1; k <= j; k++) {
      y1[k] += y1[k - 1];
      q2[k] += q2[k - 1];
    }
    ownY1[j] = y1[j];
    ownQ2[j] = q2[j];
    const storageSum = y1[j] + slowY1;
    for (let k = 0; k < j; k++) {
      const other_s = times_s[k];
      const b = other_s * other_s;
      const storage = a * b * (z1[k + 1] - ownZ1[k]) + a * ownY1[k] - b * y1[k];
      const loss = time_s * other_s * (y2[k + 1] - ownY2[k] + ownQ2[k] - q2[k]);
      const value = (storage + loss) / (a - b);
      gram[j * size + k] = value;
      gram[k * size + j] = value;
    }
    gram[j * size + j] = diagonal;
    gram[j * size + modes] = storageSum;
    gram[modes * size + j] = storageSum;
  }
  return { gram, linear };
}

/** The points by how many modes they are slower than, the fastest first; `first[c]` is the first of those slower than c or more. */
function fastestFirst(
  angularFrequency_rad_s: Float64Array,
  storageWeight: Float64Array,
  lossWeight: Float64Array,
  target: Float64Array,
  times_s: Float64Array,
) {
  const n = angularFrequency_rad_s.length;
  const counts = new Int32Array(n);
  const first = new Int32Array(times_s.length + 2);
  for (let i = 0; i < n; i++) {
    counts[i] = countBelow(times_s, 1 / angularFrequency_rad_s[i]);
    first[counts[i] + 1]++;
  }
  for (let c = 1; c < first.length; c++) first[c] += first[c - 1];
  const omega = new Float64Array(n);
  const storageOf = new Float64Array(n);
  const lossOf = new Float64Array(n);
  const storageTarget = new Float64Array(n);
  const lossTarget = new Float64Array(n);
  const next = first.slice();
  for (let i = 0; i < n; i++) {
    const at = next[counts[i]]++;
    omega[at] = angularFrequency_rad_s[i];
    storageOf[at] = storageWeight[i];
    lossOf[at] = lossWeight[i];
    storageTarget[at] = target[i];
    lossTarget[at] = target[n + i];
  }
  return { omega, storageOf, lossOf, storageTarget, lossTarget, first };
}

/** How many of ascending values lie below a limit. */
function countBelow(values: Float64Array, limit: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (values[middle] < limit) low = middle + 1;
    else high = middle;
  }
  return low;
}
