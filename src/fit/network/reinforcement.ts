import type { z } from "zod";
import type { Deformation } from "../../io/measurement.js";
import { square } from "../../numeric/elementary/power.js";
import {
  geometricMean,
  intervalWords,
  ratioInterval,
  type ValueInterval,
} from "../../numeric/statistics/value-interval.js";
import type { Code } from "../../words/codes/codes.js";
import { coded } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { percentText } from "../../words/quantity-text.js";
import type { fillerSeriesSchema } from "../material-schema.js";

/** A filler as a study states it: its volume fraction, or phr with both densities. */
export interface StatedFiller {
  /** Mass of filler per hundred parts of rubber, by mass. */
  phr?: number;
  density_kg_m3?: number;
  /** Density of the rubber without filler. */
  rubberDensity_kg_m3?: number;
  /** Volume of filler over volume of compound; taken before phr. */
  volumeFraction?: number;
}

/**
 * φ = (phr/ρf) / (phr/ρf + 100/ρr): volume of filler over volume of rubber and filler (mass balance). Oil and other
 * ingredients count as rubber. Null where phr is given without both densities.
 * @example fillerVolumeFraction({ phr: 50, density_kg_m3: 1800, rubberDensity_kg_m3: 920 }) // 0.2035…
 */
export function fillerVolumeFraction(filler: StatedFiller): number | null {
  const { phr, density_kg_m3, rubberDensity_kg_m3, volumeFraction } = filler;
  if (volumeFraction !== undefined) return volumeFraction;
  if (phr === undefined) return null;
  if (phr === 0) return 0;
  if (density_kg_m3 === undefined || rubberDensity_kg_m3 === undefined) return null;
  const fillerVolume = phr / density_kg_m3;
  return fillerVolume / (fillerVolume + 100 / rubberDensity_kg_m3);
}

/**
 * M/M0 = 1 + 2.5 φ + 14.1 φ², the modulus of a rubber filled with spheres over that of the rubber (Guth, J. Appl.
 * Phys. 16, 20, 1945).
 * @param volumeFraction volume of filler over volume of compound
 * @example guthGold(0.3) // 3.019
 */
export function guthGold(volumeFraction: number): number {
  return 1 + 2.5 * volumeFraction + 14.1 * square(volumeFraction);
}

/** Past this volume fraction filler gains no further strength and the formula is not meant (common practice). */
const commonVolumeFraction = 0.3;
const unfilledBelow = 0.005;
const alikeTemperatures_K = 10;
const alikeFrequencies = 2;

export interface FillerSeriesMember {
  compound: string;
  /** Null where the study does not give it. */
  volumeFraction: number | null;
  /** Plateau modulus in the data's own deformation mode; null where none was found. */
  plateauModulus_Pa: number | null;
  low_Pa: number | null;
  high_Pa: number | null;
  deformation: Deformation;
  /** Where the plateau was read. */
  temperature_C: number | null;
  frequency_Hz: number | null;
}

export type ReinforcedMember = FillerSeries["members"][number];

export type FillerSeries = z.infer<typeof fillerSeriesSchema>;

const fillerSeriesCaution =
  "Plateau moduli at the small strain of the sweep, where filler particles that touch stiffen a compound far beyond Guth and Gold's formula, which knows their volume only (common practice). A modulus ratio says nothing about strength, wear or grip.";

/**
 * A filler series: measured reinforcement M/M0 against volume fraction beside Guth–Gold. M0 is the plateau modulus
 * of the unfilled member; without one it is the M0 that brings members up to φ = 0.30 and Guth–Gold together in
 * least squares of ln M, and is said to be that. The interval of a ratio takes those of its two moduli as
 * independent. Members in another deformation mode than most are left out and named.
 *
 * @returns null with the reason as a notice where fewer than two members can be compared
 * @example fillerSeries("black", [{ compound: "gum", volumeFraction: 0, plateauModulus_Pa: 1e6, low_Pa: null, high_Pa: null, deformation: "shear", temperature_C: 60, frequency_Hz: 1 }, { compound: "filled", volumeFraction: 0.2, plateauModulus_Pa: 2e6, low_Pa: null, high_Pa: null, deformation: "shear", temperature_C: 60, frequency_Hz: 1 }]).series.members[1].reinforcement.value // 2
 */
