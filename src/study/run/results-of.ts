import type { Material } from "../../fit/material.js";
import type { Measurement } from "../../io/measurement.js";
import { pushTo } from "../../numeric/push-to.js";
import { propertiesOf } from "../../predict/decision/properties.js";
import { hardnessNotice } from "../../predict/indicators/hardness-check.js";
import { compoundFlags } from "../../report/doubts.js";
import type { Results, ResultsCompound, ResultsInput } from "../../report/results/results.js";
import { measuredModes, superposedEnd_Hz } from "../../report/superposed-part.js";
import { meaningOf } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { type StudyNotice, toldNotices } from "../../words/told-notices.js";
import type { GroupedCompound } from "../inputs/group-compounds.js";
import { type InputAsRead, pointsOf } from "../inputs/input-reading.js";
import { isReference, type Study } from "../study-file/study.js";
import type { CompoundAssessment } from "./assess-compound.js";
import type { ComparedCompounds } from "./conclude/compare-compounds.js";

/** Puts everything into the shape of results.json. */
export function resultsOf(
  inputs: InputAsRead[],
  groups: GroupedCompound[],
  assessed: CompoundAssessment[],
  across: ComparedCompounds,
  decision: Results["decision"],
  study: Study,
  version: string,
): Results {
  // By file, once: there may be a hundred thousand of them.
  const compoundsOfPath = new Map<string, Set<string>>();
  const measurementsOfPath = new Map<string, OfCompound[]>();
  for (const { name, measurements, properties } of groups) {
    for (const measurement of measurements)
      pushTo(measurementsOfPath, measurement.provenance.file, { name, measurement });
    for (const { provenance } of [...measurements, ...properties]) {
      const names = compoundsOfPath.get(provenance.file) ?? new Set();
      compoundsOfPath.set(provenance.file, names.add(name));
    }
  }
  const readingNotices = inputs.flatMap(({ path, reading }) =>
    (reading?.notices ?? []).map((notice) => ({ ...notice, path: notice.path ?? path })),
  );
  const isStep = ({ code }: Notice) => meaningOf(code)?.told === "step";
  const stepsOfPath = new Map<string, Notice[]>();
  for (const notice of readingNotices) if (isStep(notice)) pushTo(stepsOfPath, notice.path, notice);
  const holders = (path: string) => compoundsOfPath.get(path) ?? new Set<string>();
  const ofOne = readingNotices.filter((notice) => !isStep(notice) && holders(notice.path).size === 1);
  const told = toldNotices(
    groups.map((group, i) => ({ name: group.name, notices: noticesOf(group, assessed[i], ofOne) })),
  );
  return {
    schema: "frostline.results/1",
    program: { name: "frostline", version },
    inputs: inputs.map((input) => ({
      ...inputOf(input, measurementsOfPath.get(input.path) ?? []),
      ...stepsOf(stepsOfPath.get(input.path) ?? []),
    })),
    compounds: groups.map((group, i) => ({
      ...compoundOf(group, assessed[i], study, noticesOf(group, assessed[i], readingNotices)),
      ...told.compounds[i],
    })),
    fillerSeries: across.fillerSeries,
    batchComparisons: across.batchComparisons,
    decision,
    verdictBorders: {
      glassyBorder_K: study.prediction.glassyBorder_K,
      leatheryBorder_K: study.prediction.leatheryBorder_K,
    },
    settings: study.settings,
    changes: null,
    cautions: told.cautions,
    notices: [
      ...across.notices.map(({ fact: _, ...notice }) => notice),
      ...readingNotices
        .filter((notice) => !isStep(notice) && holders(notice.path).size !== 1)
        .map((notice) => ofFile(notice, holders(notice.path))),
      ...told.study,
    ],
  };
}

/** A measurement, and the compound it went to. */
interface OfCompound {
  name: string;
  measurement: Measurement;
}

/** How a file was read, where that takes words; nothing else. */
function stepsOf(notices: Notice[]): Pick<ResultsInput, "steps"> {
  return notices.length === 0 ? {} : { steps: notices.map(({ code, message }) => ({ code, message })) };
}

/** A notice of a file that no compound, or more than one, was read from. */
function ofFile({ fact: _, ...notice }: Notice, compounds: Set<string>): StudyNotice {
  if (compounds.size === 0) return notice;
  return { ...notice, compounds: [...compounds].map((name) => ({ name, states: [] })) };
}

/** All that was said of one compound, as it was raised. */
function noticesOf(
  { measurements, properties }: GroupedCompound,
  { material, notices }: CompoundAssessment,
  readingNotices: (Notice & { path: string })[],
): Notice[] {
  const paths = new Set([...measurements, ...properties].map(({ provenance }) => provenance.file));
  const hardness = hardnessNotice(material, propertiesOf({ properties, measurements }));
  return [
    ...readingNotices.filter(({ path }) => paths.has(path)),
    ...notices,
    ...(hardness === null ? [] : [hardness]),
  ];
}

function inputOf({ path, sha256, bytes, reading, problem }: InputAsRead, own: OfCompound[]): ResultsInput {
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
    readings: own.map(({ name, measurement }) => ({
      kind: measurement.kind,
      compound: name,
      sheet: measurement.provenance.sheet,
      section: measurement.provenance.section,
      firstLine: measurement.provenance.firstLine,
      lastLine: measurement.provenance.lastLine,
      points: pointsOf(measurement),
      columns: measurement.provenance.columns,
    })),
  };
}

function compoundOf(
  { name, measurements, properties }: GroupedCompound,
  assessment: CompoundAssessment,
  study: Study,
  notices: Notice[],
): Omit<ResultsCompound, "notices" | "steps"> {
  const { material, calibration, outlooks } = assessment;
  const paths = [...new Set([...measurements, ...properties].map(({ provenance }) => provenance.file))];
  const asMeasured = propertiesOf({ properties, measurements });
  const predicted = outlooks.map(({ outlook }) => outlook);
  return {
    name,
    isReference: isReference(name, study),
    inputs: paths,
    glassTransitions: [
      ...material.glassTransitions,
      ...(material.transitionsAtUnstatedFrequency ?? []).map((one) => ({ ...one, frequency_Hz: null })),
    ],
    superposition: superpositionOf(material),
    spectrum: spectrumOf(material),
    outlooks: predicted,
    properties: asMeasured,
    reboundCalibration: calibration,
    quickIndicators: assessment.quickIndicators,
    stiffening: assessment.stiffening,
    network: material.network,
    softening: material.softening ?? null,
    payneEffects: material.payneEffects,
    repeatedRuns: assessment.repeatedRuns,
    whatItTakes: assessment.whatItTakes,
    flags: compoundFlags(notices, predicted),
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
    modes: measuredModes(model),
    deformation: model.deformation,
    lowestReducedFrequency_Hz: model.lowestReducedFrequency_Hz,
    highestReducedFrequency_Hz: superposedEnd_Hz(model),
    assumed: superposition?.source === "assumed",
    ...furtherPhaseOf(model),
  };
}
