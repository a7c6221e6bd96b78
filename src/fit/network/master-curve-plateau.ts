import { exp10 } from "../../numeric/elementary/exponential.js";
import { seededRandom } from "../../numeric/statistics/random.js";
import { drawnInterval } from "../../numeric/statistics/value-interval.js";
import { phaseShare } from "../glass/separate-phases.js";
import type { Material } from "../material.js";
import { complexModulus, type RelaxationModel } from "../spectrum/relaxation-model.js";
import { log10ShiftFactor } from "../spectrum/shift-law.js";
import {
  type FoundPlateau,
  type PlateauAbsence,
  plateauAbovePeak_K,
  type RubberyPlateau,
  rubberyPlateau,
} from "./rubbery-plateau.js";

const step_K = 1;

/**
 * The rubbery plateau of a master curve, read as the temperature sweep it stands for: at the lowest frequency that
 * was measured at the warmest temperature, over the measured temperatures. The interval comes from the draws.
 */
export function masterCurvePlateau(
  { model, draws }: Pick<Material, "model" | "draws">,
  seed: number,
): FoundPlateau | PlateauAbsence {
  const nothing: PlateauAbsence = { absent: "ends too early", drift: null };
  if (model === null || !(model.lowestReducedFrequency_Hz > 0)) return nothing;
  const lowest_C = model.lowestTemperature_C;
  const highest_C = model.highestTemperature_C;
  if (!Number.isFinite(highest_C - lowest_C)) return nothing;
  const frequency_Hz = model.lowestReducedFrequency_Hz / exp10(log10ShiftFactor(model.law, highest_C));
  const at = (one: RelaxationModel) => plateauOf(one, frequency_Hz, lowest_C, highest_C, seed);
  const plateau = at(model);
  if ("absent" in plateau) return plateau;
  const drawn = draws.map((draw) => {
    const other = at(draw);
    return "absent" in other ? Number.NaN : other.storageModulus_Pa.value;
  });
  return {
    plateau: { ...plateau, storageModulus_Pa: drawnInterval(plateau.storageModulus_Pa.value, drawn) },
    deformation: model.deformation,
    frequency_Hz,
    basis: "master curve",
    paths: [],
  };
}

function plateauOf(
  model: RelaxationModel,
  frequency_Hz: number,
  lowest_C: number,
  highest_C: number,
  seed: number,
): RubberyPlateau | PlateauAbsence {
  const count = Math.floor((highest_C - lowest_C) / step_K) + 1;
  const temperature_C = Float64Array.from({ length: count }, (_, i) => lowest_C + i * step_K);
  const moduli = Array.from(temperature_C, (T) => complexModulus(model, T, frequency_Hz));
  const peak_C = warmestPeak_C(
    temperature_C,
    moduli.map(({ storageModulus_Pa, lossModulus_Pa }) => lossModulus_Pa / storageModulus_Pa),
  );
  if (peak_C === null) return { absent: "ends too early", drift: null };
  const sweep = {
    temperature_C,
    storageModulus_Pa: Float64Array.from(moduli, ({ storageModulus_Pa }) => storageModulus_Pa),
    lossModulus_Pa: Float64Array.from(moduli, ({ lossModulus_Pa }) => lossModulus_Pa),
  };
  // A model has no scatter of its own: no draws.
  return rubberyPlateau(sweep, peak_C + plateauAbovePeak_K, seededRandom(seed), 0);
}

/** The warmest maximum; the cold end where tan δ falls all the way; null where it still climbs at the warm end. */
function warmestPeak_C(temperature_C: Float64Array, tanDelta: number[]): number | null {
  const highest = Math.max(...tanDelta);
  for (let i = tanDelta.length - 2; i > 0; i--) {
    const isMaximum = tanDelta[i] >= tanDelta[i - 1] && tanDelta[i] > tanDelta[i + 1];
    if (isMaximum && tanDelta[i] >= phaseShare * highest) return temperature_C[i];
  }
  return tanDelta[0] > tanDelta[tanDelta.length - 1] ? temperature_C[0] : null;
}
