import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";

/** Storage and loss modulus in Pa. */
type ModulusAt = (
  temperature_C: number,
  frequency_Hz: number,
) => { storageModulus_Pa: number; lossModulus_Pa: number };

/** One relaxation of Havriliak and Negami (Polymer 8, 161, 1967), moved by a WLF law with its tangent below Tg. */
interface Relaxation {
  strength_Pa: number;
  /** At Tg. */
  time_s: number;
  symmetric: number;
  asymmetric: number;
}

/** Invented, styrene-butadiene-like: a glass transition with a broad, weak tail on its slow side. */
const glassTransition: Relaxation = { strength_Pa: 2.2e9, time_s: 40, symmetric: 0.68, asymmetric: 0.5 };
const slowTail: Relaxation = { strength_Pa: 1.5e6, time_s: 1e5, symmetric: 0.22, asymmetric: 1 };
const rubberyModulus_Pa = 3.6e6;
const law = { glass_C: -46, c1: 13.5, c2_K: 46 };

function log10Shift(temperature_C: number): number {
  const { glass_C, c1, c2_K } = law;
  const above_K = temperature_C - glass_C;
  if (above_K >= 0) return (-c1 * above_K) / (c2_K + above_K);
  const glass_K = glass_C + 273.15;
  return ((c1 / c2_K) * glass_K ** 2 * (-above_K / glass_K)) / (temperature_C + 273.15);
}

/** Closed form, no fit and no spectrum of ours in it. */
export const havriliakNegami: ModulusAt = (temperature_C, frequency_Hz) => {
  let storageModulus_Pa = rubberyModulus_Pa;
  let lossModulus_Pa = 0;
  for (const { strength_Pa, time_s, symmetric, asymmetric } of [glassTransition, slowTail]) {
    const x = (2 * Math.PI * frequency_Hz * time_s * 10 ** log10Shift(temperature_C)) ** symmetric;
    const real = 1 + x * Math.cos((symmetric * Math.PI) / 2);
    const imaginary = x * Math.sin((symmetric * Math.PI) / 2);
    const size = Math.hypot(real, imaginary) ** -asymmetric;
    const angle = asymmetric * Math.atan2(imaginary, real);
    storageModulus_Pa += strength_Pa * (1 - size * Math.cos(angle));
    lossModulus_Pa += strength_Pa * size * Math.sin(angle);
  }
  return { storageModulus_Pa, lossModulus_Pa };
};

/** Place of a peak by dense evaluation and a parabola through the three highest points. */
export function densePeak_C(
  modulus: ModulusAt,
  frequency_Hz: number,
  quantity: "tan delta" | "loss modulus",
) {
  const value = (t: number) => {
    const { storageModulus_Pa, lossModulus_Pa } = modulus(t, frequency_Hz);
    return quantity === "tan delta" ? lossModulus_Pa / storageModulus_Pa : lossModulus_Pa;
  };
  const step_K = 0.05;
  let best = -100;
  for (let t = -100; t < 80; t += step_K) if (value(t) > value(best)) best = t;
  const [a, b, c] = [value(best - step_K), value(best), value(best + step_K)];
  return best + (step_K * (a - c)) / (2 * (a - 2 * b + c));
}

export interface Made {
  from_C?: number;
  to_C?: number;
  step_K?: number;
  frequencies_Hz?: number[];
  /** Relative scatter of each modulus. */
  noise?: number;
  seed?: number;
  kind?: DynamicMeasurement["kind"];
}

/** Rows of a material at all frequencies of each temperature; the grid of temperatures is laid anew for each seed. */
export function measure(modulus: ModulusAt, made: Made = {}): DynamicMeasurement {
  const { from_C = -100, to_C = 45, step_K = 2, frequencies_Hz = [10], noise = 0.01, seed = 1 } = made;
  const random = seededRandom(seed);
  // The first numbers of neighbouring seeds are alike.
  for (let i = 0; i < 20; i++) random.uniform();
  const rows: [number, number, number, number][] = [];
  for (let t = from_C + step_K * random.uniform(); t <= to_C; t += step_K) {
    for (const f of frequencies_Hz) {
      const { storageModulus_Pa, lossModulus_Pa } = modulus(t, f);
      const scattered = (value: number) => value * Math.exp(noise * random.normal());
      rows.push([t, f, scattered(storageModulus_Pa), scattered(lossModulus_Pa)]);
    }
  }
  const column = (k: number) => Float64Array.from(rows, (row) => row[k]);
  return {
    kind: made.kind ?? "temperature sweep",
    sample: "made for a test",
    deformation: "tension",
    direction: made.kind === "frequency sweep" ? null : "heating",
    temperature_C: column(0),
    frequency_Hz: column(1),
    storageModulus_Pa: column(2),
    lossModulus_Pa: column(3),
    strainAmplitude: null,
    time_s: null,
    heatingRate_K_min: null,
    provenance: {
      file: "made.csv",
      sheet: null,
      section: null,
      firstLine: 2,
      lastLine: 1 + rows.length,
      columns: [],
    },
  };
}

/** Isotherms every 5 K in a narrow window of frequencies, as many laboratories measure them. */
export const narrowIsotherms = (made: Made = {}): DynamicMeasurement =>
  measure(havriliakNegami, {
    kind: "frequency sweep",
    from_C: -50,
    to_C: 40,
    step_K: 5,
    frequencies_Hz: [5, 7, 9, 11, 13, 15],
    ...made,
  });
