import type { Material } from "../../fit/material.js";
import {
  isInMeasuredRange,
  type RelaxationModel,
  reducedFrequency_Hz,
  relaxationModulus,
} from "../../fit/spectrum/relaxation-model.js";
import { notice } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { pascalText } from "../../words/quantity-text.js";
import type { CompoundProperty } from "../decision/decision-schema.js";

/**
 * Young's modulus of a rubber from its hardness in Shore A, E in MPa = 0.0981 (56 + 7.62336 S)/(0.137505 (254 − 2.54 S))
 * (Gent, Rubber Chem. Technol. 31, 896, 1958).
 * @example modulusFromHardness_Pa(60) // 3604770.0…
 */
export function modulusFromHardness_Pa(shoreA: number): number {
  return (1e6 * 0.0981 * (56 + 7.62336 * shoreA)) / (0.137505 * (254 - 2.54 * shoreA));
}

/** A hardness is read within seconds at room temperature. */
const reading = { temperature_C: 23, time_s: 3 };
/** Further apart than this something has slipped: a unit, G taken for E (common practice: hardness tells E within half). */
const largestFactor = 3;
/** The relation is Gent's for rubbers between these. */
const range = { softest: 20, hardest: 90 };

/** Whether hardness and modulus tell of one compound; a factor beyond three finds slipped units and G taken for E. */
export function hardnessNotice({ model }: Material, properties: CompoundProperty[]): Notice | null {
  const hardness = properties.find(
    ({ quantity, unit, value }) =>
      quantity === "hardness" && unit === "Shore A" && value >= range.softest && value <= range.hardest,
  );
  if (hardness === undefined || model === null) return null;
  const time_s = longestMeasured_s(model);
  if (time_s === null) return null;
  const expected_Pa = modulusFromHardness_Pa(hardness.value);
  const measured_Pa =
    relaxationModulus(model, reading.temperature_C, time_s) * (model.deformation === "shear" ? 3 : 1);
  const factor = measured_Pa / expected_Pa;
  if (factor <= largestFactor && factor >= 1 / largestFactor) return null;
  // A relaxation modulus falls with time, so one that was measured for less time is a bound from above.
  const isBound = time_s < reading.time_s;
  if (isBound && factor > 1) return null;
  const message = `Hardness and modulus do not agree: ${hardness.value} Shore A asks for E of ${pascalText(expected_Pa, 2)} at 23 °C (Gent 1958), the dynamic data give ${isBound ? "at most " : ""}${pascalText(measured_Pa, 2)}, ${Number(Math.max(factor, 1 / factor).toPrecision(2))} times ${factor > 1 ? "more" : "less"}. Look for a slipped unit, for G taken as E, or for files of another compound.`;
  return notice("predict.hardness-contradicts-modulus", message);
}

/** The time of the reading, or the longest one before it that was measured at its temperature; null where there is none. */
function longestMeasured_s(model: RelaxationModel): number | null {
  const { temperature_C, time_s } = reading;
  const frequency_Hz = 1 / (2 * Math.PI * time_s);
  const slowest_Hz = model.lowestReducedFrequency_Hz / reducedFrequency_Hz(model, temperature_C, 1);
  // A little faster, or rounding puts it outside.
  const at_Hz = Math.max(frequency_Hz, slowest_Hz * (1 + 1e-9));
  return isInMeasuredRange(model, temperature_C, at_Hz) ? 1 / (2 * Math.PI * at_Hz) : null;
}
