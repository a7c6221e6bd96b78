import type { Measurement, ReboundImpacts, ReboundMeasurement } from "../../io/measurement.js";
import { pushTo } from "../../numeric/push-to.js";
import { median } from "../../numeric/statistics/quantile.js";
import { medianAfterConditioning, readingsAfterConditioning } from "../rebound/rebound-readings.js";
import type { CompoundProperty } from "./decision-schema.js";
import { intervalOfMean } from "./interval-of-mean.js";

/** Standard laboratory temperature and how far from it a reading still counts as taken there, °C and K. */
const room_C = 23;
const near_K = 3;

/**
 * Rebound as a routine property, in %: at 23 ± 3 °C, at the temperature nearest to 23 °C by each method; readings that
 * state no temperature only where a method has none that do. Of several tests each gives its median; of one alone its
 * readings after the conditioning impacts are the repeats.
 */
export function measuredRebound(measurements: Measurement[]): CompoundProperty[] {
  const byMethod = new Map<string | null, { reading: ReboundImpacts; file: string }[]>();
  for (const { method, readings, provenance } of measurements.filter(isRebound)) {
    for (const reading of readings) pushTo(byMethod, method, { reading, file: provenance.file });
  }
  return [...byMethod].flatMap(([method, tests]): CompoundProperty[] => {
    const temperature_C = roomTemperature_C(tests.map(({ reading }) => reading.temperature_C));
    if (temperature_C === null) return [];
    const used = tests.filter(
      ({ reading }) =>
        Object.is(reading.temperature_C, temperature_C) &&
        medianAfterConditioning(reading.fractions) !== null,
    );
    if (used.length === 0) return [];
    const fractions =
      used.length === 1
        ? readingsAfterConditioning(used[0].reading.fractions)
        : used.map(({ reading }) => medianAfterConditioning(reading.fractions)!.fraction);
    const values = fractions.map((fraction) => Number((100 * fraction).toPrecision(12)));
    const condition = Number.isNaN(temperature_C) ? "temperature not stated" : `at ${temperature_C} °C`;
    return [
      {
        quantity: "measured rebound",
        unit: "%",
        value: median(values),
        ...asShare(intervalOfMean(values)),
        count: values.length,
        method: method === null ? condition : `${method}, ${condition}`,
        inputs: [...new Set(used.map(({ file }) => file))],
      },
    ];
  });
}

/** No test returns less than nothing or more than all, however few repeats open the interval. */
const asShare = ({ low, high }: ReturnType<typeof intervalOfMean>) => ({
  low: low && Math.max(0, low),
  high: high && Math.min(100, high),
});

const isRebound = (one: Measurement): one is ReboundMeasurement => one.kind === "rebound";

/** The one nearest to 23 °C within the tolerance; NaN where none states one; null where all were taken elsewhere. */
function roomTemperature_C(temperatures_C: number[]): number | null {
  const distance_K = (temperature_C: number) => Math.abs(temperature_C - room_C);
  const [nearest] = temperatures_C
    .filter((temperature_C) => distance_K(temperature_C) <= near_K)
    .sort((a, b) => distance_K(a) - distance_K(b) || a - b);
  return nearest ?? temperatures_C.find(Number.isNaN) ?? null;
}
