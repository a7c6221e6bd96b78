import type { DynamicMeasurement } from "../../io/measurement.js";
import type { Notice } from "../../words/notice.js";
import type { PayneEffect } from "../material.js";
import { linearityDrop, percent, strainSweepState } from "./payne.js";

/** Amplitudes are set and read to a few per cent only. */
const tolerance = 1.05;

/**
 * Cautions for the sweeps of a compound that were run at a strain amplitude outside the linear range which its
 * strain sweeps found. Only strains of one deformation mode are compared; of several strain sweeps the one nearest
 * in temperature to the sweep counts, and of several inside its temperatures the one of narrowest linear range.
 *
 * @param measurements of the compound; sweeps without strain amplitudes are passed over
 * @param effects of the same compound's strain sweeps
 * @example linearRangeNotices(measurements, payneEffects(measurements).effects)
 */
export function linearRangeNotices(measurements: DynamicMeasurement[], effects: PayneEffect[]): Notice[] {
  if (effects.length === 0) return [];
  const notices: Notice[] = [];
  for (const measurement of measurements) {
    const { kind, deformation, strainAmplitude } = measurement;
    if (kind === "strain sweep" || strainAmplitude === null) continue;
    const strains = Array.from(strainAmplitude).filter((strain) => strain > 0 && Number.isFinite(strain));
    if (strains.length === 0) continue;
    const alike = effects.filter((effect) => effect.deformation === deformation);
    const notice =
      alike.length > 0 ? compared(measurement, strains, alike) : notCompared(measurement, effects);
    if (notice !== null) notices.push(notice);
  }
  return notices;
}

function compared(measurement: DynamicMeasurement, strains: number[], effects: PayneEffect[]): Notice | null {
  const path = measurement.provenance.file;
  const effect = nearestInTemperature(measurement.temperature_C, effects);
  const largest = Math.max(...strains);
  const limit = effect.limitOfLinearity?.value ?? effect.largestStrain;
  if (largest <= tolerance * limit) return null;
  const share = strains.filter((strain) => strain > tolerance * limit).length / strains.length;
  const where = strainSweepState(effect);
  const ran = `${path}: ${share > 0.995 ? "all" : `${Math.max(1, Math.round(100 * share))} %`} of the ${measurement.kind} was run at strain amplitudes up to ${percent(largest)}`;
  if (effect.limitOfLinearity === null) {
    const message = `${ran}, beyond ${percent(limit)}, where the strain sweep in ${effect.path} at ${where} ends. Up to there the compound is linear; past it nobody has looked. Extend the strain sweep.`;
    return { severity: "info", code: "fit.strain-not-covered", message, path };
  }
  const message = `${ran}, outside the linear range: in ${effect.path} at ${where} M′ has dropped by ${100 * linearityDrop} % at ${percent(limit)}. Its moduli read too low there, and every number from them with it. Repeat the sweep at ${percent(limit / 2)} or less.`;
  return { severity: "caution", code: "fit.outside-linear-range", message, path };
}

function notCompared(measurement: DynamicMeasurement, effects: PayneEffect[]): Notice {
  const path = measurement.provenance.file;
  const mode = (deformation: string) => (deformation === "unstated" ? "an unstated mode" : deformation);
  const message = `${path}: the ${measurement.kind} was run in ${mode(measurement.deformation)}, the strain sweep in ${mode(effects[0].deformation)}; strains of different modes do not compare, so whether it kept to the linear range is not known.`;
  return { severity: "info", code: "fit.linear-range-unknown", message, path };
}

/** Of several strain sweeps inside the temperatures of the sweep the one with the narrowest linear range counts. */
function nearestInTemperature(temperature_C: Float64Array, effects: PayneEffect[]): PayneEffect {
  const finite = temperature_C.filter(Number.isFinite);
  const low_C = finite.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const high_C = finite.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const distance = ({ temperature_C: T }: PayneEffect) =>
    T === null ? 0 : Math.max(0, low_C - T, T - high_C);
  const limit = (effect: PayneEffect) => effect.limitOfLinearity?.value ?? effect.largestStrain;
  return effects.reduce((a, b) =>
    distance(b) < distance(a) || (distance(b) === distance(a) && limit(b) < limit(a)) ? b : a,
  );
}