export function fillerSeries(
  name: string,
  members: FillerSeriesMember[],
): { series: FillerSeries | null; notices: Notice[] } {
  const notices: Notice[] = [];
  const said = (code: Code, message: string) =>
    notices.push({ ...coded(code), message: `Filler series "${name}": ${message}` });
  const usable = usableMembers(members, said);
  if (usable.length < 2 || usable.every((one) => one.volumeFraction === usable[0].volumeFraction)) {
    said(
      "fit.filler-series-too-short",
      "at least two members with different volume fractions and a plateau modulus are needed; there is nothing to compare.",
    );
    return { series: null, notices };
  }
  usable.sort((a, b) => a.volumeFraction - b.volumeFraction);
  warnOfUnlikeStates(usable, said);
  const unfilled = unfilledModulus(usable);
  if (unfilled.source === "fit") {
    said(
      "fit.filler-series-without-gum",
      "no member is unfilled, so M0 comes from a fit of Guth–Gold to the members: only the trend against it can be judged, not its height. Measure the compound without filler to settle it.",
    );
  }
  const beyond = usable.filter((one) => one.volumeFraction > commonVolumeFraction);
  if (beyond.length > 0) {
    said(
      "fit.filler-beyond-common-range",
      `${beyond.map((one) => one.compound).join(", ")} ${beyond.length === 1 ? "holds" : "hold"} more than ${100 * commonVolumeFraction} % filler by volume. Beyond that filler gains no further strength, and Guth–Gold is not meant for it (common practice).`,
    );
  }
  const reinforced = usable.map((one): ReinforcedMember => {
    const isUnfilled = unfilled.members.length === 1 && unfilled.members[0] === one;
    return {
      compound: one.compound,
      volumeFraction: one.volumeFraction,
      plateauModulus_Pa: one.modulus_Pa,
      temperature_C: one.temperature_C,
      reinforcement: isUnfilled
        ? { value: 1, low: 1, high: 1 }
        : ratioInterval(one.modulus_Pa, unfilled.modulus_Pa),
      guthGold: guthGold(one.volumeFraction),
      beyondCommonVolumeFraction: one.volumeFraction > commonVolumeFraction,
    };
  });
  const series: FillerSeries = {
    name,
    deformation: usable[0].deformation,
    unfilledModulus_Pa: unfilled.modulus_Pa,
    unfilledSource: unfilled.source,
    unfilledReading: unfilled.reading,
    members: reinforced,
    sentence: sentenceOf(reinforced),
    caution: fillerSeriesCaution,
  };
  return { series, notices };
}

interface UsableMember {
  compound: string;
  volumeFraction: number;
  modulus_Pa: ValueInterval;
  deformation: Deformation;
  temperature_C: number | null;
  frequency_Hz: number | null;
}

type Said = (code: Code, message: string) => void;

