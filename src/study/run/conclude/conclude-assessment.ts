import type { MaterialSettings } from "../../../fit/material-of.js";
import { decisionOf } from "../../../predict/decision/decision-of.js";
import { propertiesOf } from "../../../predict/decision/properties.js";
import { besideReference } from "../../../predict/relative-to-reference.js";
import type { Assessment } from "../../../report/assessment.js";
import { changesSince } from "../../../report/results/changes.js";
import type { EarlierResults } from "../../../report/results/changes-schema.js";
import { coded } from "../../../words/codes/codes.js";
import type { Notice } from "../../../words/notice.js";
import { type GatheredInputs, groupingNotices } from "../../inputs/gathered-inputs.js";
import type { GroupedCompound } from "../../inputs/group-compounds.js";
import { isReference, type Study } from "../../study-file/study.js";
import type { CompoundAssessment, CompoundTask } from "../assess-compound.js";
import { resultsOf } from "../results-of.js";
import { compareCompounds } from "./compare-compounds.js";
import { withLevers } from "./decision-levers.js";

/** What is to be computed for each compound, in the order of the groups. */
export function tasksOf(groups: GroupedCompound[], study: Study): CompoundTask[] {
  return groups.map(({ name, measurements }) => ({
    measurements,
    uses: study.uses,
    material: {
      compound: name,
      superposition: study.superposition,
      network: networkOf(name, study),
      seed: study.seed,
    },
    prediction: study.prediction,
    batchLimits: study.batchLimits,
  }));
}

/** Brings the compounds together: ratios to the reference, results, and what the report is written from. */
export function concludeAssessment(
  { found, inputs, study }: GatheredInputs,
  groups: GroupedCompound[],
  alone: CompoundAssessment[],
  { version, since }: { version: string; since?: EarlierResults | null },
): Assessment {
  const assessed = relatedToReference(groups, alone, study);
  const across = compareCompounds(groups, assessed, study);
  const notices: Notice[] = [
    ...found.notices,
    ...groupingNotices({ inputs, study }),
    ...withoutFiles(groups, study),
    ...across.notices,
  ];
  const choosable = groups.map(({ name, properties, measurements }, i) => ({
    name,
    isReference: isReference(name, study),
    outlooks: assessed[i].outlooks,
    properties: propertiesOf({ properties, measurements }),
    softening: assessed[i].material.softening ?? null,
    isAssumed: assessed[i].material.superposition?.source === "assumed",
  }));
  const results = resultsOf(
    inputs,
    groups,
    assessed,
    { ...across, notices },
    withLevers(decisionOf(study.requirements, choosable), choosable, assessed, study),
    study,
    version,
  );
  return {
    results: since == null ? results : { ...results, changes: changesSince(since, results) },
    compounds: groups.map(({ name, measurements }, i) => ({
      name,
      isReference: isReference(name, study),
      measurements,
      material: assessed[i].material,
      calibration: assessed[i].calibration,
      outlooks: assessed[i].outlooks,
    })),
    uses: study.uses,
    settings: study.settings,
    predictionSettings: study.prediction,
  };
}

/** Each compound's outlooks with grip and rebound relative to the reference compound's. */
function relatedToReference(
  groups: GroupedCompound[],
  assessed: CompoundAssessment[],
  study: Study,
): CompoundAssessment[] {
  const reference = assessed[groups.findIndex(({ name }) => isReference(name, study))];
  if (reference === undefined) return assessed;
  return assessed.map((one) => ({
    ...one,
    outlooks: one.outlooks.map((outlook, i) => besideReference(outlook, reference.outlooks[i])),
  }));
}

function networkOf(name: string, study: Study): MaterialSettings["network"] {
  const stated = study.compounds.find((compound) => compound.name === name);
  return {
    density_kg_m3: stated?.density_kg_m3 ?? null,
    fillerVolumeFraction: stated?.fillerVolumeFraction ?? null,
    rubberDensity_kg_m3: stated?.rubberDensity_kg_m3 ?? null,
  };
}

function withoutFiles(groups: GroupedCompound[], study: Study): Notice[] {
  const found = new Set(groups.map(({ name }) => name));
  const absent = study.compounds.filter(({ name }) => !found.has(name));
  if (absent.length === 0) return [];
  const list = absent.map(({ name, files }) => `${name}${files.length > 0 ? ` (${files.join(", ")})` : ""}`);
  const which = absent.length === 1 ? "this compound" : `these ${absent.length} compounds`;
  return [
    {
      ...coded("study.compound-without-data"),
      message: `No measurement was found for ${which} of the study: ${list.join("; ")}. Check globs and sample names, or leave out of the study what is not to be assessed.`,
    },
  ];
}
