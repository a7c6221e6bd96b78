import type { Material } from "../../fit/material.js";
import type { Notice } from "../../io/problem.js";
import { compoundFlags } from "../../report/doubts.js";
import type { Results, ResultsCompound, ResultsInput } from "../../report/results/results.js";
import type { GroupedCompound } from "../inputs/group-compounds.js";
import { type InputAsRead, pointsOf } from "../inputs/input-reading.js";
import { isReference, type Study } from "../study-file/study.js";
import type { CompoundAssessment } from "./assess-compound.js";
import type { ComparedCompounds } from "./compare-compounds.js";

/** Puts everything into the shape of results.json. */
export function resultsOf(
  inputs: InputAsRead[],
  groups: GroupedCompound[],
  assessed: CompoundAssessment[],
  across: ComparedCompounds,
  study: Study,
  version: string,
): Results {
  const compoundsOfPath = new Map<string, Set<string>>();
  for (const { name, measurements } of groups) {
    for (const { provenance } of measurements) {
      const names = compoundsOfPath.get(provenance.file) ?? new Set();
      compoundsOfPath.set(provenance.file, names.add(name));
    }
  }
  const readingNotices = inputs.flatMap(({ path, reading }) =>
    (reading?.notices ?? []).map((notice) => ({ ...notice, path: notice.path ?? path })),
  );
  return {
    schema: "frostline.results/1",
    program: { name: "frostline", version },
    inputs: inputs.map((input) => inputOf(input, groups)),
    compounds: groups.map((group, i) => compoundOf(group, assessed[i], study, readingNotices)),
    fillerSeries: across.fillerSeries,
    batchComparisons: across.batchComparisons,
    verdictBorders: {
      glassyBorder_K: study.prediction.glassyBorder_K,
      leatheryBorder_K: study.prediction.leatheryBorder_K,
    },
    notices: [
      ...across.notices,
      // A notice of a file that gave nothing to any compound would otherwise be lost.
      ...readingNotices.filter(({ path }) => !compoundsOfPath.has(path)),
    ],
  };
}

function inputOf(
  { path, sha256, bytes, reading, problem }: InputAsRead,
  groups: GroupedCompound[],
): ResultsInput {
  if (reading === null) {
    return { path, sha256, bytes, status: "rejected", measurements: 0, problem: problem ?? undefined };
  }
  return {
    path,
    sha256,
    bytes,
    status: "read",
    measurements: reading.measurements.length,
    encoding: reading.encoding,
    delimiter: reading.delimiter,
    decimalMark: reading.decimalMark,
    readings: groups.flatMap(({ name, measurements }) =>
      measurements
        .filter(({ provenance }) => provenance.file === path)
        .map((measurement) => ({
          kind: measurement.kind,
          compound: name,
          sheet: measurement.provenance.sheet,
          section: measurement.provenance.section,
          firstLine: measurement.provenance.firstLine,
          lastLine: measurement.provenance.lastLine,
          points: pointsOf(measurement),
          columns: measurement.provenance.columns,
        })),
    ),
  };
}

function compoundOf(
  { name, measurements }: GroupedCompound,
  assessment: CompoundAssessment,
  study: Study,
  readingNotices: (Notice & { path: string })[],
): ResultsCompound {
  const { material, calibration, outlooks } = assessment;
  const paths = [...new Set(measurements.map(({ provenance }) => provenance.file))];
  const notices = [...readingNotices.filter(({ path }) => paths.includes(path)), ...assessment.notices];
  const predicted = outlooks.map(({ outlook }) => outlook);
  return {
    name,
    isReference: isReference(name, study),
    inputs: paths,
    glassTransitions: material.glassTransitions,
    superposition: superpositionOf(material),
    spectrum: spectrumOf(material),
    outlooks: predicted,
    reboundCalibration: calibration,
    quickIndicators: assessment.quickIndicators,
    stiffening: assessment.stiffening,
    network: material.network,
    payneEffects: material.payneEffects,
    repeatedRuns: assessment.repeatedRuns,
    whatItTakes: assessment.whatItTakes,
    flags: compoundFlags(notices, predicted),
    notices,
  };
}

function superpositionOf({ superposition }: Material): ResultsCompound["superposition"] {
  if (superposition === null) return null;
  // The points of the master curve are in the tables and in the report.
  const { masterCurve: _points, ...rest } = superposition;
  return rest;
}

function furtherPhaseOf({
  furtherPhase,
}: NonNullable<Material["model"]>): Pick<NonNullable<ResultsCompound["spectrum"]>, "furtherPhase"> {
  if (furtherPhase === undefined || furtherPhase.law.kind !== "wlf") return {};
  const { c1, c2_K, tangentBelow_C } = furtherPhase.law;
  return {
    furtherPhase: {
      modes: Array.from(furtherPhase.times_s, (time_s, i) => ({
        time_s,
        modulus_Pa: furtherPhase.moduli_Pa[i],
      })),
      wlf: { c1, c2_K, tangentBelow_C },
    },
  };
}

function spectrumOf({ model, superposition }: Material): ResultsCompound["spectrum"] {
  if (model === null) return null;
  return {
    referenceTemperature_C: model.law.referenceTemperature_C,
    equilibriumModulus_Pa: model.equilibriumModulus_Pa,
    // Modes that the fit left empty carry nothing.
    modes: Array.from(model.times_s, (time_s, i) => ({ time_s, modulus_Pa: model.moduli_Pa[i] })).filter(
      ({ modulus_Pa }) => modulus_Pa > 0,
    ),
    deformation: model.deformation,
    lowestReducedFrequency_Hz: model.lowestReducedFrequency_Hz,
    highestReducedFrequency_Hz: model.highestReducedFrequency_Hz,
    assumed: superposition?.source === "assumed",
    ...furtherPhaseOf(model),
  };
}
