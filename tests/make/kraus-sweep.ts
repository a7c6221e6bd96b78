import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";

/**
 * The strain dependence that Kraus gave for filled rubber (J. Appl. Polym. Sci., Appl. Polym. Symp. 39, 75, 1984;
 * from memory): M′ = M∞ + ΔM/(1 + x), M″ = M″∞ + 2 (M″m − M″∞) √x/(1 + x), x = (γ/γc)^2m. Numbers are invented.
 */
export interface KrausRubber {
  limit_Pa: number;
  amplitude_Pa: number;
  criticalStrain: number;
  m: number;
  lossLimit_Pa: number;
  lossMaximum_Pa: number;
}

export const filledRubber: KrausRubber = {
  limit_Pa: 1.5e6,
  amplitude_Pa: 3e6,
  criticalStrain: 0.01,
  m: 0.6,
  lossLimit_Pa: 2e5,
  lossMaximum_Pa: 6e5,
};

export function krausStorage_Pa(rubber: KrausRubber, strain: number): number {
  return rubber.limit_Pa + rubber.amplitude_Pa / (1 + (strain / rubber.criticalStrain) ** (2 * rubber.m));
}

/** Strain at which M′ has dropped by 5 % from its value at `smallest`, the formula solved for the strain. */
export function krausLimitOfLinearity(rubber: KrausRubber, smallest: number): number {
  const target_Pa = 0.95 * krausStorage_Pa(rubber, smallest);
  const x = rubber.amplitude_Pa / (target_Pa - rubber.limit_Pa) - 1;
  return rubber.criticalStrain * x ** (1 / (2 * rubber.m));
}

export interface StrainSweepMaking {
  from?: number;
  to?: number;
  perDecade?: number;
  strains?: number[];
  noise?: number;
  seed?: number;
  deformation?: DynamicMeasurement["deformation"];
  temperature_C?: number;
}

export function makeStrainSweep(rubber: KrausRubber, making: StrainSweepMaking = {}): DynamicMeasurement {
  const { from = 1e-4, to = 1, perDecade = 6, noise = 0, seed = 1, deformation = "shear" } = making;
  const count = Math.round(perDecade * Math.log10(to / from));
  const strains = making.strains ?? Array.from({ length: count + 1 }, (_, i) => from * 10 ** (i / perDecade));
  const random = seededRandom(seed);
  const x = (strain: number) => (strain / rubber.criticalStrain) ** (2 * rubber.m);
  return {
    kind: "strain sweep",
    sample: "made for a test",
    deformation,
    direction: null,
    temperature_C: new Float64Array(strains.length).fill(making.temperature_C ?? 60),
    frequency_Hz: new Float64Array(strains.length).fill(10),
    storageModulus_Pa: Float64Array.from(
      strains,
      (strain) => krausStorage_Pa(rubber, strain) * (1 + noise * random.normal()),
    ),
    lossModulus_Pa: Float64Array.from(strains, (strain) => {
      const { lossLimit_Pa, lossMaximum_Pa } = rubber;
      const share = (2 * Math.sqrt(x(strain))) / (1 + x(strain));
      return (lossLimit_Pa + (lossMaximum_Pa - lossLimit_Pa) * share) * (1 + noise * random.normal());
    }),
    strainAmplitude: Float64Array.from(strains),
    time_s: null,
    heatingRate_K_min: null,
    provenance: { file: "strain.csv", sheet: null, section: null, firstLine: 1, lastLine: 1, columns: [] },
  };
}
