import type { z } from "zod";
import { cube, hypotenuse, power, square } from "../../numeric/elementary/power.js";
import { halfIntervalOfMean } from "../../numeric/statistics/mean.js";
import type { ValueInterval } from "../../numeric/statistics/value-interval.js";
import { fixed } from "../../words/quantity-text.js";
import type { boundRubberSchema } from "../material-schema.js";
import { guthGold } from "./reinforcement.js";

export type BoundRubber = z.infer<typeof boundRubberSchema>;

/** One filled member of a series: spheres of one size, and what was measured beside the gum. */
export interface BoundRubberMember {
  compound: string;
  volumeFraction: number;
  particleSize_nm: number;
  /** Measured M/M0. */
  reinforcement: ValueInterval;
  /** Heights of the tan δ peak of filled and gum at common frequencies; empty where there are none. */
  tanDeltaPeaks: { filled: number; gum: number }[];
}

/**
 * φ_eff = φ (1 + 2Δ/d)³: volume of spheres with the layer of rubber that their surface immobilises.
 * @param layer_nm Δ
 * @example effectiveVolumeFraction(0.2, 30, 3) // 0.3456…
 */
export function effectiveVolumeFraction(
  volumeFraction: number,
  particleSize_nm: number,
  layer_nm: number,
): number {
  return volumeFraction * cube(1 + (2 * layer_nm) / particleSize_nm);
}

/** The layer that makes φ into φ_eff; negative where φ_eff is the smaller. */
export function layerOf_nm(effective: number, volumeFraction: number, particleSize_nm: number): number {
  return (particleSize_nm / 2) * (power(effective / volumeFraction, 1 / 3) - 1);
}

/** φ at which Guth–Gold gives a ratio; 0 for a ratio of 1 and less. */
export function guthGoldVolumeFraction(ratio: number): number {
  return ratio <= 1 ? 0 : (-2.5 + Math.sqrt(2.5 * 2.5 + 4 * 14.1 * (ratio - 1))) / (2 * 14.1);
}

/**
 * Share of a compound that takes no part in its transition, filler included: C = 1 − (1 − C0) W/W0 with
 * W = π tan δmax/(π tan δmax + 1) of the filled and W0 of the gum (Rao and Pochan, Macromolecules 40, 290, 2007; from
 * memory). With C0 the filler's own share, C is φ where the peaks are alike.
 * @param fillerShare C0, by volume
 */
export function immobilisedShare(filledPeak: number, gumPeak: number, fillerShare: number): number {
  const lost = (peak: number) => (Math.PI * peak) / (Math.PI * peak + 1);
  return 1 - (1 - fillerShare) * (lost(filledPeak) / lost(gumPeak));
}

/**
 * The immobilised layer of a filler series by two independent readings: one Δ for all members, the mean of those that
 * bring each one's M/M0 to Guth–Gold at φ_eff, and the mean of what their tan δ peaks give. The
 * intervals are Student's t over the members, for the moduli with the members' own intervals in quadrature; of a single
 * member the moduli's own, and the peaks' over the frequencies.
 *
 * @returns null without a member
 */
export function boundRubber(members: BoundRubberMember[]): BoundRubber | null {
  if (members.length === 0) return null;
  const byModulus = members.map(({ reinforcement, volumeFraction, particleSize_nm }) => {
    const layer_nm = (ratio: number) =>
      layerOf_nm(guthGoldVolumeFraction(ratio), volumeFraction, particleSize_nm);
    const { value, low, high } = reinforcement;
    return {
      value: layer_nm(value),
      half: low === null || high === null ? Number.NaN : (layer_nm(high) - layer_nm(low)) / 2,
    };
  });
  const shares = members.map(({ tanDeltaPeaks, volumeFraction }) =>
    tanDeltaPeaks.map(({ filled, gum }) => immobilisedShare(filled, gum, volumeFraction)),
  );
  const byLoss = members.map(({ volumeFraction, particleSize_nm }, i) =>
    shares[i].map((share) => layerOf_nm(Math.max(0, share), volumeFraction, particleSize_nm)),
  );
  const layer_nm = modulusLayer(byModulus);
  const layerByLoss_nm = lossLayer(byLoss.filter((layers) => layers.length > 0));
  const agree = layerByLoss_nm === null ? null : overlap(layer_nm, layerByLoss_nm);
  return {
    layer_nm,
    layerByLoss_nm,
    agree,
    members: members.map(({ compound, volumeFraction, particleSize_nm, reinforcement }, i) => ({
      compound,
      particleSize_nm,
      effectiveVolumeFraction: effectiveVolumeFraction(volumeFraction, particleSize_nm, layer_nm.value),
      guthGoldWithLayer: guthGold(effectiveVolumeFraction(volumeFraction, particleSize_nm, layer_nm.value)),
      reinforcement: reinforcement.value,
      immobilisedShare: shares[i].length === 0 ? null : mean(shares[i]),
    })),
    sentence: sentenceOf(layer_nm, layerByLoss_nm, agree),
  };
}

const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

function modulusLayer(layers: { value: number; half: number }[]): ValueInterval {
  const value = mean(layers.map((layer) => layer.value));
  const own = layers.map(({ half }) => half).filter(Number.isFinite);
  const measured = own.length === 0 ? Number.NaN : Math.sqrt(mean(own.map(square)) / layers.length);
  const between = halfIntervalOfMean(layers.map((layer) => layer.value));
  return around(
    value,
    Number.isNaN(between) ? measured : hypotenuse(between, Number.isNaN(measured) ? 0 : measured),
  );
}

function lossLayer(perMember: number[][]): ValueInterval | null {
  if (perMember.length === 0) return null;
  const values = perMember.length === 1 ? perMember[0] : perMember.map(mean);
  return around(mean(values), halfIntervalOfMean(values));
}

const around = (value: number, half: number): ValueInterval =>
  Number.isNaN(half) ? { value, low: null, high: null } : { value, low: value - half, high: value + half };

/** Null where one of them has no interval. */
function overlap(a: ValueInterval, b: ValueInterval): boolean | null {
  if (a.low === null || a.high === null || b.low === null || b.high === null) return null;
  return a.low <= b.high && b.low <= a.high;
}

function sentenceOf(layer: ValueInterval, byLoss: ValueInterval | null, agree: boolean | null): string {
  const words = ({ value, low, high }: ValueInterval) =>
    `${fixed(value, 1)} nm${low === null || high === null ? ", without an interval" : ` (${fixed(low, 1)} to ${fixed(high, 1)})`}`;
  const none = layer.value < 0 ? ", below 0, so none is seen" : "";
  const moduli = `The moduli correspond to an immobilised layer of ${words(layer)}${none}`;
  if (byLoss === null)
    return `${moduli}; there are no tan δ peaks at a common frequency to compare them with.`;
  const both = `${moduli}, the tan δ peaks to one of ${words(byLoss)}`;
  if (agree === null) return `${both}; whether they agree cannot be told without intervals.`;
  return agree
    ? `${both}; the two agree within their intervals.`
    : `${both}; the two disagree beyond their intervals. Particles that touch stiffen a compound without immobilising rubber, and a peak that filler widens reads lower.`;
}
