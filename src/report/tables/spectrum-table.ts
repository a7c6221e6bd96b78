import type { Assessment } from "../assessment.js";
import type { Cell, Table } from "./csv.js";

/**
 * The relaxation spectrum as a Prony series. `time_s` empty is the equilibrium modulus. The normalised
 * modulus is the mode's share of the instantaneous modulus M0 = Me + Σ Mi, as finite-element programs ask for:
 * M(t)/M0 = 1 − Σ g_i (1 − exp(−t/τ_i)).
 */
export function spectrumTable({ results }: Assessment): Table {
  return {
    name: "spectrum.csv",
    header: [
      "compound",
      "deformation",
      "referenceTemperature_C",
      "time_s",
      "modulus_Pa",
      "normalisedModulus",
      "instantaneousModulus_Pa",
      "shiftConstants",
      "note",
    ],
    rows: results.compounds.flatMap(({ name, spectrum }) => {
      if (spectrum === null) return [];
      const instantaneous_Pa = spectrum.modes.reduce(
        (sum, { modulus_Pa }) => sum + modulus_Pa,
        spectrum.equilibriumModulus_Pa,
      );
      const source = spectrum.assumed ? "assumed" : "fitted";
      const row = (time_s: number | null, modulus_Pa: number, note: string): Cell[] => [
        name,
        spectrum.deformation,
        spectrum.referenceTemperature_C,
        time_s,
        modulus_Pa,
        modulus_Pa / instantaneous_Pa,
        instantaneous_Pa,
        source,
        note,
      ];
      const note = "normalisedModulus = modulus / instantaneousModulus; valid inside the measured range only";
      return [
        row(null, spectrum.equilibriumModulus_Pa, "equilibrium modulus"),
        ...spectrum.modes.map(({ time_s, modulus_Pa }) => row(time_s, modulus_Pa, note)),
      ];
    }),
  };
}
