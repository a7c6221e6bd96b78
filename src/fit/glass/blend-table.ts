import { exp10 } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { complexPower } from "../spectrum/complex-modulus.js";
import { entropicFactor, type MixedPhase, mixedPhaseModulus } from "../spectrum/phase-mixing.js";
import { type FurtherPhase, type RelaxationModel, verticalFactor } from "../spectrum/relaxation-model.js";
import { log10ShiftFactor } from "../spectrum/shift-law.js";

const coldest_C = -150;
const warmest_C = 200;
export const blendStep_K = 0.5;
const count = Math.floor((warmest_C - coldest_C) / blendStep_K) + 1;
const pointsPerDecade = 20;

/** Moduli of a blend at one frequency, from the warm end to the cold, at the temperatures where both phases were measured. */
export interface BlendCurve {
  warmest_C: number;
  /** How many points make half a decade inside each edge, by the law of the phase whose measured frequencies end there. */
  slowHalfDecade: number;
  fastHalfDecade: number;
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
}

/** One phase's moduli against log10 of its reduced frequency in Hz. */
interface PhaseTable {
  /** log10 of the measured reduced frequencies. */
  low: number;
  high: number;
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
}

/** What of a blend does not depend on the frequency: kept with its model, for a verdict asks at some hundred frequencies. */
interface BlendTable {
  phases: readonly [PhaseTable, PhaseTable];
  /** log10 aT of both phases and bT, at each temperature of the grid. */
  log10aT: readonly [Float64Array, Float64Array];
  verticalFactor: Float64Array;
  /** What each phase's tabled moduli are to be multiplied by, at each temperature. */
  factors: readonly [Float64Array, Float64Array];
  /** The sum of the phases' tabled moduli is the mixture's to this power. */
  exponent: number;
  equilibriumModulus_Pa: number;
}

const tables = new WeakMap<RelaxationModel, BlendTable>();

/**
 * Storage and loss modulus of two phases that move by laws of their own, over temperature at one frequency, between the points of
 * a table of each phase by a cubic: within 1e-5 of the sums themselves.
 */
export function blendCurve(
  model: RelaxationModel,
  furtherPhase: FurtherPhase,
  frequency_Hz: number,
): BlendCurve {
  const { phases, log10aT, factors, verticalFactor, exponent, equilibriumModulus_Pa } = tableOf(
    model,
    furtherPhase,
  );
  const log10_Hz = log10(frequency_Hz);
  const storageModulus_Pa = new Float64Array(count);
  const lossModulus_Pa = new Float64Array(count);
  let first = 0;
  let used = 0;
  for (let i = 0; i < count; i++) {
    if (
      !phases.every(({ low, high }, p) => log10_Hz + log10aT[p][i] >= low && log10_Hz + log10aT[p][i] <= high)
    )
      continue;
    if (used === 0) first = i;
    storageModulus_Pa[used] = equilibriumModulus_Pa;
    for (const [p, phase] of phases.entries()) {
      const at = (log10_Hz + log10aT[p][i] - phase.low) * pointsPerDecade + 1;
      storageModulus_Pa[used] += factors[p][i] * between(phase.storageModulus_Pa, at);
      lossModulus_Pa[used] += factors[p][i] * between(phase.lossModulus_Pa, at);
    }
    if (exponent !== 1) {
      const mixed = complexPower(
        { storageModulus_Pa: storageModulus_Pa[used], lossModulus_Pa: lossModulus_Pa[used] },
        1 / exponent,
      );
      storageModulus_Pa[used] = mixed.storageModulus_Pa;
      lossModulus_Pa[used] = mixed.lossModulus_Pa;
    }
    storageModulus_Pa[used] /= verticalFactor[i];
    lossModulus_Pa[used] /= verticalFactor[i];
    used++;
  }
  const log10Reduced = (p: number, i: number) => log10_Hz + log10aT[p][i];
  /** Points from an edge until the phase that stands nearest to its own edge there has gone half a decade inwards. */
  const halfDecadeInside = (edge: number, inwards: 1 | -1): number => {
    const room = phases.map(({ low, high }, p) =>
      inwards === 1 ? log10Reduced(p, edge) - low : high - log10Reduced(p, edge),
    );
    const limiting = room[0] < room[1] ? 0 : 1;
    let steps = 1;
    while (
      steps < used - 1 &&
      Math.abs(log10Reduced(limiting, edge + inwards * steps) - log10Reduced(limiting, edge)) < 0.5
    )
      steps++;
    return steps;
  };
  return {
    warmest_C: warmest_C - blendStep_K * first,
    slowHalfDecade: used < 2 ? 1 : halfDecadeInside(first, 1),
    fastHalfDecade: used < 2 ? 1 : halfDecadeInside(first + used - 1, -1),
    storageModulus_Pa: storageModulus_Pa.subarray(0, used),
    lossModulus_Pa: lossModulus_Pa.subarray(0, used),
  };
}

