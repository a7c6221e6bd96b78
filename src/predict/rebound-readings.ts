import type { ReboundMeasurement, ReboundReading } from "../io/measurement.js";
import type { Notice } from "../io/problem.js";
import { predictionNotice } from "./notice-codes.js";

/** One temperature's resilience, reduced from its impacts. */
export interface ReducedRebound {
  temperature_C: number;
  /** Median of the readings after the conditioning impacts. */
  fraction: number;
  /** How many impacts went into the median, and how many came before them. */
  readings: number;
  conditioningImpacts: number;
  path: string;
  line: number;
}

/** Readings that count, after the conditioning impacts (ISO 4662: three to seven, then three; from memory). */
const countedReadings = 3;
const mostConditioningImpacts = 7;

/**
 * Median of the last three impacts; those before them are conditioning. Three or fewer are taken for readings
 * whose conditioning was not recorded.
 * @example medianAfterConditioning([0.55, 0.56, 0.57, 0.58, 0.6, 0.59]) // { fraction: 0.59, readings: 3, conditioningImpacts: 3 }
 */
export function medianAfterConditioning(fractions: number[]): {
  fraction: number;
  readings: number;
  conditioningImpacts: number;
} | null {
  const valid = fractions.filter((fraction) => Number.isFinite(fraction) && fraction >= 0 && fraction <= 1);
  if (valid.length === 0) return null;
  const counted = valid.slice(-countedReadings).sort((a, b) => a - b);
  const middle = counted.length >> 1;
  return {
    fraction: counted.length % 2 === 1 ? counted[middle] : (counted[middle - 1] + counted[middle]) / 2,
    readings: counted.length,
    conditioningImpacts: valid.length - counted.length,
  };
}

/**
 * One compound's rebound readings by one method, in the order of temperature. Resilience by different methods
 * does not compare: `method` is kept, and where it is null the method with the most temperatures.
 */
export function reduceRebound(
  measurements: ReboundMeasurement[],
  method: string | null,
): { method: string | null; points: ReducedRebound[]; notices: Notice[] } {
  const notices: Notice[] = [];
  const kept = oneMethod(measurements, method, notices);
  const points: ReducedRebound[] = [];
  for (const measurement of kept) {
    for (const reading of measurement.readings) {
      const point = reducedPoint(reading, measurement.provenance.file, notices);
      if (point !== null) points.push(point);
    }
  }
  points.sort((a, b) => a.temperature_C - b.temperature_C);
  return { method: kept[0]?.method ?? null, points, notices };
}

/** The measurements of one method: the wanted one, else of its family or of none, the one read most often. */
function oneMethod(
  measurements: ReboundMeasurement[],
  method: string | null,
  notices: Notice[],
): ReboundMeasurement[] {
  const methods = new Map<string, ReboundMeasurement[]>();
  for (const measurement of measurements) {
    const name = measurement.method ?? "";
    methods.set(name, [...(methods.get(name) ?? []), measurement]);
  }
  const count = (name: string) => methods.get(name)!.reduce((sum, one) => sum + one.readings.length, 0);
  const closeness = (name: string) => {
    if (name === method) return 2;
    const families = [methodFamily(name), methodFamily(method ?? "")];
    return families[0] !== null && families[0] === families[1] ? 1 : 0;
  };
  const alike = [...methods.keys()].filter((name) => !contradicts(name, method));
  alike.sort((a, b) => closeness(b) - closeness(a) || count(b) - count(a));
  const chosen = alike[0];
  if (methods.size > 1 || (methods.size === 1 && chosen === undefined)) {
    const names = [...methods.keys()].map(quoted).join(", ");
    const used = chosen === undefined ? `none is used beside "${method}"` : `only ${quoted(chosen)} is used`;
    const message = `Rebound was measured by ${names}; ${used}, for different methods' numbers do not compare.`;
    notices.push(predictionNotice("predict.rebound-methods-differ", message));
  }
  return chosen === undefined ? [] : methods.get(chosen)!;
}

const quoted = (name: string) => `"${name || "method not stated"}"`;

/** Swung or dropped: ISO 4662, DIN 53512 and ASTM D7121 swing, ASTM D2632 drops (published titles). */
function methodFamily(method: string): "pendulum" | "falling weight" | null {
  if (/pend|pendel|schob|4662|53512|7121/i.test(method)) return "pendulum";
  if (/2632|vertical|fall|drop/i.test(method)) return "falling weight";
  return null;
}

function contradicts(name: string, method: string | null): boolean {
  const [one, other] = [methodFamily(name), methodFamily(method ?? "")];
  return one !== null && other !== null && one !== other;
}

function reducedPoint(reading: ReboundReading, file: string, notices: Notice[]): ReducedRebound | null {
  const skipped = (why: string) => {
    const message = `The rebound reading in line ${reading.line} of ${file} is not used: ${why}.`;
    notices.push({ ...predictionNotice("predict.rebound-readings-skipped", message), path: file });
    return null;
  };
  if (!Number.isFinite(reading.temperature_C)) return skipped("it states no temperature");
  const outside = reading.fractions.filter((fraction) => !(fraction >= 0 && fraction <= 1));
  const reduced = medianAfterConditioning(reading.fractions);
  if (reduced === null) return skipped("it has no value between 0 and 1");
  if (outside.length > 0) {
    const message = `In line ${reading.line} of ${file} the rebound value ${outside[0]} is not between 0 and 1; it is left out and the others are kept.`;
    notices.push({ ...predictionNotice("predict.rebound-readings-skipped", message), path: file });
  }
  if (reduced.conditioningImpacts > mostConditioningImpacts) {
    const message = `Line ${reading.line} of ${file} has ${reading.fractions.length} impacts; the last ${countedReadings} are taken for the readings, those before for conditioning.`;
    notices.push({ ...predictionNotice("predict.rebound-conditioning-unclear", message), path: file });
  }
  return { temperature_C: reading.temperature_C, ...reduced, path: file, line: reading.line };
}
