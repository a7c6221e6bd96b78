import type { Measurement, PropertyMeasurement } from "../../io/measurement.js";
import { pushTo } from "../../numeric/push-to.js";
import { median } from "../../numeric/statistics/quantile.js";
import type { CompoundProperty } from "./decision-schema.js";
import { intervalOfMean } from "./interval-of-mean.js";
import { measuredRebound } from "./measured-rebound.js";

/**
 * One compound's properties as measured, each by its quantity, unit and method: values of different methods do not mix.
 * Single values come before means of means where a file gives both. Rebound at room temperature is one of them.
 *
 * @param properties and measurements of one compound
 * @returns in the order in which they first stand
 */
export function propertiesOf(compound: {
  properties: PropertyMeasurement[];
  measurements: Measurement[];
}): CompoundProperty[] {
  return [...routineProperties(compound.properties), ...measuredRebound(compound.measurements)];
}

function routineProperties(measurements: PropertyMeasurement[]): CompoundProperty[] {
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
