import { type FillerSeries, fillerSeries } from "../../fit/network/reinforcement.js";
import type { BatchComparison } from "../../predict/batches/batch-difference.js";
import { compareBatches } from "../../predict/batches/compare-batches.js";
import type { Notice } from "../../words/notice.js";
import type { GroupedCompound } from "../inputs/group-compounds.js";
import type { Study } from "../study-file/study.js";
import type { CompoundAssessment } from "./assess-compound.js";

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
    if (series !== null) compared.fillerSeries.push(series);
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
