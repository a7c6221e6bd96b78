import type { ComplexModulus } from "../../fit/spectrum/complex-modulus.js";
import { power } from "../../numeric/elementary/power.js";
import type { Random } from "../../numeric/statistics/random.js";
import type { CompoundModel } from "./compound-model.js";

/** Relative scatter of each modulus, as a good laboratory's repeat on one specimen shows (common practice). */
const relativeNoise = 0.01;

/** One measured state. Strain is a fraction. */
export interface SweepPoint extends ComplexModulus {
  temperature_C: number;
  frequency_Hz: number;
  strain: number;
}

/** Points that were measured one after the other at one nominal temperature. */
export interface SweepStep {
  nominal_C: number;
  points: SweepPoint[];
}

/** Whole steps from one value to another, both ends in. */
export function steps(from: number, to: number, step: number): number[] {
  return Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);
}

/** Evenly spaced in the logarithm, both ends in. */
export function logSteps(from: number, to: number, count: number): number[] {
  return Array.from({ length: count }, (_, i) => from * power(to / from, i / (count - 1)));
}

function measure(
  model: CompoundModel,
  temperature_C: number,
  frequency_Hz: number,
  strain: number,
  random: Random,
): SweepPoint {
  const { storageModulus_Pa, lossModulus_Pa } = model.complexModulus(temperature_C, frequency_Hz);
  return {
    temperature_C,
    frequency_Hz,
    strain,
    storageModulus_Pa: storageModulus_Pa * (1 + relativeNoise * random.normal()),
    lossModulus_Pa: lossModulus_Pa * (1 + relativeNoise * random.normal()),
  };
}

/** The oven settles within a few hundredths of a kelvin of its set point; the printed temperature is exact. */
function settled_C(nominal_C: number, random: Random): number {
  return Math.round((nominal_C + 0.04 * random.normal()) * 100) / 100;
}

/** All frequencies at each temperature before the oven moves on: a stepped temperature sweep, or isotherms. */
export function measureSteps(
  model: CompoundModel,
  temperatures_C: number[],
  frequencies_Hz: number[],
  random: Random,
  strain = 0.001,
): SweepStep[] {
  return temperatures_C.map((nominal_C) => {
    const temperature_C = settled_C(nominal_C, random);
    return {
      nominal_C,
      points: frequencies_Hz.map((frequency_Hz) =>
        measure(model, temperature_C, frequency_Hz, strain, random),
      ),
    };
  });
}

/** How the filler network breaks down with strain: Kraus, J. Appl. Polym. Sci. Appl. Polym. Symp. 39, 75 (1984), from memory. */
export interface SoftenedSweep {
  /** Share of the small-strain storage modulus that the strain takes away in the end. */
  share: number;
  /** Strain amplitude (fraction) at which half of that is gone. */
  halfStrain: number;
  /** Kraus's exponent m, about 0.6. */
  exponent: number;
  /** Loss modulus at its maximum over the one at the smallest strain. */
  lossRise: number;
}

/**
 * Strain sweep at one temperature and frequency:
 * M′ = M′∞ + ΔM′/(1 + x^{2m}), M″ = M″0·(1 + rise·2x^m/(1 + x^{2m})) with x = strain over half strain.
 */
export function measureStrainSweep(
  model: CompoundModel,
  temperature_C: number,
  frequency_Hz: number,
  strains: number[],
  payne: SoftenedSweep,
  random: Random,
): SweepPoint[] {
  return strains.map((strain) => {
    const point = measure(model, settled_C(temperature_C, random), frequency_Hz, strain, random);
    const x = power(strain / payne.halfStrain, payne.exponent);
    return {
      ...point,
      storageModulus_Pa: point.storageModulus_Pa * (1 - payne.share + payne.share / (1 + x * x)),
      lossModulus_Pa: point.lossModulus_Pa * (1 + (payne.lossRise * 2 * x) / (1 + x * x)),
    };
  });
}