function tableOf(model: RelaxationModel, furtherPhase: FurtherPhase): BlendTable {
  const known = tables.get(model);
  if (known !== undefined) return known;
  const temperatures = Float64Array.from({ length: count }, (_, i) => warmest_C - blendStep_K * i);
  const { mixing } = model;
  const phases: readonly [MixedPhase, MixedPhase] = mixing?.phases ?? [
    { ...model, equilibriumModulus_Pa: 0, entropicPart: 0 },
    { ...furtherPhase, equilibriumModulus_Pa: 0, entropicPart: 0 },
  ];
  const exponent = mixing?.exponent ?? 1;
  const laws = [phases[0].law, phases[1].law] as const;
  const table: BlendTable = {
    phases: [phaseTable(phases[0], exponent), phaseTable(phases[1], exponent)],
    exponent,
    equilibriumModulus_Pa: mixing === undefined ? model.equilibriumModulus_Pa : 0,
    log10aT: [
      temperatures.map((T) => log10ShiftFactor(laws[0], T)),
      temperatures.map((T) => log10ShiftFactor(laws[1], T)),
    ],
    factors: [0, 1].map((p) =>
      temperatures.map((T) => entropicFactor(laws[p], T, phases[p].entropicPart * exponent)),
    ) as [Float64Array, Float64Array],
    verticalFactor: temperatures.map((T) => verticalFactor(model.verticalShift, model.law, T)),
  };
  tables.set(model, table);
  return table;
}

/** One phase alone, to the power of the mixing rule, a point beyond the measured frequencies at either end for the cubic. */
function phaseTable(phase: MixedPhase, exponent: number): PhaseTable {
  const low = log10(phase.lowestReducedFrequency_Hz);
  const high = log10(phase.highestReducedFrequency_Hz);
  const points = Math.ceil((high - low) * pointsPerDecade) + 4;
  const storageModulus_Pa = new Float64Array(points);
  const lossModulus_Pa = new Float64Array(points);
  for (let i = 0; i < points; i++) {
    const plain = mixedPhaseModulus(phase, 2 * Math.PI * exp10(low + (i - 1) / pointsPerDecade));
    const modulus = exponent === 1 ? plain : complexPower(plain, exponent);
    storageModulus_Pa[i] = modulus.storageModulus_Pa;
    lossModulus_Pa[i] = modulus.lossModulus_Pa;
  }
  return { low, high, storageModulus_Pa, lossModulus_Pa };
}

/** Lagrange's cubic through the four points about a place, 1 or more. */
function between(values: Float64Array, at: number): number {
  const i = Math.min(Math.floor(at), values.length - 3);
  const t = at - i;
  const [a, b, c, d] = [values[i - 1], values[i], values[i + 1], values[i + 2]];
  return (
    (-t * (t - 1) * (t - 2) * a) / 6 +
    ((t + 1) * (t - 1) * (t - 2) * b) / 2 -
    ((t + 1) * t * (t - 2) * c) / 2 +
    ((t + 1) * t * (t - 1) * d) / 6
  );
}
