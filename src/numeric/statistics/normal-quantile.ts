import { ln } from "../elementary/logarithm.js";

/**
 * Quantile of the standard normal distribution to seven digits (PPND7; Wichura, Algorithm AS 241, Appl. Stat. 37, 477, 1988).
 * @param probability between 0 and 1, neither of them
 * @example normalQuantile(0.975) // 1.95996…
 */
export function normalQuantile(probability: number): number {
  const q = probability - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (
      (q * (((59.10937472 * r + 159.29113202) * r + 50.434271938) * r + 3.3871327179)) /
      (((67.1875636 * r + 78.757757664) * r + 17.895169469) * r + 1)
    );
  }
  const tail = Math.sqrt(-ln(q < 0 ? probability : 1 - probability));
  const size = tail <= 5 ? nearTail(tail - 1.6) : farTail(tail - 5);
  return q < 0 ? -size : size;
}

const nearTail = (r: number) =>
  (((0.17023821103 * r + 1.3067284816) * r + 2.75681539) * r + 1.4234372777) /
  ((0.12021132975 * r + 0.7370016425) * r + 1);

const farTail = (r: number) =>
  (((0.017337203997 * r + 0.42868294337) * r + 3.081226386) * r + 6.657905115) /
  ((0.012258202635 * r + 0.24197894225) * r + 1);
