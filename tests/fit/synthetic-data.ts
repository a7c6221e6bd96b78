import { superpose } from "../../src/fit/material-of.js";
import { log10ShiftFactor, type ShiftLaw } from "../../src/fit/spectrum/shift-law.js";
import { referenceCurves } from "../../src/fit/superposition/law/reference-curves.js";
import { defaultSuperpositionSettings } from "../../src/fit/superposition/superposition-settings.js";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";

/** Data made from a known spectrum and known constants, so that a fit can be held against the truth. */
export interface KnownSpectrum {
  equilibriumModulus_Pa: number;
  times_s: Float64Array;
  moduli_Pa: Float64Array;
}

export interface KnownLaw {
  name: string;
  glassTemperature_C: number;
  /** At Tg. */
  c1: number;
  c2_K: number;
}

/** The four polybutadienes of science.md section 3 and the universal constants, all at Tg. */
export const knownLaws: KnownLaw[] = [
  ...referenceCurves.elastomers
    .filter((row) => row.name.startsWith("polybutadiene"))
    .map((row) => {
      const c2_K = row.c2_K + row.glassTemperature_K - row.referenceTemperature_K;
      return {
        name: row.name,
        glassTemperature_C: row.glassTemperature_K - 273.15,
        c1: (row.c1 * row.c2_K) / c2_K,
        c2_K,
      };
    }),
  { name: "universal constants", glassTemperature_C: -60, c1: 17.44, c2_K: 51.6 },
];

export function lawAtGlass({ glassTemperature_C, c1, c2_K }: KnownLaw): ShiftLaw {
  return { kind: "wlf", referenceTemperature_C: glassTemperature_C, c1, c2_K, tangentBelow_C: null };
}

/** A broad glass transition (a wedge about 100 s at Tg) with a rubbery plateau; relaxation times at Tg. */
export function broadSpectrum(): KnownSpectrum {
  const times: number[] = [];
  const moduli: number[] = [];
  for (let k = 0; k <= 80; k++) {
    const decade = -8.03 + k * 0.2;
    times.push(10 ** decade);
    const wedge = 3e8 * 10 ** ((decade < 2 ? 0.25 : -0.55) * (decade - 2));
    moduli.push(0.46 * wedge + 2e5 * Math.exp(-((decade - 6) ** 2) / 6));
  }
  return {
    equilibriumModulus_Pa: 8e5,
    times_s: Float64Array.from(times),
    moduli_Pa: Float64Array.from(moduli),
  };
}

/** Twelve sharp modes, about one a decade, on no grid of ours. */
export function sharpSpectrum(): KnownSpectrum {
  return {
    equilibriumModulus_Pa: 8e5,
    times_s: Float64Array.from({ length: 12 }, (_, k) => 10 ** (-3.13 + k * 1.07)),
    moduli_Pa: Float64Array.from({ length: 12 }, (_, k) => 3e8 * 10 ** (k < 5 ? 0.1 * k : -0.5 * (k - 5))),
  };
}

/** Complex modulus by the defining sums, written out again here so that the program's own is not its judge. */
export function knownModulus(spectrum: KnownSpectrum, angularFrequency_rad_s: number): [number, number] {
  let storage = spectrum.equilibriumModulus_Pa;
  let loss = 0;
  for (let j = 0; j < spectrum.times_s.length; j++) {
    const x = angularFrequency_rad_s * spectrum.times_s[j];
    storage += (spectrum.moduli_Pa[j] * x * x) / (1 + x * x);
    loss += (spectrum.moduli_Pa[j] * x) / (1 + x * x);
  }
  return [storage, loss];
}

export type Truth = (temperature_C: number, frequency_Hz: number) => [number, number];

export function truthOf(spectrum: KnownSpectrum, law: ShiftLaw): Truth {
  return (t, f) => knownModulus(spectrum, 2 * Math.PI * f * 10 ** log10ShiftFactor(law, t));
}

/** A mixture of truths by the rule of mixtures. */
export function blend(parts: { share: number; truth: Truth }[]): Truth {
  return (t, f) => {
    const out: [number, number] = [0, 0];
    for (const { share, truth } of parts) {
      const [storage, loss] = truth(t, f);
      out[0] += share * storage;
      out[1] += share * loss;
    }
    return out;
  };
}

/** 13 temperatures 5 K apart from Tg to 60 K above. */
export const temperaturesAbove = (glassTemperature_C: number) =>
  Array.from({ length: 13 }, (_, k) => glassTemperature_C + 5 * k);

/** 16 frequencies from 0.1 to 100 Hz. */
export const sweepFrequencies_Hz = Array.from({ length: 16 }, (_, i) => 10 ** (-1 + i * 0.2));

export function measurement(
  kind: DynamicMeasurement["kind"],
  points: { temperature_C: number; frequency_Hz: number }[],
  truth: Truth,
  options: {
    noise?: number;
    seed?: number;
    file?: string;
    deformation?: DynamicMeasurement["deformation"];
    scale?: (temperature_C: number) => number;
  } = {},
): DynamicMeasurement {
  const random = seededRandom(options.seed ?? 1);
  const noise = options.noise ?? 0;
  const n = points.length;
  const storageModulus_Pa = new Float64Array(n);
  const lossModulus_Pa = new Float64Array(n);
  for (const [i, { temperature_C, frequency_Hz }] of points.entries()) {
    const scale = options.scale?.(temperature_C) ?? 1;
    const [storage, loss] = truth(temperature_C, frequency_Hz);
    storageModulus_Pa[i] = scale * storage * (1 + noise * random.normal());
    lossModulus_Pa[i] = scale * loss * (1 + noise * random.normal());
  }
  return {
    kind,
    sample: "invented",
    deformation: options.deformation ?? "shear",
    direction: kind === "temperature sweep" ? "heating" : null,
    temperature_C: Float64Array.from(points, (p) => p.temperature_C),
    frequency_Hz: Float64Array.from(points, (p) => p.frequency_Hz),
    storageModulus_Pa,
    lossModulus_Pa,
    strainAmplitude: null,
    time_s: null,
    heatingRate_K_min: null,
    provenance: {
      file: options.file ?? "invented.csv",
      sheet: null,
      section: null,
      firstLine: 1,
      lastLine: n,
      columns: [],
    },
  };
}

/** Frequency sweeps at the temperatures, all in one measurement of one file. */
export function isothermSweep(
  temperatures_C: number[],
  frequencies_Hz: number[],
  truth: Truth,
  options: Parameters<typeof measurement>[3] = {},
): DynamicMeasurement {
  const points = temperatures_C.flatMap((temperature_C) =>
    frequencies_Hz.map((frequency_Hz) => ({ temperature_C, frequency_Hz })),
  );
  return measurement("frequency sweep", points, truth, options);
}

const glassy = knownLaws[2];

/** An invented polymer with a broad spectrum and a published law, and isotherms that show it whole. */
export const broadPolymer = {
  law: glassy,
  glass_C: glassy.glassTemperature_C,
  vogel_C: glassy.glassTemperature_C - glassy.c2_K,
  truth: truthOf(broadSpectrum(), lawAtGlass(glassy)),
  temperatures_C: temperaturesAbove(glassy.glassTemperature_C),
  frequencies_Hz: Array.from({ length: 11 }, (_, i) => 10 ** (-1 + 0.25 * i)),
};

/** A measurement of that polymer, superposed without draws. */
export const superposedAlone = (measured: DynamicMeasurement) =>
  superpose([measured], [], { ...defaultSuperpositionSettings, draws: 0 });
