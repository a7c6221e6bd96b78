import type { GlassTransition } from "../../../fit/material.js";
import { boundRubber } from "../../../fit/network/bound-rubber.js";
import { compareParticleSizes } from "../../../fit/network/particle-size.js";
import { type FillerSeries, fillerSeries } from "../../../fit/network/reinforcement.js";
import type { BatchComparison } from "../../../predict/batches/batch-difference.js";
import { compareBatches } from "../../../predict/batches/compare-batches.js";
import type { Notice } from "../../../words/notice.js";
import type { GroupedCompound } from "../../inputs/group-compounds.js";
import type { Study } from "../../study-file/study.js";
import type { CompoundAssessment } from "../assess-compound.js";

/** What is said of several compounds together. */
export interface ComparedCompounds {
  fillerSeries: FillerSeries[];
  batchComparisons: BatchComparison[];
  notices: Notice[];
}

/** The filler series and the batches that the study names. */
export function compareCompounds(
  groups: GroupedCompound[],
  assessed: CompoundAssessment[],
  study: Study,
): ComparedCompounds {
  const compared: ComparedCompounds = { fillerSeries: [], batchComparisons: [], notices: [] };
  const placeOf = (name: string) => groups.findIndex((group) => group.name === name);
  for (const { name, compounds } of study.fillerSeries) {
    const members = compounds.map((compound) => {
      const network = assessed[placeOf(compound)]?.material.network ?? null;
      const stated = study.compounds.find((each) => each.name === compound);
      return {
        compound,
        volumeFraction: stated?.fillerVolumeFraction ?? null,
        plateauModulus_Pa: network?.plateauModulus_Pa.value ?? null,
        low_Pa: network?.plateauModulus_Pa.low ?? null,
        high_Pa: network?.plateauModulus_Pa.high ?? null,
        deformation: network?.deformation ?? ("unstated" as const),
        temperature_C: network?.temperature_C ?? null,
        frequency_Hz: network?.frequency_Hz ?? null,
      };
    });
    const { series, notices } = fillerSeries(name, members);
    if (series !== null) {
      const transitionsOf = (compound: string) =>
        assessed[placeOf(compound)]?.material.glassTransitions ?? [];
      const sizeOf = (compound: string) =>
        study.compounds.find((each) => each.name === compound)?.particleSize_nm ?? null;
      compared.fillerSeries.push(withParticles(series, sizeOf, transitionsOf));
    }
    compared.notices.push(...notices);
  }
  for (const { name, batchOf } of study.compounds) {
    const batch = placeOf(name);
    const accepted = placeOf(batchOf ?? "");
    if (batch < 0 || accepted < 0) continue;
    const batches = [accepted, batch].map((at) => ({
      name: groups[at].name,
      measurements: groups[at].measurements,
      glassTransitions: assessed[at].material.glassTransitions,
    }));
    const { comparisons, notices } = compareBatches(batches, study.batchLimits);
    compared.batchComparisons.push(...comparisons);
    compared.notices.push(...notices);
  }
  return compared;
}

/** The sizes against each other where the study states them, and the immobilised layer where the series has a gum. */
function withParticles(
  series: FillerSeries,
  sizeOf: (compound: string) => number | null,
  transitionsOf: (compound: string) => GlassTransition[],
): FillerSeries {
  const sized = series.members.flatMap((member) => {
    const particleSize_nm = sizeOf(member.compound);
    return particleSize_nm === null || member.volumeFraction === 0 ? [] : [{ ...member, particleSize_nm }];
  });
  const particleSizes = compareParticleSizes(sized);
  const gum = series.members.find(({ volumeFraction }) => volumeFraction === 0);
  if (series.unfilledSource !== "unfilled member" || gum === undefined) return { ...series, particleSizes };
  const filled = sized.map(({ compound, volumeFraction, particleSize_nm, reinforcement }) => {
    const tanDeltaPeaks = commonPeaks(transitionsOf(compound), transitionsOf(gum.compound));
    return { compound, volumeFraction, particleSize_nm, reinforcement, tanDeltaPeaks };
  });
  return { ...series, particleSizes, boundRubber: boundRubber(filled) };
}

/** Heights of the tan δ peaks at the frequencies and in the mode that both were swept at. */
function commonPeaks(filled: GlassTransition[], gum: GlassTransition[]): { filled: number; gum: number }[] {
  return filled.flatMap((one) => {
    const other = gum.find(
      ({ frequency_Hz, deformation, direction }) =>
        deformation === one.deformation &&
        direction === one.direction &&
        Math.abs(frequency_Hz / one.frequency_Hz - 1) < 0.04,
    );
    const heights = [one.tanDeltaPeak?.height ?? null, other?.tanDeltaPeak?.height ?? null] as const;
    return heights[0] === null || heights[1] === null ? [] : [{ filled: heights[0], gum: heights[1] }];
  });
}
