import type { DynamicMeasurement } from "../../io/measurement.js";
import type { StrainSoftening } from "../material.js";
import { strainSweepsOf } from "./strain-rows.js";

/**
 * How M′ and tan δ of a compound change with strain, relative to the smallest strain measured; of several strain sweeps
 * the one that reaches furthest. Null without a strain sweep.
 */
export function strainSoftening(measurements: DynamicMeasurement[]): StrainSoftening | null {
  const sweeps = measurements
    .filter(({ kind }) => kind === "strain sweep")
    .flatMap((measurement) => strainSweepsOf(measurement).sweeps);
  if (sweeps.length === 0) return null;
  const widest = sweeps.reduce((a, b) =>
    b.strain[b.strain.length - 1] > a.strain[a.strain.length - 1] ? b : a,
  );
  const { strain, storageModulus_Pa, lossModulus_Pa } = widest;
  const lossFactor = storageModulus_Pa.map((storage_Pa, i) => lossModulus_Pa[i] / storage_Pa);
  return {
    temperature_C: widest.temperature_C,
    strain: Array.from(strain),
    storageRatio: Array.from(storageModulus_Pa, (storage_Pa) => storage_Pa / storageModulus_Pa[0]),
    tanDeltaRatio: Array.from(lossFactor, (value) => value / lossFactor[0]),
  };
}
