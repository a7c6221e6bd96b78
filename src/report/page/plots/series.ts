import type { PackedMeasurement } from "../../page-data.js";

/** One curve of a measurement: the points of one frequency or one temperature, in rising order of `x`. */
export interface Series {
  measurement: PackedMeasurement;
  /** The value that all points share, to three digits. */
  shared: number;
  x: number[];
  storage_MPa: number[];
  loss_MPa: number[];
  tanDelta: number[];
  temperature_C: number[];
  frequency_Hz: number[];
}

/** Splits a measurement into curves of equal frequency, over temperature. */
export function byFrequency(measurement: PackedMeasurement): Series[] {
  return split(measurement, measurement.frequency_Hz, measurement.temperature_C, (f) =>
    Number(f.toPrecision(3)),
  );
}

/** All points in one curve over strain. */
export function overStrain(measurement: PackedMeasurement): Series[] {
  const strain = measurement.strainAmplitude ?? [];
  return split(measurement, measurement.frequency_Hz, strain, (f) => Number(f.toPrecision(3)));
}

function split(
  measurement: PackedMeasurement,
  key: number[],
  along: number[],
  rounded: (value: number) => number,
): Series[] {
  const groups = new Map<number, number[]>();
  for (let i = 0; i < along.length; i++) {
    if (measurement.storageModulus_Pa[i] === null || along[i] === null) continue;
    const shared = rounded(key[i]);
    const group = groups.get(shared);
    if (group === undefined) groups.set(shared, [i]);
    else group.push(i);
  }
  return [...groups.entries()]
    .sort((a, b) => a[0] - b[0])
    .map(([shared, indices]) => {
      const sorted = indices.sort((a, b) => along[a] - along[b]);
      const pick = (values: number[], scale = 1) => sorted.map((i) => values[i] / scale);
      return {
        measurement,
        shared,
        x: pick(along),
        storage_MPa: pick(measurement.storageModulus_Pa, 1e6),
        loss_MPa: pick(measurement.lossModulus_Pa, 1e6),
        tanDelta: sorted.map((i) => measurement.lossModulus_Pa[i] / measurement.storageModulus_Pa[i]),
        temperature_C: pick(measurement.temperature_C),
        frequency_Hz: pick(measurement.frequency_Hz),
      };
    });
}

/** Value of a curve at x by straight interpolation; null outside. */
export function valueAt(x: number[], y: number[], at: number): number | null {
  for (let i = 1; i < x.length; i++) {
    if (at >= x[i - 1] && at <= x[i]) {
      const width = x[i] - x[i - 1];
      return width === 0 ? y[i] : y[i - 1] + ((y[i] - y[i - 1]) * (at - x[i - 1])) / width;
    }
  }
  return null;
}

/** Remarks that name the files a plot's numbers were measured in. */
export function sourceRemarks(
  measurements: { file: string; sha256: string; section?: string | null }[],
): string[] {
  const seen = new Set<string>();
  for (const { file, sha256, section } of measurements) {
    const part = section ? `, ${/section/i.test(section) ? "" : "section "}${section}` : "";
    seen.add(`from ${file}, sha256 ${sha256}${part}`);
  }
  return [...seen];
}

/** A number in a remark, without the last bits of its arithmetic: 5.06, not 5.0600000000000005. */
export function plainNumber(value: number): string {
  return String(Number(value.toPrecision(12)));
}

/** What stands above every predicted number that leaves the page. */
export const screeningRemark =
  "screening prediction, no friction or safety certificate: slip and impact safety need the tests and limits that local codes and the product's own standard ask for, and a qualified person's judgement";
