import { exp } from "../../numeric/elementary/exponential.js";
import { orthonormalColumns } from "../../numeric/statistics/deviates.js";
import { type ModulusPoints, maxwellKernel, relaxationTimes, weightedModuli } from "./maxwell-kernel.js";

/**
 * The errors of the moduli that a spectrum can see at all: a spectrum takes from its points no more than their products
 * with the modes' moduli, so errors orthogonal to all of these change nothing. Some forty directions in place of some
 * hundred points, few enough for matched deviates.
 * @param points n of them
 * @param modesPerDecade of the spectra that are to be drawn
 * @param deviations standard deviations of the relative errors
 * @returns directions in the 2n relative errors of the moduli, storage first, each of one standard deviation
 */
export function seenErrors(
  points: ModulusPoints,
  modesPerDecade: number,
  deviations: { storage: number; loss: number },
): Float64Array[] {
  const { angularFrequency_rad_s, storageWeight, lossWeight } = points;
  const times_s = relaxationTimes(points, modesPerDecade);
  const kernel = new Float64Array(2 * angularFrequency_rad_s.length * (times_s.length + 1));
  maxwellKernel(angularFrequency_rad_s, storageWeight, lossWeight, times_s, kernel);
  return seenDirections(kernel, weightedModuli(points), deviations);
}

/**
 * The same of a kernel.
 * @param kernel 2n rows a column, storage first
 * @param data the 2n weighted data that it is fitted to: a relative error e moves a row by as much as e times its datum
 * @param foremost by how much each of the 2n data moves a quantity that matters; the directions that move these most stand
 * first, for matched deviates are few
 */
export function seenDirections(
  kernel: Float64Array,
  data: Float64Array,
  deviations: { storage: number; loss: number },
  foremost: Float64Array[] = [],
): Float64Array[] {
  const rows = data.length;
  const deviation = (row: number) => (row < rows / 2 ? deviations.storage : deviations.loss);
  const sizes = data.map((value, i) => value * deviation(i));
  const inDeviations = (column: Float64Array) => column.map((value, i) => value * sizes[i]);
  const columns = Array.from({ length: kernel.length / rows }, (_, j) =>
    inDeviations(kernel.subarray(j * rows, (j + 1) * rows)),
  );
  const first = orthonormalColumns(foremost.map(inDeviations));
  return [...first, ...orthonormalColumns(columns, first)].map((unit) =>
    unit.map((value, i) => value * deviation(i)),
  );
}

/**
 * Multiplies the moduli of points by a factor and by errors along directions, as natural logs.
 * @param directions of 2n, as `seenErrors` gives them
 * @param amount of each, in its standard deviations
 */
export function addErrors(
  points: { storageModulus_Pa: Float64Array; lossModulus_Pa: Float64Array },
  directions: Float64Array[],
  amount: (direction: number) => number,
  factor = 1,
): void {
  const { storageModulus_Pa, lossModulus_Pa } = points;
  const n = storageModulus_Pa.length;
  const error = new Float64Array(2 * n);
  for (const [k, direction] of directions.entries()) {
    const size = amount(k);
    for (let i = 0; i < error.length; i++) error[i] += size * direction[i];
  }
  for (let i = 0; i < n; i++) {
    storageModulus_Pa[i] *= factor * exp(error[i]);
    lossModulus_Pa[i] *= factor * exp(error[n + i]);
  }
}
