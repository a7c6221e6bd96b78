import type { GlassTransition, Material, Peak } from "../../fit/material.js";
import { complexModulus, type RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import { log10ShiftFactor, type ShiftLaw, temperatureAtShift } from "../../fit/spectrum/shift-law.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { hypotenuse, square } from "../../numeric/elementary/power.js";
import { normal95 } from "../../numeric/statistics/confidence.js";
import { meanOfReplicates } from "../../numeric/statistics/mean.js";
import { spreadAround } from "../../numeric/statistics/value-interval.js";
import type { ContactState } from "../contact/contact-state.js";

/** One of the material's models with the contact that governs it in the use. */
export interface GovernedModel {
  model: RelaxationModel;
  governing: NonNullable<ContactState["governing"]>;
  /** What is to be added to the model's temperatures. */
  warmer_K: number;
}

/** A standard normal error as five equally likely ones: the middles of its fifths, brought to a mean square of one. */
const evenScores = [-1.4634, -0.5988, 0, 0.5988, 1.4634];

/**
 * The drawn laws put the M″ peak at the contact in a wider range than they err by: of 750 contacts of sweeps alone, the
 * thermometer taken as exact, 95 % erred by less than half of it, and beside a secondary relaxation, which errs by more
 * than any law, another width holds no more: 90 to 97 % of 450 with 0.8 as with 0.95.
 */
const lawsSpread = { tanDelta: 1, lossModulus: 0.85 };

interface MovedPeak {
  temperature_C: number;
  low_C: number;
  high_C: number;
}

/**
 * The peaks of a sweep at one frequency moved to the contact frequency along each drawn law, with their own error: log10
 * aT at the moved peak is that at the measured one less log10(f/f′). Where the law is assumed the spectrum cannot show
 * the peaks as well as the sweep itself does: on 60 made sweeps the M″ peak at the contact beside a secondary relaxation
 * had a bias of 2.3 K when read off the spectrum and 0.2 K when moved. Null where the law was fitted to the data.
 */
export function movedPeaks(
  material: Material,
  best: GovernedModel,
  draws: GovernedModel[],
): { tanDelta: MovedPeak | null; lossModulus: MovedPeak | null } | null {
  if (material.superposition?.source !== "assumed") return null;
  const sweep = sweepOf(material.glassTransitions, best.model.deformation);
  if (sweep === null) return null;
  const move = (
    peak: { temperature_C: number | null; low_C: number | null; high_C: number | null } | null,
    pull_K: number,
    spread: number,
  ) => {
    if (peak === null || peak.temperature_C === null || peak.low_C === null || peak.high_C === null)
      return null;
    const { temperature_C } = peak;
    const value_C = movedAlong(
      best.model.law,
      temperature_C,
      sweep.frequency_Hz,
      best.governing.frequency_Hz,
    );
    if (value_C === null) return null;
    const below_K = (temperature_C - peak.low_C) / normal95;
    const above_K = (peak.high_C - temperature_C) / normal95;
    // Every law with every error of the peak: of one pairing by chance the interval would keep a part of that chance.
    const drawn = draws.flatMap(({ model, governing }) =>
      evenScores.flatMap((z) => {
        const own_C = temperature_C + z * (z < 0 ? below_K : above_K);
        return movedAlong(model.law, own_C, sweep.frequency_Hz, governing.frequency_Hz) ?? [];
      }),
    );
    const thermometer_K = Math.sqrt(
      draws.reduce((sum, one) => sum + square(one.warmer_K), 0) / Math.max(1, draws.length),
    );
    // Between none of the pull and all of it each part is as likely.
    const pullDeviation_K = pull_K / Math.sqrt(12);
    const half_K = hypotenuse(
      spread * (spreadAround(value_C, drawn).high - value_C),
      normal95 * hypotenuse(thermometer_K, pullDeviation_K),
    );
    const middle_C = value_C - pull_K / 2;
    return { temperature_C: middle_C, low_C: middle_C - half_K, high_C: middle_C + half_K };
  };
  return {
    tanDelta: move(sweep.tanDeltaPeak, 0, lawsSpread.tanDelta),
    lossModulus: move(sweep.lossModulusPeak, pullOfSecondary_K(sweep, best), lawsSpread.lossModulus),
  };
}

/** From a sweep at 1 Hz to a contact: what a secondary relaxation does to the M″ peak was tried over so many decades. */
const pulledOver_decades = 2.6;
/** M″ above the peak falls to this share of it within the width that the pull goes by. */
const widthAt = 0.75;
const widest_K = 30;

/**
 * A secondary relaxation moves less with temperature than the glass transition does, catches up with it at the contact's
 * frequency, and pulls the M″ peak of the two to the cold side. On 60 made sweeps with exactly known answers the pull from 1
 * to 400 Hz lay between none and this where M″ showed a second maximum on the cold side, a peak moved by the law alone up to
 * 4.4 K too warm: the ratio of the two maxima times the width of the main one on its warm side.
 */
function pullOfSecondary_K(
  { frequency_Hz, lossModulusPeak, furtherPeaks }: GlassTransition,
  { model, governing }: GovernedModel,
): number {
  const peak_C = lossModulusPeak?.temperature_C ?? null;
  if (peak_C === null) return 0;
  const secondary_Pa = Math.max(
    0,
    ...furtherPeaks
      .filter(({ quantity, temperature_C }) => quantity === "loss modulus" && temperature_C < peak_C)
      .map(({ height }) => height),
  );
  if (secondary_Pa === 0) return 0;
  const lossAt_Pa = (T: number) => complexModulus(model, T, frequency_Hz).lossModulus_Pa;
  const main_Pa = lossAt_Pa(peak_C);
  let width_K = 0;
  while (width_K < widest_K && lossAt_Pa(peak_C + width_K) > widthAt * main_Pa) width_K += 0.5;
  const carried = log10(governing.frequency_Hz / frequency_Hz) / pulledOver_decades;
  return Math.min(1, Math.max(0, carried)) * Math.min(1, secondary_Pa / main_Pa) * width_K;
}

/**
 * The sweep whose M″ peak the law hangs on: the lowest frequency that shows both peaks, else one of them. Replicates by
 * the mean of their peaks.
 */
function sweepOf(transitions: GlassTransition[], deformation: string): GlassTransition | null {
  const own = transitions
    .filter((one) => one.deformation === deformation)
    .sort((a, b) => a.frequency_Hz - b.frequency_Hz);
  for (const isTelling of [showsBoth, showsOne]) {
    const first = own.find(isTelling);
    if (first === undefined) continue;
    const alike = own.filter((one) => isTelling(one) && one.frequency_Hz <= 1.02 * first.frequency_Hz);
    return {
      ...first,
      tanDeltaPeak: meanPeak(alike.map(({ tanDeltaPeak }) => tanDeltaPeak)),
      lossModulusPeak: meanPeak(alike.map(({ lossModulusPeak }) => lossModulusPeak)),
    };
  }
  return null;
}

const showsBoth = ({ lossModulusPeak, tanDeltaPeak }: GlassTransition) =>
  lossModulusPeak?.bracketed === true && tanDeltaPeak?.bracketed === true;
const showsOne = ({ lossModulusPeak, tanDeltaPeak }: GlassTransition) =>
  lossModulusPeak?.bracketed === true || tanDeltaPeak?.bracketed === true;

/** The mean of replicates' peaks, with the larger of their own and their mutual error; the one itself where there is one. */
function meanPeak<OfPeak extends Peak>(peaks: (OfPeak | null)[]): OfPeak | null {
  const known = peaks.flatMap((peak) => {
    if (peak === null || !peak.bracketed || peak.temperature_C === null) return [];
    const half_K = peak.low_C === null || peak.high_C === null ? 0 : (peak.high_C - peak.low_C) / 2;
    return [{ peak, value: peak.temperature_C, error: half_K / normal95 }];
  });
  if (known.length < 2) return known[0]?.peak ?? peaks[0];
  const { mean, ownError, betweenError } = meanOfReplicates(known);
  const half_K = normal95 * Math.max(ownError, betweenError);
  return { ...known[0].peak, temperature_C: mean, low_C: mean - half_K, high_C: mean + half_K };
}

function movedAlong(law: ShiftLaw, peak_C: number, measured_Hz: number, contact_Hz: number): number | null {
  return temperatureAtShift(law, log10ShiftFactor(law, peak_C) + log10(measured_Hz / contact_Hz));
}
