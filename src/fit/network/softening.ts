import type { DynamicMeasurement } from "../../io/measurement.js";
import { exp } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { localRegression, scatterAboutTrend } from "../../numeric/local-regression.js";
import { type Random, seededRandom, seedFromText } from "../../numeric/statistics/random.js";
import { drawnInterval } from "../../numeric/statistics/value-interval.js";
import { phasesAmong } from "../glass/separate-phases.js";
import { type Sweep, sweepsByFrequency } from "../glass/sweep.js";
import type { GlassTransition, Softening } from "../material.js";
import { zeroCelsius_K } from "../spectrum/shift-law.js";
import { plateauAbovePeak_K, type RubberyPlateau, rubberyPlateau } from "./rubbery-plateau.js";
import { transitionOf } from "./sweep-plateaus.js";

/** M′/T fallen to this share of its plateau's is softened. */
const softenedShare = 0.5;
const neighbours = 7;

/**
 * Where a compound softens at the warm end, as thermoplastic elastomers do: the temperature at which M′/T has fallen to
 * half of its value on the rubbery plateau with tan δ rising, at the lowest frequency that shows a plateau. A bound
 * where the data end sooner; null where no plateau is seen, or where M′/T falls by half while tan δ falls too, which is
 * no melting. The interval comes from drawing the curve again with the scatter of its points, plateau included.
 *
 * @param measurements of one compound; only temperature sweeps are read
 */
export function softeningOf(
  measurements: DynamicMeasurement[],
  glassTransitions: GlassTransition[],
  options: { seed: number; draws: number },
): Softening | null {
  const found = measurements
    .filter(({ kind }) => kind === "temperature sweep")
    .flatMap((measurement) =>
      sweepsByFrequency(measurement).flatMap((sweep): Softening[] => {
        const transition = transitionOf(glassTransitions, measurement, sweep);
        if (transition === undefined) return [];
        const random = seededRandom(options.seed ^ seedFromText("softening"));
        const softening = softeningOfSweep(sweep, transition, random, options.draws);
        if (softening === null) return [];
        const { deformation, provenance } = measurement;
        return [{ ...softening, frequency_Hz: sweep.frequency_Hz, deformation, paths: [provenance.file] }];
      }),
    );
  const lowest_Hz = Math.min(...found.map(({ frequency_Hz }) => frequency_Hz));
  return together(found.filter(({ frequency_Hz }) => frequency_Hz <= 1.04 * lowest_Hz));
}

type InSweep = Pick<Softening, "temperature_C" | "low_C" | "high_C" | "bracketed">;

function softeningOfSweep(
  sweep: Sweep,
  transition: GlassTransition,
  random: Random,
  draws: number,
): InSweep | null {
  const peaks_C = tanDeltaPeaks_C(transition);
  for (const [k, peak_C] of peaks_C.entries()) {
    // The plateau of one phase ends where the next one's peak stands.
    const region = { above_C: peak_C + plateauAbovePeak_K, until_C: peaks_C[k + 1] ?? Infinity };
    const logRatio = sweep.temperature_C.map((T, i) => ln(sweep.storageModulus_Pa[i] / (T + zeroCelsius_K)));
    const smooth = localRegression(sweep.temperature_C, logRatio, neighbours).value;
    const plateau = plateauIn(sweep, region);
    if (plateau === null) continue;
    const fallen = fallenAt(sweep.temperature_C, smooth, plateau);
    if (fallen === null) {
      return { temperature_C: null, low_C: sweep.temperature_C.at(-1)!, high_C: null, bracketed: false };
    }
    if (!isLossRising(sweep, fallen, plateau)) continue;
    const noise = scatterAboutTrend(sweep.temperature_C, logRatio);
    const drawn = Float64Array.from({ length: noise > 0 ? draws : 0 }, () => {
      const again = smooth.map((value) => value + noise * random.normal());
      const own = plateauIn({ ...sweep, storageModulus_Pa: moduliOf(sweep.temperature_C, again) }, region);
      const where =
        own &&
        fallenAt(sweep.temperature_C, localRegression(sweep.temperature_C, again, neighbours).value, own);
      return where?.temperature_C ?? Number.NaN;
    });
    const { value, low, high } = drawnInterval(fallen.temperature_C, drawn);
    return { temperature_C: value, low_C: low, high_C: high, bracketed: true };
  }
  return null;
}

