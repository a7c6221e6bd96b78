import type { Deformation, DynamicMeasurement } from "../../io/measurement.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { seededRandom } from "../../numeric/statistics/random.js";
import { geometricMean } from "../../numeric/statistics/value-interval.js";
import { phasesAmong } from "../glass/separate-phases.js";
import { type Sweep, sweepsByFrequency } from "../glass/sweep.js";
import type { GlassTransition, Material } from "../material.js";
import { zeroCelsius_K } from "../spectrum/shift-law.js";
import {
  type FoundPlateau,
  type PlateauAbsence,
  plateauAbovePeak_K,
  type RubberyPlateau,
  rubberyPlateau,
} from "./rubbery-plateau.js";

export interface TriedSweep {
  outcome: RubberyPlateau | PlateauAbsence;
  /** The search starts here; null: the sweep shows no transition to start from. */
  above_C: number | null;
  sweep: Sweep;
  measurement: DynamicMeasurement;
}

/** The plateau, or why there is none, at each frequency of a temperature sweep whose transition is known. */
export function plateausOf(
  measurement: DynamicMeasurement,
  { glassTransitions }: Pick<Material, "glassTransitions">,
  seed: number,
  draws: number,
): TriedSweep[] {
  if (measurement.kind !== "temperature sweep") return [];
  return sweepsByFrequency(measurement).flatMap((sweep) => {
    const transition = transitionOf(glassTransitions, measurement, sweep);
    if (transition === undefined) return [];
    const peak_C = warmestPeak_C(transition);
    const above_C = peak_C === null ? null : peak_C + plateauAbovePeak_K;
    const outcome: TriedSweep["outcome"] =
      above_C === null
        ? { absent: "ends too early", drift: null }
        : rubberyPlateau(sweep, above_C, seededRandom(seed), draws);
    return [{ outcome, above_C, sweep, measurement }];
  });
}

/** The readings of one frequency's sweep among those of its compound. */
export function transitionOf(
  glassTransitions: GlassTransition[],
  { provenance, deformation, direction }: DynamicMeasurement,
  { frequency_Hz }: Sweep,
): GlassTransition | undefined {
  return glassTransitions.find(
    (one) =>
      one.path === provenance.file &&
      one.deformation === deformation &&
      one.direction === direction &&
      Math.abs(ln(one.frequency_Hz / frequency_Hz)) < 0.04,
  );
}

/** The warmest tan δ peak; where it lies colder than the data, their cold end. Null: warmer, or none. */
function warmestPeak_C({ tanDeltaPeak, furtherPeaks }: GlassTransition): number | null {
  const main_C = tanDeltaPeak?.temperature_C ?? tanDeltaPeak?.high_C ?? null;
  if (tanDeltaPeak === null || main_C === null) return null;
  const phases = phasesAmong(furtherPeaks, tanDeltaPeak.height ?? 0);
  return Math.max(main_C, ...phases.map((peak) => peak.temperature_C));
}

/** The plateaus at the lowest frequency, in the mode with the most of them, one a file, as one value. */
export function combinedPlateau(tried: TriedSweep[]): FoundPlateau | null {
  const found = tried.flatMap(({ outcome, sweep, measurement }) =>
    "absent" in outcome ? [] : [{ plateau: outcome, frequency_Hz: sweep.frequency_Hz, measurement }],
  );
  if (found.length === 0) return null;
  const modes = [...new Set(found.map(({ measurement }) => measurement.deformation))];
  const count = (mode: Deformation) =>
    found.filter(({ measurement }) => measurement.deformation === mode).length;
  const deformation = modes.reduce((a, b) => (count(b) > count(a) ? b : a));
  const ofMode = found.filter(({ measurement }) => measurement.deformation === deformation);
  const frequency_Hz = Math.min(...ofMode.map((one) => one.frequency_Hz));
  const perFile = new Map<string, (typeof ofMode)[number]>();
  for (const one of ofMode.filter((one) => one.frequency_Hz <= 1.04 * frequency_Hz)) {
    const { file } = one.measurement.provenance;
    const known = perFile.get(file);
    const isFirstHeating =
      one.measurement.direction === "heating" && known?.measurement.direction !== "heating";
    if (known === undefined || isFirstHeating) perFile.set(file, one);
  }
  const repeats = [...perFile.values()];
  const plateau = repeats.length === 1 ? repeats[0].plateau : meanPlateau(repeats.map((one) => one.plateau));
  return { plateau, deformation, frequency_Hz, basis: "temperature sweep", paths: [...perFile.keys()] };
}

/** Moduli are brought to the mean temperature by M′ ∝ T. */
function meanPlateau(plateaus: RubberyPlateau[]): RubberyPlateau {
  const n = plateaus.length;
  const mean = (value: (plateau: RubberyPlateau) => number) =>
    plateaus.reduce((sum, one) => sum + value(one), 0) / n;
  const temperature_C = mean((one) => one.temperature_C);
  const atMean = ({ storageModulus_Pa, temperature_C: own_C }: RubberyPlateau) =>
    (storageModulus_Pa.value * (temperature_C + zeroCelsius_K)) / (own_C + zeroCelsius_K);
  return {
    from_C: Math.min(...plateaus.map((one) => one.from_C)),
    to_C: Math.max(...plateaus.map((one) => one.to_C)),
    temperature_C,
    storageModulus_Pa: geometricMean(plateaus.map(atMean)),
    tanDelta: mean((one) => one.tanDelta),
    drift: mean((one) => one.drift),
    points: plateaus.reduce((sum, one) => sum + one.points, 0),
  };
}
