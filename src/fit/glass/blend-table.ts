import { log10 } from "../../numeric/elementary/logarithm.js";
import { complexPower } from "../spectrum/complex-modulus.js";
import { evenlySpacedModuli } from "../spectrum/evenly-spaced-moduli.js";
import { entropicFactor, type MixedPhase } from "../spectrum/phase-mixing.js";
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
  const isMeasured = (i: number) => {
    for (let p = 0; p < 2; p++) {
      const at = log10_Hz + log10aT[p][i];
      if (at < phases[p].low || at > phases[p].high) return false;
    }
    return true;
  };
  // The laws are monotonic, so that these temperatures hang together.
  let first = 0;
  while (first < count && !isMeasured(first)) first++;
  let used = 0;
  while (first + used < count && isMeasured(first + used)) used++;
  const storageModulus_Pa = new Float64Array(used).fill(equilibriumModulus_Pa);
  const lossModulus_Pa = new Float64Array(used);
  for (let p = 0; p < 2; p++) {
    const { low, storageModulus_Pa: storage, lossModulus_Pa: loss } = phases[p];
    for (let i = 0; i < used; i++) {
      // Lagrange's cubic through the four points of the table about the place.
      const at = (log10_Hz + log10aT[p][first + i] - low) * pointsPerDecade + 1;
      const j = Math.min(Math.floor(at), storage.length - 3);
      const t = at - j;
      const factor = factors[p][first + i];
      const a = (-t * (t - 1) * (t - 2) * factor) / 6;
      const b = ((t + 1) * (t - 1) * (t - 2) * factor) / 2;
      const c = (-(t + 1) * t * (t - 2) * factor) / 2;
      const d = ((t + 1) * t * (t - 1) * factor) / 6;
      storageModulus_Pa[i] += a * storage[j - 1] + b * storage[j] + c * storage[j + 1] + d * storage[j + 2];
      lossModulus_Pa[i] += a * loss[j - 1] + b * loss[j] + c * loss[j + 1] + d * loss[j + 2];
    }
  }
  if (exponent !== 1) raise({ storageModulus_Pa, lossModulus_Pa }, 1 / exponent);
  for (let i = 0; i < used; i++) {
    storageModulus_Pa[i] /= verticalFactor[first + i];
    lossModulus_Pa[i] /= verticalFactor[first + i];
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
    storageModulus_Pa,
    lossModulus_Pa,
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
  const moduli = evenlySpacedModuli(phase, low - 1 / pointsPerDecade, pointsPerDecade, points);
  if (exponent !== 1) raise(moduli, exponent);
  return { low, high, ...moduli };
}

/** Takes complex moduli to a power, in place. */
function raise(
  { storageModulus_Pa, lossModulus_Pa }: Pick<BlendCurve, "storageModulus_Pa" | "lossModulus_Pa">,
  exponent: number,
): void {
  for (let i = 0; i < storageModulus_Pa.length; i++) {
    const raised = complexPower(
      { storageModulus_Pa: storageModulus_Pa[i], lossModulus_Pa: lossModulus_Pa[i] },
      exponent,
    );
    storageModulus_Pa[i] = raised.storageModulus_Pa;
    lossModulus_Pa[i] = raised.lossModulus_Pa;
  }
}