function usableMembers(members: FillerSeriesMember[], said: Said): UsableMember[] {
  const complete = members.flatMap((member): UsableMember[] => {
    const { compound, volumeFraction, plateauModulus_Pa, low_Pa, high_Pa, deformation } = member;
    const missing =
      volumeFraction === null
        ? "the study gives neither its volume fraction nor phr with both densities"
        : plateauModulus_Pa === null
          ? "no rubbery plateau was found in its data"
          : null;
    if (missing !== null) {
      said("fit.filler-member-left-out", `${compound} is left out: ${missing}.`);
      return [];
    }
    const modulus_Pa = { value: plateauModulus_Pa!, low: low_Pa, high: high_Pa };
    const { temperature_C, frequency_Hz } = member;
    return [
      { compound, volumeFraction: volumeFraction!, modulus_Pa, deformation, temperature_C, frequency_Hz },
    ];
  });
  const count = (mode: Deformation) => complete.filter(({ deformation }) => deformation === mode).length;
  const modes = [...new Set(complete.map(({ deformation }) => deformation))];
  if (modes.length < 2) return complete;
  const kept = modes.reduce((a, b) => (count(b) > count(a) ? b : a));
  for (const { compound, deformation } of complete.filter((one) => one.deformation !== kept)) {
    const mode = deformation === "unstated" ? "an unstated mode" : deformation;
    said(
      "fit.filler-member-left-out",
      `${compound} is left out: it was measured in ${mode}, the others in ${kept}.`,
    );
  }
  return complete.filter(({ deformation }) => deformation === kept);
}

function warnOfUnlikeStates(members: UsableMember[], said: Said): void {
  const known = (values: (number | null)[]) => values.filter((value) => value !== null);
  const temperatures = known(members.map((one) => one.temperature_C));
  const frequencies = known(members.map((one) => one.frequency_Hz));
  if (
    temperatures.length > 1 &&
    Math.max(...temperatures) - Math.min(...temperatures) > alikeTemperatures_K
  ) {
    said(
      "fit.filler-series-unlike",
      `the plateaus were read at temperatures ${Math.round(Math.max(...temperatures) - Math.min(...temperatures))} K apart; what filler adds falls as a compound warms, so the ratios carry that too. Sweep all members over the same temperatures.`,
    );
  }
  if (frequencies.length > 1 && Math.max(...frequencies) > alikeFrequencies * Math.min(...frequencies)) {
    said(
      "fit.filler-series-unlike",
      "the plateaus were read at different frequencies. Sweep all members at the same one.",
    );
  }
}

interface Unfilled {
  modulus_Pa: ValueInterval;
  source: FillerSeries["unfilledSource"];
  reading: string;
  members: UsableMember[];
}

function unfilledModulus(members: UsableMember[]): Unfilled {
  const gums = members.filter((one) => one.volumeFraction < unfilledBelow);
  if (gums.length === 1) {
    const [gum] = gums;
    return {
      modulus_Pa: gum.modulus_Pa,
      source: "unfilled member",
      reading: `the plateau modulus of ${gum.compound}, which is unfilled`,
      members: gums,
    };
  }
  if (gums.length > 1) {
    const names = gums.map((one) => one.compound).join(" and ");
    return {
      modulus_Pa: geometricMean(gums.map((one) => one.modulus_Pa.value)),
      source: "unfilled member",
      reading: `the geometric mean of the unfilled ${names}`,
      members: gums,
    };
  }
  const common = members.filter((one) => one.volumeFraction <= commonVolumeFraction);
  const fitted = common.length > 0 ? common : members;
  // Least squares of ln M with M0 as the only unknown is the mean of ln M − ln(Guth–Gold).
  return {
    modulus_Pa: geometricMean(fitted.map((one) => one.modulus_Pa.value / guthGold(one.volumeFraction))),
    source: "fit",
    reading: `a fit of Guth–Gold to ${fitted.map((one) => one.compound).join(", ")}, for no member is unfilled; their mean ratio to Guth–Gold is 1 by that`,
    members: [],
  };
}

function sentenceOf(members: ReinforcedMember[]): string {
  const highest = members[members.length - 1];
  const measured = intervalWords(highest.reinforcement, (value) => value.toFixed(2));
  const share = highest.reinforcement.value / highest.guthGold;
  return `At ${percentText(highest.volumeFraction, 1)} filler by volume ${highest.compound} is ${measured} times as stiff as without filler; Guth and Gold's formula gives ${highest.guthGold.toFixed(2)}, so the measured ratio is ${share.toFixed(2)} times that.`;
}
