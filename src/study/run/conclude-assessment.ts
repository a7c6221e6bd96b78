import type { Notice } from "../../io/problem.js";
import { relativeToReference } from "../../predict/relative-to-reference.js";
import type { Assessment } from "../../report/assessment.js";
import type { GatheredInputs } from "../inputs/gathered-inputs.js";
import type { GroupedCompound } from "../inputs/group-compounds.js";
import { isReference, type Study } from "../study-file/study.js";
import type { CompoundAssessment, CompoundTask } from "./assess-compound.js";
import { compareCompounds } from "./compare-compounds.js";
import { resultsOf } from "./results-of.js";

/** What is to be computed for each compound, in the order of the groups. */
export function tasksOf(groups: GroupedCompound[], study: Study): CompoundTask[] {
  return groups.map(({ name, measurements }) => ({
    name,
    measurements,
    uses: study.uses,
    superposition: study.superposition,
    prediction: study.prediction,
    network: networkOf(name, study),
    batchLimits: study.batchLimits,
    seed: study.seed,
  }));
}

/** Brings the compounds together: ratios to the reference, results, and what the report is written from. */
export function concludeAssessment(
  { found, inputs, study }: GatheredInputs,
  groups: GroupedCompound[],
  assessed: CompoundAssessment[],
  version: string,
): Assessment {
  compareToReference(groups, assessed, study);
  const across = compareCompounds(groups, assessed, study);
  const notices: Notice[] = [...found.notices, ...withoutFiles(groups, study), ...across.notices];
  return {
    results: resultsOf(inputs, groups, assessed, { ...across, notices }, study, version),
    compounds: groups.map(({ name, measurements }, i) => ({
      name,
      isReference: isReference(name, study),
      measurements,
      material: assessed[i].material,
      calibration: assessed[i].calibration,
      outlookDraws: assessed[i].outlooks.map(({ draws }) => draws),
    })),
    uses: study.uses,
    settings: study.settings,
    predictionSettings: study.prediction,
  };
}

/** Puts the ratio to the reference compound beside grip and rebound, draw against draw. */
function compareToReference(groups: GroupedCompound[], assessed: CompoundAssessment[], study: Study): void {
  const at = groups.findIndex(({ name }) => isReference(name, study));
  if (at < 0) return;
  const reference = assessed[at];
  for (const assessment of assessed) {
    for (const [i, predicted] of assessment.outlooks.entries()) {
      const other = reference.outlooks[i];
      const { grip, rebound } = predicted.outlook;
      const gripRatio = relativeToReference(
        grip?.frictionCoefficient ?? null,
        predicted.draws.grip,
        other.outlook.grip?.frictionCoefficient ?? null,
        other.draws.grip,
      );
      if (grip && gripRatio) grip.relativeToReference = gripRatio;
      const reboundRatio = relativeToReference(
        rebound?.fraction ?? null,
        predicted.draws.rebound,
        other.outlook.rebound?.fraction ?? null,
        other.draws.rebound,
      );
      if (rebound && reboundRatio) rebound.relativeToReference = reboundRatio;
    }
  }
}

function networkOf(name: string, study: Study): CompoundTask["network"] {
  const stated = study.compounds.find((compound) => compound.name === name);
  return {
    density_kg_m3: stated?.density_kg_m3 ?? null,
    fillerVolumeFraction: stated?.fillerVolumeFraction ?? null,
    rubberDensity_kg_m3: stated?.rubberDensity_kg_m3 ?? null,
  };
}

function withoutFiles(groups: GroupedCompound[], study: Study): Notice[] {
  const found = new Set(groups.map(({ name }) => name));
  return study.compounds
    .filter(({ name }) => !found.has(name))
    .map(({ name, files }) => ({
      severity: "caution" as const,
      code: "study.compound-without-data",
      message: `${name}: no measurement was found for this compound of the study${files.length > 0 ? ` (files: ${files.join(", ")})` : ""}. Check its globs and sample names.`,
    }));
}
