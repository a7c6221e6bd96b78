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
  const { omega, storage, storageByOmega, loss, storageData, lossData, first } = points;
  let equilibrium = 0;
  let equilibriumData = 0;
  for (let i = 0; i < n; i++) {
    equilibrium += storage[i];
    equilibriumData += storageData[i];
  }
  gram[modes * size + modes] = equilibrium;
  linear[modes] = equilibriumData;
  // Sums over the points that are slower than so many modes, the first two over all faster ones too; then, of each mode, over
  // those slower than itself and the rest.
  const y1 = new Float64Array(size);
  const q2 = new Float64Array(size);
  const y2 = new Float64Array(size);
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
    let sumY1 = 0;
    let sumQ2 = 0;
    // The last segment holds the points slower than this mode, which are slower than all faster ones too.
    for (let k = 0; k <= j + 1; k++) {
      const end = k <= j ? first[k + 1] : n;
      let segmentY2 = 0;
      let segmentZ1 = 0;
      for (let i = first[k]; i < end; i++) {
        const x = omega[i] * time_s;
        const q = 1 / (1 + x * x);
        const y = x * x * q;
        const lossY = loss[i] * y;
        sumY1 += storage[i] * y;
        sumQ2 += loss[i] * q;
        segmentY2 += lossY;
        segmentZ1 += storageByOmega[i] * y;
        diagonal += storage[i] * y * y + lossY * q;
        data += storageData[i] * y + lossData[i] * x * q;
      }
      y1[k] = sumY1;
      q2[k] = sumQ2;
      y2[k] = segmentY2;
      z1[k] = segmentZ1;
    }
    linear[j] = data;
    ownY1[j] = y1[j];
    ownQ2[j] = q2[j];
    ownY2[j] = y2[j + 1];
    ownZ1[j] = z1[j + 1];
    let slowY2 = ownY2[j];
    let slowZ1 = ownZ1[j];
    // The sums of the second forms go from the fastest points up, those of the first from the slowest down.
    for (let k = j - 1; k >= 0; k--) {
      slowY2 += y2[k + 1];
      slowZ1 += z1[k + 1];
      const other_s = times_s[k];
      const b = other_s * other_s;
      const ofStorage = a * b * (slowZ1 - ownZ1[k]) + a * ownY1[k] - b * y1[k];
      const ofLoss = time_s * other_s * (slowY2 - ownY2[k] + ownQ2[k] - q2[k]);
      gram[j * size + k] = (ofStorage + ofLoss) / (a - b);
    }
    gram[j * size + j] = diagonal;
    gram[modes * size + j] = sumY1;
  }
  for (let j = 1; j < size; j++) for (let k = 0; k < j; k++) gram[k * size + j] = gram[j * size + k];
  return { gram, linear };
}

/**
 * The points by how many modes they are slower than, the fastest first: squared weights w′² and w″², w′²ω², and the weighted
 * data times their weights. `first[c]` is the first of those slower than c or more.
 */
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
  const storage = new Float64Array(n);
  const storageByOmega = new Float64Array(n);
  const loss = new Float64Array(n);
  const storageData = new Float64Array(n);
  const lossData = new Float64Array(n);
  const next = first.slice();
  for (let i = 0; i < n; i++) {
    const at = next[counts[i]]++;
    const w = angularFrequency_rad_s[i];
    omega[at] = w;
    storage[at] = storageWeight[i] * storageWeight[i];
    storageByOmega[at] = storage[at] * w * w;
    loss[at] = lossWeight[i] * lossWeight[i];
    storageData[at] = storageWeight[i] * target[i];
    lossData[at] = lossWeight[i] * target[n + i];
  }
  return { omega, storage, storageByOmega, loss, storageData, lossData, first };
}

/** How many of ascending values lie below a limit. */
export function countBelow(values: Float64Array, limit: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (values[middle] < limit) low = middle + 1;
    else high = middle;
  }
  return low;
}
