import type { ReboundImpacts, ReboundMeasurement } from "../../io/measurement.js";
import { pushTo } from "../../numeric/push-to.js";
import { median } from "../../numeric/statistics/quantile.js";
import { notice } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { temperatureText } from "../../words/quantity-text.js";
import { type PooledRebound, poolRebound, type ReboundTest } from "./pool-rebound.js";
import { reboundMethodOf } from "./rebound-method.js";

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
  const valid = fractions.filter(isFraction);
  if (valid.length === 0) return null;
  const counted = readingsAfterConditioning(fractions);
  return {
    fraction: median(counted),
    readings: counted.length,
    conditioningImpacts: valid.length - counted.length,
  };
}

/** The impacts that count: the last three. */
export function readingsAfterConditioning(fractions: number[]): number[] {
  return fractions.filter(isFraction).slice(-countedReadings);
}

const isFraction = (fraction: number) => Number.isFinite(fraction) && fraction >= 0 && fraction <= 1;

/**
 * One compound's rebound by one method, its tests pooled by temperature, coldest first. Resilience by different
 * methods does not compare: that of `method` is kept, else where none is stated what the files leave open; where
 * `method` is null the one read most often.
 */
export function reduceRebound(
  measurements: ReboundMeasurement[],
  method: string | null,
): { method: string | null; points: PooledRebound[]; notices: Notice[] } {
  const notices: Notice[] = [];
  const kept = oneMethod(measurements, method, notices);
  const tests: ReboundTest[] = [];
  for (const measurement of kept) {
    for (const reading of measurement.readings) {
      tests.push(...testsOf(reading, measurement.provenance.file, notices));
    }
  }
  const points = poolRebound(tests);
  const pooled = points.filter(({ between }) => between !== null);
  if (pooled.length > 0) notices.push(pooledNotice(pooled));
  const names = [...new Set(kept.map((measurement) => measurement.method))];
  return {
    method: names.length > 1 ? names.join("; ") : (names[0] ?? null),
    points,
    notices,
  };
}

/** The measurements of the wanted method, else of none stated; without a wanted one, of the method read most often. */
function oneMethod(
  measurements: ReboundMeasurement[],
  wanted: string | null,
  notices: Notice[],
): ReboundMeasurement[] {
  const byKey = new Map<string, ReboundMeasurement[]>();
  for (const measurement of measurements) {
    pushTo(byKey, reboundMethodOf(measurement.method ?? "").key, measurement);
  }
  const count = (key: string) => byKey.get(key)!.reduce((sum, one) => sum + one.readings.length, 0);
  const mostRead = [...byKey.keys()].sort((a, b) => count(b) - count(a) || (a < b ? -1 : 1));
  const key = wanted === null ? mostRead[0] : reboundMethodOf(wanted).key;
  const chosen = byKey.has(key) ? key : byKey.has(unstated) ? unstated : null;
  const namesOf = (ones: ReboundMeasurement[]) =>
    [...new Set(ones.map(({ method }) => quoted(method ?? "")))].join(", ");
  const kept = chosen === null ? [] : byKey.get(chosen)!;
  if (byKey.size > 1 || (byKey.size === 1 && chosen === null)) {
    const used = chosen === null ? `none is used beside "${wanted}"` : `only ${namesOf(kept)} is used`;
    const message = `Rebound was measured by ${namesOf(measurements)}; ${used}, for different methods' numbers do not compare.`;
    notices.push(notice("predict.rebound-methods-differ", message));
  }
  if (chosen === unstated && wanted !== null) {
    const message = `The rebound readings of ${filesOf(kept)} state no method; they are taken for "${wanted}".`;
    notices.push(notice("predict.rebound-method-unstated", message));
  }
  const unknown = measurements.filter(({ method }) => {
    const read = reboundMethodOf(method ?? "");
    return method !== null && !read.known && read.key !== chosen;
  });
  if (unknown.length > 0) {
    const message = `The rebound method ${namesOf(unknown)} names no single standard that is known here, so its readings compare with no other's and are kept apart.`;
    notices.push(notice("predict.rebound-method-unknown", message));
  }
  return kept;
}

const unstated = reboundMethodOf("").key;
const quoted = (name: string) => `"${name || "method not stated"}"`;
const filesOf = (ones: ReboundMeasurement[]) =>
  [...new Set(ones.map(({ provenance }) => provenance.file))].slice(0, 3).join(", ");

/** Temperatures told of one by one. */
const toldTemperatures = 3;

function pooledNotice(pooled: PooledRebound[]): Notice {
  const percent = (fraction: number) => (100 * fraction).toFixed(1);
  const told = pooled.slice(0, toldTemperatures).map((point) => {
    const { laboratories, tests } = point;
    const of =
      laboratories.length > 1
        ? ` of ${laboratories.length} laboratories (${laboratories.slice(0, 6).join(", ")}${laboratories.length > 6 ? ", …" : ""})`
        : "";
    return (
      `at ${temperatureText(point.temperature_C, 0)} ${tests} tests${of} from ${percent(point.least)} to ${percent(point.greatest)} %, ` +
      `pooled to ${percent(point.fraction)} % (95 %: ${percent(point.low!)} to ${percent(point.high!)} %)`
    );
  });
  const rest = pooled.length - told.length;
  const message = `Rebound was measured by several tests: ${told.join("; ")}${rest > 0 ? `; and at ${rest} more ${rest === 1 ? "temperature" : "temperatures"}` : ""}.`;
  return { ...notice("predict.rebound-tests-pooled", message), path: pooled[0].path };
}

/** The impacts of one test agree within 0.02 to 0.03 (common practice); readings farther apart are tests of their own. */
const oneTestSpread = 0.05;

function testsOf(reading: ReboundImpacts, file: string, notices: Notice[]): ReboundTest[] {
  const skipped = (why: string) => {
    const message = `The rebound reading in line ${reading.line} of ${file} is not used: ${why}.`;
    notices.push({ ...notice("predict.rebound-readings-skipped", message), path: file });
    return [];
  };
  if (!Number.isFinite(reading.temperature_C)) return skipped("it states no temperature");
  const outside = reading.fractions.filter((fraction) => !(fraction >= 0 && fraction <= 1));
  const reduced = medianAfterConditioning(reading.fractions);
  if (reduced === null) return skipped("it has no value between 0 and 1");
  if (outside.length > 0) {
    const message = `In line ${reading.line} of ${file} the rebound value ${outside[0]} is not between 0 and 1; it is left out and the others are kept.`;
    notices.push({ ...notice("predict.rebound-readings-skipped", message), path: file });
  }
  if (reduced.conditioningImpacts > mostConditioningImpacts) {
    const message = `Line ${reading.line} of ${file} has ${reading.fractions.length} impacts; the last ${countedReadings} are taken for the readings, those before for conditioning.`;
    notices.push({ ...notice("predict.rebound-conditioning-unclear", message), path: file });
  }
  const counted = readingsAfterConditioning(reading.fractions);
  const isOneTest = Math.max(...counted) - Math.min(...counted) <= oneTestSpread;
  return (isOneTest ? [reduced.fraction] : counted).map((fraction) => ({
    temperature_C: reading.temperature_C,
    fraction,
    laboratory: reading.laboratory ?? null,
    path: file,
    line: reading.line,
  }));
}
