import type { z } from "zod";
import type { PropertyMeasurement } from "../../io/measurement.js";
import { studentT95 } from "../../numeric/confidence.js";
import { square } from "../../numeric/elementary/power.js";
import { pushTo } from "../../numeric/push-to.js";
import { median } from "../../numeric/quantile.js";
import type { propertySchema } from "./decision-schema.js";

export type CompoundProperty = z.infer<typeof propertySchema>;

/**
 * One compound's properties as measured, each by its quantity, unit and method: values of different methods do not mix.
 * Single values come before means of means where a file gives both.
 *
 * @param measurements of one compound
 * @returns in the order in which they first stand
 */
export function propertiesOf(measurements: PropertyMeasurement[]): CompoundProperty[] {
  const groups = new Map<string, PropertyMeasurement[]>();
  for (const one of measurements) pushTo(groups, JSON.stringify([one.property, one.unit, one.method]), one);
  return [...groups.values()].map((group) => {
    const single = group.filter(({ areMeans }) => !areMeans);
    const used = single.length > 0 ? single : group;
    const values = used.flatMap((one) => one.values);
    const [{ property, unit, method }] = used;
    return {
      quantity: property,
      unit,
      value: median(values),
      ...intervalOfMean(values),
      count: values.length,
      method,
      inputs: [...new Set(used.map(({ provenance }) => provenance.file))],
    };
  });
}

/** 95 % interval by Student's t, opened to hold the median; null ends for a single value. */
function intervalOfMean(values: number[]): { low: number | null; high: number | null } {
  const n = values.length;
  if (n < 2) return { low: null, high: null };
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const variance = values.reduce((sum, value) => sum + square(value - mean), 0) / (n - 1);
  const half = studentT95(n - 1) * Math.sqrt(variance / n);
  const middle = median(values);
  return { low: Math.min(middle, mean - half), high: Math.max(middle, mean + half) };
}
