import { exp10 } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import type { RelaxationModel } from "./relaxation-model.js";

/** A mode is summed by itself within so many decades of a frequency; further off x²/(1+x²) and x/(1+x²) are their first term to 1e-8. */
const near_decades = 4;

/**
 * Storage and loss modulus of a spectrum at frequencies that stand evenly in their logarithm, at the reference temperature: what
 * `maxwellModulus` gives, to 1e-8. The modes far faster than a frequency (their Mi τi and Mi τi²) and those far slower (their Mi
 * and Mi/τi) are sums that go from one frequency to the next, so that a spectrum of forty decades takes a fifth of the work.
 * @param lowest log10 of the lowest frequency in Hz
 * @returns `count` moduli in Pa, the lowest frequency first
 */
export function evenlySpacedModuli(
  {
    equilibriumModulus_Pa,
    times_s,
    moduli_Pa,
  }: Pick<RelaxationModel, "equilibriumModulus_Pa" | "times_s" | "moduli_Pa">,
  lowest: number,
  pointsPerDecade: number,
  count: number,
): { storageModulus_Pa: Float64Array; lossModulus_Pa: Float64Array } {
  const omega = new Float64Array(count);
  for (let i = 0; i < count; i++) omega[i] = 2 * Math.PI * exp10(lowest + i / pointsPerDecade);
  const storageModulus_Pa = new Float64Array(count).fill(equilibriumModulus_Pa);
  const lossModulus_Pa = new Float64Array(count);
  // What joins or leaves the sums at a frequency.
  const fasterLoss = new Float64Array(count + 1);
  const fasterStorage = new Float64Array(count + 1);
  const slowerStorage = new Float64Array(count + 1);
  const slowerLoss = new Float64Array(count + 1);
  const within = (index: number) => Math.min(count, Math.max(0, index));
  for (let j = 0; j < times_s.length; j++) {
    const time_s = times_s[j];
    const modulus_Pa = moduli_Pa[j];
    const at = (-log10(2 * Math.PI * time_s) - lowest) * pointsPerDecade;
    const from = within(Math.ceil(at - near_decades * pointsPerDecade));
    const to = within(Math.floor(at + near_decades * pointsPerDecade) + 1);
    fasterLoss[from] += modulus_Pa * time_s;
    fasterStorage[from] += modulus_Pa * time_s * time_s;
    for (let i = from; i < to; i++) {
      const x = omega[i] * time_s;
      const share_Pa = modulus_Pa / (1 + x * x);
      storageModulus_Pa[i] += share_Pa * x * x;
      lossModulus_Pa[i] += share_Pa * x;
    }
    slowerStorage[to] += modulus_Pa;
    slowerLoss[to] += modulus_Pa / time_s;
  }
  let storage = 0;
  let loss = 0;
  for (let i = count - 1; i >= 0; i--) {
    storage += fasterStorage[i + 1];
    loss += fasterLoss[i + 1];
    storageModulus_Pa[i] += storage * omega[i] * omega[i];
    lossModulus_Pa[i] += loss * omega[i];
  }
  storage = 0;
  loss = 0;
  for (let i = 0; i < count; i++) {
    storage += slowerStorage[i];
    loss += slowerLoss[i];
    storageModulus_Pa[i] += storage;
    lossModulus_Pa[i] += loss / omega[i];
  }
  return { storageModulus_Pa, lossModulus_Pa };
}
