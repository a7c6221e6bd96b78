import type { Deformation, DynamicMeasurement } from "../../io/measurement.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { pushTo } from "../../numeric/push-to.js";
import { distinctFrequencies } from "./ramp-steps.js";
import { sameFrequencyRatio } from "./sweep.js";

/** A frequency read as a temperature sweep must stand at this many temperatures. */
const fewestTemperatures = 8;
/** Isotherms nearer than this are one temperature. */
const sameTemperature_K = 0.75;
/** The trade's usual ones (common practice; ASTM E1640 asks for 1 Hz). */
const wanted_Hz = [1, 10];

/**
 * The rows of isotherms at one frequency, read across the temperatures: a temperature sweep in steps. Of the
 * frequencies that stand at eight temperatures or more, the ones nearest to 1 Hz and to 10 Hz.
 *
 * A file with enough isotherms stands alone; the others of one deformation mode are taken together.
 *
 * @returns measurements of kind "temperature sweep" without a direction; none where no frequency is shared widely
 */
export function sweepsFromIsotherms(measurements: DynamicMeasurement[]): DynamicMeasurement[] {
  const sweeps = measurements.filter(({ kind }) => kind === "frequency sweep");
  return [...new Set(sweeps.map(({ deformation }) => deformation))].flatMap((deformation) => {
    const files = new Map<string, DynamicMeasurement[]>();
    for (const measurement of sweeps) {
      if (measurement.deformation !== deformation) continue;
      pushTo(files, `${measurement.provenance.file}\n${measurement.provenance.sheet ?? ""}`, measurement);
    }
    const complete = [...files.values()].map((file) => acrossTemperatures(file, deformation));
    const rest = [...files.values()].filter((_, i) => complete[i] === null).flat();
    return [...complete, rest.length > 0 ? acrossTemperatures(rest, deformation) : null].filter(
      (sweep) => sweep !== null,
    );
  });
}

interface Point {
  temperature_C: number;
  frequency_Hz: number;
  storageModulus_Pa: number;
  lossModulus_Pa: number;
}

/** The isotherms of one run at the frequencies that are wanted; null: they share none at enough temperatures. */
function acrossTemperatures(
  isotherms: DynamicMeasurement[],
  deformation: Deformation,
): DynamicMeasurement | null {
  const points = isotherms.flatMap(pointsOf);
  const shared = distinctFrequencies(points, sameFrequencyRatio).filter(
    (frequency_Hz) =>
      temperatureCount(points.filter((point) => isAt(point, frequency_Hz))) >= fewestTemperatures,
  );
  if (shared.length === 0) return null;
  const chosen = wanted_Hz.map((wanted) =>
    shared.reduce((a, b) => (Math.abs(ln(b / wanted)) < Math.abs(ln(a / wanted)) ? b : a)),
  );
  const rows = points.filter((point) => chosen.some((frequency_Hz) => isAt(point, frequency_Hz)));
  const { provenance } = isotherms[0];
  const column = (value: (point: Point) => number) => Float64Array.from(rows, value);
  return {
    kind: "temperature sweep",
    sample: isotherms[0].sample,
    deformation,
    direction: null,
    temperature_C: column((point) => point.temperature_C),
    frequency_Hz: column((point) => point.frequency_Hz),
    storageModulus_Pa: column((point) => point.storageModulus_Pa),
    lossModulus_Pa: column((point) => point.lossModulus_Pa),
    strainAmplitude: null,
    time_s: null,
    heatingRate_K_min: null,
    // Rows of several measurements do not stand in consecutive lines of one file.
    provenance: isotherms.length === 1 ? provenance : { ...provenance, lastLine: provenance.firstLine },
  };
}

function pointsOf(measurement: DynamicMeasurement): Point[] {
  return Array.from(measurement.temperature_C, (temperature_C, i) => ({
    temperature_C,
    frequency_Hz: measurement.frequency_Hz[i],
    storageModulus_Pa: measurement.storageModulus_Pa[i],
    lossModulus_Pa: measurement.lossModulus_Pa[i],
  })).filter(
    ({ temperature_C, frequency_Hz, storageModulus_Pa, lossModulus_Pa }) =>
      Number.isFinite(temperature_C) && frequency_Hz > 0 && storageModulus_Pa > 0 && lossModulus_Pa > 0,
  );
}

/** From the lowest of a group of alike frequencies, as `sweepsByFrequency` parts them. */
const isAt = (point: Point, frequency_Hz: number) =>
  point.frequency_Hz >= frequency_Hz && point.frequency_Hz <= sameFrequencyRatio * frequency_Hz;

function temperatureCount(points: Point[]): number {
  let count = 0;
  let last = Number.NEGATIVE_INFINITY;
  for (const { temperature_C } of points.toSorted((a, b) => a.temperature_C - b.temperature_C)) {
    if (temperature_C - last <= sameTemperature_K) continue;
    count++;
    last = temperature_C;
  }
  return count;
}
