import type { MasterCurve, Material } from "../fit/material.js";
import type { RelaxationModel } from "../fit/spectrum/relaxation-model.js";
import { log10ShiftFactor } from "../fit/spectrum/shift-law.js";
import { exp10 } from "../numeric/elementary/exponential.js";

/**
 * Where the superposed data end: what the glass branch adds is extrapolated. The phases of a blend are fitted to all
 * isotherms, those in the glass of a phase too: its own end at the border of its law, at the highest frequency measured.
 */
export function superposedEnd_Hz(
  model: Pick<
    RelaxationModel,
    "superposedUpTo_Hz" | "highestReducedFrequency_Hz" | "furtherPhase" | "law" | "lowestTemperature_C"
  >,
): number {
  const { law, lowestTemperature_C, highestReducedFrequency_Hz } = model;
  if (model.superposedUpTo_Hz !== undefined) return model.superposedUpTo_Hz;
  const border_C = law.kind === "wlf" ? law.tangentBelow_C : null;
  if (model.furtherPhase === undefined || border_C === null || border_C <= lowestTemperature_C)
    return highestReducedFrequency_Hz;
  const colder = log10ShiftFactor(law, lowestTemperature_C) - log10ShiftFactor(law, border_C);
  return highestReducedFrequency_Hz / exp10(colder);
}

/**
 * The modes of a spectrum as far as data stand behind them: those that the fit left empty carry nothing, and those of the
 * glass branch alone are no measurement. A mode a decade beyond the end still shows its flank.
 */
export function measuredModes(model: RelaxationModel): { time_s: number; modulus_Pa: number }[] {
  const fastest_s = model.superposedUpTo_Hz === undefined ? 0 : 0.1 / (2 * Math.PI * model.superposedUpTo_Hz);
  return Array.from(model.times_s, (time_s, i) => ({ time_s, modulus_Pa: model.moduli_Pa[i] })).filter(
    ({ time_s, modulus_Pa }) => modulus_Pa > 0 && time_s >= fastest_s,
  );
}

/** The points of a master curve that the law itself superposes, without those that its tangent puts in the glass. */
export function superposedCurve({
  model,
  superposition,
}: Pick<Material, "model" | "superposition">): MasterCurve | null {
  const curve = superposition?.masterCurve ?? null;
  if (curve === null || model?.superposedUpTo_Hz === undefined) return curve;
  const end_Hz = model.superposedUpTo_Hz * (1 + 1e-9);
  const kept = (values: number[]) => values.filter((_, i) => curve.reducedFrequency_Hz[i] <= end_Hz);
  return {
    temperature_C: kept(curve.temperature_C),
    frequency_Hz: kept(curve.frequency_Hz),
    reducedFrequency_Hz: kept(curve.reducedFrequency_Hz),
    storageModulus_Pa: kept(curve.storageModulus_Pa),
    lossModulus_Pa: kept(curve.lossModulus_Pa),
    storageResidualLog10: kept(curve.storageResidualLog10),
    lossResidualLog10: kept(curve.lossResidualLog10),
  };
}
