import type { Measurement, ReboundMeasurement } from "../../io/measurement.js";
import { square } from "../../numeric/elementary/power.js";
import { reboundMethodOf } from "../rebound/rebound-method.js";
import { medianAfterConditioning } from "../rebound/rebound-readings.js";
import type { Common } from "./batch-common-state.js";
import type { BatchEstimate } from "./batch-difference.js";

const sameTemperature_K = 1;
/** The usual temperature of a rebound test (ISO 4662, from memory). */
const usual_C = 23;
/** A median of three scatters 1.16 times as widely as their mean (normal readings; derived). */
const medianFactor = 1.16;

/**
 * Rebound of two batches by one method at one temperature: of those both have, the temperature nearest to 23 °C. The
 * error of a reading comes from its own impacts, pooled over all readings of both batches by the method; without
 * repeats there is none. In words why, where nothing is common.
 */
export function commonRebound(accepted: Measurement[], batch: Measurement[]): Common | string {
  const [a, b] = [readingsOf(accepted), readingsOf(batch)];
  if (a.length === 0 || b.length === 0) return "rebound was not measured on both";
  const methods = [...new Set(a.map(({ key }) => key))].filter((key) => b.some((one) => one.key === key));
  if (methods.length === 0) return "rebound was measured by different methods, whose numbers do not compare";
  const pairs = methods.flatMap((key) =>
    a
      .filter((one) => one.key === key)
      .filter((one) => b.some((other) => other.key === key && isNear(one, other))),
  );
  if (pairs.length === 0)
    return `rebound was not measured within ${sameTemperature_K} K of a common temperature`;
  const state = pairs.reduce((one, other) => (fromUsual(other) < fromUsual(one) ? other : one));
  const ofMethod = [...a, ...b].filter((one) => one.key === state.key);
  const scatter = pooledScatter(ofMethod);
  const alike = (readings: Reduced[]) => {
    const near = readings.filter((one) => one.key === state.key && isNear(one, state));
    return byLaboratory(
      near,
      near.map((one): BatchEstimate => {
        const standardError =
          scatter === null
            ? null
            : (scatter.deviation / Math.sqrt(one.counted.length)) *
              (one.counted.length > 2 ? medianFactor : 1);
        return {
          value: one.fraction,
          standardError,
          degreesOfFreedom: scatter?.degreesOfFreedom ?? 0,
          path: one.path,
        };
      }),
    );
  };
  return {
    accepted: alike(a),
    batch: alike(b),
    temperature_C: state.temperature_C,
    frequency_Hz: null,
    deformation: null,
    direction: null,
    method: state.method,
  };
}

/** One value a laboratory where several are named: they differ by more than the tests of one of them. */
function byLaboratory(reduced: Reduced[], readings: BatchEstimate[]): BatchEstimate[] {
  const names = [...new Set(reduced.map(({ laboratory }) => laboratory))];
  if (names.filter((name) => name !== null).length < 2) return readings;
  return names.map((name): BatchEstimate => {
    const own = readings.filter((_, i) => reduced[i].laboratory === name);
    const errors = own.map(({ standardError }) => standardError);
    return {
      value: own.reduce((sum, { value }) => sum + value, 0) / own.length,
      standardError: errors.includes(null)
        ? null
        : Math.sqrt(errors.reduce<number>((sum, error) => sum + square(error!), 0)) / own.length,
      degreesOfFreedom: own[0].degreesOfFreedom,
      path: own[0].path,
    };
  });
}

interface Reduced {
  /** The method's standard, so that equivalent ones compare. */
  key: string;
  laboratory: string | null;
  method: string | null;
  temperature_C: number;
  fraction: number;
  counted: number[];
  path: string;
}

const isNear = (one: Reduced, other: Reduced) =>
  Math.abs(one.temperature_C - other.temperature_C) <= sameTemperature_K;
const fromUsual = ({ temperature_C }: Reduced) => Math.abs(temperature_C - usual_C);

function readingsOf(measurements: Measurement[]): Reduced[] {
  return measurements
    .filter((one): one is ReboundMeasurement => one.kind === "rebound")
    .flatMap(({ method, readings, provenance }) =>
      readings.flatMap(({ temperature_C, fractions, laboratory = null }): Reduced[] => {
        const reduced = medianAfterConditioning(fractions);
        if (reduced === null || !Number.isFinite(temperature_C)) return [];
        const counted = fractions
          .filter((fraction) => fraction >= 0 && fraction <= 1)
          .slice(-reduced.readings);
        const { key } = reboundMethodOf(method ?? "");
        return [
          {
            key,
            laboratory,
            method,
            temperature_C,
            fraction: reduced.fraction,
            counted,
            path: provenance.file,
          },
        ];
      }),
    );
}

/** Standard deviation of single impacts about their reading's mean. */
function pooledScatter(readings: Reduced[]): { deviation: number; degreesOfFreedom: number } | null {
  let squares = 0;
  let degreesOfFreedom = 0;
  for (const { counted } of readings) {
    const mean = counted.reduce((sum, value) => sum + value, 0) / counted.length;
    for (const value of counted) squares += square(value - mean);
    degreesOfFreedom += counted.length - 1;
  }
  return degreesOfFreedom > 0 ? { deviation: Math.sqrt(squares / degreesOfFreedom), degreesOfFreedom } : null;
}