/** Coldest first; where the main one lies colder than the data, their cold end. */
function tanDeltaPeaks_C({ tanDeltaPeak, furtherPeaks }: GlassTransition): number[] {
  const main_C = tanDeltaPeak?.temperature_C ?? tanDeltaPeak?.high_C ?? null;
  const phases = phasesAmong(furtherPeaks, tanDeltaPeak?.height ?? 0).map((peak) => peak.temperature_C);
  return [...(main_C === null ? [] : [main_C]), ...phases].sort((a, b) => a - b);
}

function plateauIn(
  { temperature_C, storageModulus_Pa, lossModulus_Pa }: Omit<Sweep, "frequency_Hz">,
  { above_C, until_C }: { above_C: number; until_C: number },
): RubberyPlateau | null {
  const beyond = temperature_C.findIndex((T) => T > until_C);
  const end = beyond < 0 ? temperature_C.length : beyond;
  const part = {
    temperature_C: temperature_C.subarray(0, end),
    storageModulus_Pa: storageModulus_Pa.subarray(0, end),
    lossModulus_Pa: lossModulus_Pa.subarray(0, end),
  };
  const plateau = rubberyPlateau(part, above_C, seededRandom(1), 0);
  return "absent" in plateau ? null : plateau;
}

const moduliOf = (temperature_C: Float64Array, logRatio: Float64Array) =>
  logRatio.map((value, i) => exp(value) * (temperature_C[i] + zeroCelsius_K));

/** First place above the plateau where M′/T has fallen to half of it, between two rows. */
function fallenAt(
  temperature_C: Float64Array,
  logRatio: Float64Array,
  plateau: RubberyPlateau,
): { temperature_C: number; row: number } | null {
  const half = ln(
    (softenedShare * plateau.storageModulus_Pa.value) / (plateau.temperature_C + zeroCelsius_K),
  );
  for (let i = 1; i < temperature_C.length; i++) {
    if (temperature_C[i] <= plateau.to_C || logRatio[i] > half) continue;
    const share = (logRatio[i - 1] - half) / (logRatio[i - 1] - logRatio[i]);
    const within = share > 0 && share <= 1 ? share : 1;
    return {
      temperature_C: temperature_C[i - 1] + within * (temperature_C[i] - temperature_C[i - 1]),
      row: i,
    };
  }
  return null;
}

function isLossRising(
  { temperature_C, storageModulus_Pa, lossModulus_Pa }: Sweep,
  { row }: { row: number },
  plateau: RubberyPlateau,
): boolean {
  const tanDelta = lossModulus_Pa.map((loss, i) => loss / storageModulus_Pa[i]);
  const { value, slope } = localRegression(temperature_C, tanDelta, neighbours);
  return slope[row] > 0 && value[row] > plateau.tanDelta;
}

/** Several sweeps at one frequency: the mean of those that soften, over all their intervals; else the highest bound. */
function together(found: Softening[]): Softening | null {
  const inside = found.filter(({ bracketed }) => bracketed);
  if (inside.length <= 1)
    return inside[0] ?? found.reduce<Softening | null>((a, b) => (a && a.low_C! >= b.low_C! ? a : b), null);
  const temperature_C = inside.reduce((sum, one) => sum + one.temperature_C!, 0) / inside.length;
  const lows = inside.map((one) => one.low_C ?? one.temperature_C!);
  const highs = inside.map((one) => one.high_C ?? one.temperature_C!);
  return {
    ...inside[0],
    temperature_C,
    low_C: Math.min(...lows),
    high_C: Math.max(...highs),
    paths: [...new Set(inside.flatMap(({ paths }) => paths))],
  };
}
