import type { DynamicMeasurement } from "../../io/measurement.js";
import { specimenModulus } from "../../io/specimen-modulus.js";
import { coded } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { fixed, frequencyText, pascalText, temperatureText } from "../../words/quantity-text.js";
import type { GlassTransition } from "../material.js";

/** A glass's tan δ: below it a reading is no part of the transition any more. */
const glassTanDelta = 0.05;
/**
 * Young's modulus of the glass of most rubbers: 1.5 to 3 GPa, in shear a third (common practice; Ferry, Viscoelastic
 * Properties of Polymers, 3rd ed., ch. 2, has 1 GPa in shear; from memory).
 */
const usualGlass_Pa = { from: 1.5e9, middle: 2e9, to: 3e9 };
/** A reading at that tan δ is a fifth short of the glass at most; one below this is softer than a rubber's. */
const softGlass_Pa = 1.2e9;
/** A glass softer than the usual one by more than this is too soft for an instrument that gives (`specimenModulus`). */
const mostGive = 4;
/** Below this what a stiffer glass would move is not worth saying. */
const leastMove_K = 0.5;

/**
 * What is said where the glass reads softer than a rubber's: an instrument that gives, or a specimen that slips, takes part of
 * the deflection there, and since it takes most where the specimen is stiffest, the M″ peak and the onset read too warm. A
 * glass far softer than that was read in a wrong unit, or is none.
 *
 * @param transitionsOf how transitions are read from measurements
 * @returns null where the glass reads as stiff as it should, or was not measured
 */
export function softGlassNotice(
  dynamic: DynamicMeasurement[],
  transitions: GlassTransition[],
  transitionsOf: (dynamic: DynamicMeasurement[]) => GlassTransition[],
): Notice | null {
  for (const deformation of new Set(transitions.map((read) => read.deformation))) {
    const read = transitions.find((one) => one.deformation === deformation && positionOf(one) !== null);
    if (read === undefined) continue;
    const { path, frequency_Hz } = read;
    const peak_C = positionOf(read)!;
    const alike = dynamic.filter((one) => one.kind !== "strain sweep" && one.deformation === deformation);
    const stiffest_Pa = stiffestGlass(alike, peak_C);
    const share = deformation === "shear" ? 1 / 3 : 1;
    if (stiffest_Pa === 0 || stiffest_Pa >= share * softGlass_Pa) continue;
    const usual = ({ from, to }: typeof usualGlass_Pa) =>
      `${pascalText(share * from, 2)} to ${pascalText(share * to, 2)}`;
    const reads = `The glass reads ${pascalText(stiffest_Pa, 2)} at most${deformation === "unstated" ? "" : ` in ${deformation}`}, where most rubbers have ${usual(usualGlass_Pa)} (common practice; a foam has less).`;
    if (stiffest_Pa < (share * usualGlass_Pa.middle) / mostGive) {
      return {
        ...coded("fit.soft-glass"),
        message: `${reads} That is too soft for an instrument that gives: a unit or a scale that slipped in the export would explain it, or a specimen that slipped. Grip, rebound and cushioning are then wrong, and no interval includes this. Hold the export's unit against what the instrument shows.`,
      };
    }
    const rigid_Pa = 1 / (1 / stiffest_Pa - 1 / (share * usualGlass_Pa.middle));
    const moved = transitionsOf(alike.map((one) => withoutGive(one, rigid_Pa))).find(
      (other) => other.path === path && other.frequency_Hz === frequency_Hz,
    );
    const moved_C = moved === undefined ? null : positionOf(moved);
    if (moved_C === null || peak_C - moved_C < leastMove_K) continue;
    return {
      ...coded("fit.soft-glass"),
      message: `${reads} An instrument that gives, or a specimen that slips, would explain it. If the glass had ${pascalText(share * usualGlass_Pa.middle, 2)}, the M″ peak at ${frequencyText(frequency_Hz)} would stand ${fixed(peak_C - moved_C, 1)} K colder than ${temperatureText(peak_C)}, and the glassy border with it; no interval includes this. Measure a rigid bar of the specimen's size and state what it reads: rigidReading_MPa under files in study.yaml.`,
    };
  }
  return null;
}

const positionOf = ({ lossModulusPeak: peak }: GlassTransition) =>
  peak?.bracketed === true ? peak.temperature_C : null;

/** The highest storage modulus of a glass below a temperature; 0 where none was measured. */
function stiffestGlass(dynamic: DynamicMeasurement[], below_C: number): number {
  let stiffest_Pa = 0;
  for (const { temperature_C, storageModulus_Pa, lossModulus_Pa } of dynamic) {
    for (const [i, storage_Pa] of storageModulus_Pa.entries()) {
      if (temperature_C[i] < below_C && lossModulus_Pa[i] <= glassTanDelta * storage_Pa) {
        stiffest_Pa = Math.max(stiffest_Pa, storage_Pa);
      }
    }
  }
  return stiffest_Pa;
}

function withoutGive(measurement: DynamicMeasurement, rigid_Pa: number): DynamicMeasurement {
  const storageModulus_Pa = measurement.storageModulus_Pa.slice();
  const lossModulus_Pa = measurement.lossModulus_Pa.slice();
  for (const [i, storage_Pa] of measurement.storageModulus_Pa.entries()) {
    const specimen = specimenModulus(storage_Pa, measurement.lossModulus_Pa[i], rigid_Pa);
    if (specimen === null) continue;
    storageModulus_Pa[i] = specimen.storageModulus_Pa;
    lossModulus_Pa[i] = specimen.lossModulus_Pa;
  }
  return { ...measurement, storageModulus_Pa, lossModulus_Pa };
}
