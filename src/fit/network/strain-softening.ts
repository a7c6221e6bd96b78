import type { DynamicMeasurement } from "../../io/measurement.js";
import type { StrainSoftening } from "../material.js";
import { fitKraus, fitKrausLoss, krausLoss, krausStorage } from "./kraus-curve.js";
import { type StrainRows, strainSweepsOf } from "./strain-rows.js";

/** A Kraus curve is carried on to this many times the largest strain. */
const reach = 2;

/**
 * How M′ and tan δ of a compound change with strain, relative to the smallest strain measured; of several strain sweeps
 * the one that reaches furthest. Where the sweep follows Kraus's curve it is that curve, free of the points' scatter and
 * carried on to twice the largest strain; else it is the points. Null without a strain sweep.
 */
export function strainSoftening(measurements: DynamicMeasurement[]): StrainSoftening | null {
  const sweeps = measurements
    .filter(({ kind }) => kind === "strain sweep")
    .flatMap((measurement) => strainSweepsOf(measurement).sweeps);
  if (sweeps.length === 0) return null;
  const widest = sweeps.reduce((a, b) =>
    b.strain[b.strain.length - 1] > a.strain[a.strain.length - 1] ? b : a,
  );
  const { strain, storage, loss } = smoothed(widest);
  const lossFactor = storage.map((value, i) => loss[i] / value);
  return {
    temperature_C: widest.temperature_C,
    strain,
    storageRatio: storage.map((value) => value / storage[0]),
    tanDeltaRatio: lossFactor.map((value) => value / lossFactor[0]),
  };
}

function smoothed({ strain, storageModulus_Pa, lossModulus_Pa }: StrainRows): {
  strain: number[];
  storage: number[];
  loss: number[];
} {
  const strains = Array.from(strain);
  const curve = fitKraus(strain, storageModulus_Pa);
  const levels = curve === null ? null : fitKrausLoss(curve, strain, lossModulus_Pa);
  if (curve === null || levels === null) {
    return { strain: strains, storage: Array.from(storageModulus_Pa), loss: Array.from(lossModulus_Pa) };
  }
  const further = [...strains, reach * strains[strains.length - 1]];
  return {
    strain: further,
    storage: further.map((one) => krausStorage(curve, one)),
    loss: further.map((one) => krausLoss(curve, levels, one)),
  };
}
