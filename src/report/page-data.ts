import { gzipSync, strToU8 } from "fflate";
import type { GlassTransition, Material } from "../fit/material.js";
import type { MeasuredState } from "../fit/measured-states.js";
import type { MixedPhase, PhaseMixing } from "../fit/spectrum/phase-mixing.js";
import type { FurtherPhase, RelaxationModel } from "../fit/spectrum/relaxation-model.js";
import { joinedBytes } from "../io/bytes/joined-bytes.js";
import type { DynamicMeasurement } from "../io/measurement.js";
import { log10 } from "../numeric/elementary/logarithm.js";
import type { CompoundProperty } from "../predict/decision/decision-schema.js";
import type { Requirement } from "../predict/decision/requirement.js";
import type { Outlook } from "../predict/outlook.js";
import type { OutlookDraws } from "../predict/outlook-of.js";
import type { PredictionSettings } from "../predict/prediction-settings.js";
import type { ReboundCalibration } from "../predict/rebound/calibrate-rebound.js";
import type { Use } from "../predict/use.js";
import type { AssessedCompound } from "./assessment.js";
import { drawnKinds } from "./drawn-kinds.js";
import { type ComposedUse, startingUse } from "./html/answer/composed-use.js";
import { compoundBody } from "./html/compound/compound-section.js";
import type { ReportContext } from "./html/report-context.js";
import { jsonPieces, MadeInTurn } from "./json-pieces.js";
import { drawBytes, type PackedGrid, packGrid, packNumbers, toBase64 } from "./packed-numbers.js";
import type { ResultsCompound } from "./results/results.js";
import type { StudySettings } from "./results/study-file-schema.js";
import { superposedCurve } from "./superposed-part.js";

type Packed<Phase> = Omit<Phase, "times_s" | "moduli_Pa"> & { times_s: number[]; moduli_Pa: number[] };

type PackedMixing = Omit<PhaseMixing, "phases"> & {
  phases: [Packed<MixedPhase>, Packed<MixedPhase>];
};

/** A model with plain arrays, as JSON carries it; every number in full, for the page predicts with it. */
export type PackedModel = Omit<RelaxationModel, "times_s" | "moduli_Pa" | "furtherPhase" | "mixing"> & {
  furtherPhase?: Packed<FurtherPhase>;
  mixing?: PackedMixing;
  times_s: number[];
  moduli_Pa: number[];
};

/**
 * Many models in little room: the grid of relaxation times and the rest of each, and the strengths of all one
 * after the other.
 */
export interface PackedDraws {
  rest: Omit<PackedModel, "times_s" | "moduli_Pa">[];
  grids: PackedGrid[];
  bytes: number;
  moduli_Pa: string;
}

/** A measurement as plotted: four or five significant digits, which is more than a specimen repeats. */
export interface PackedMeasurement {
  kind: DynamicMeasurement["kind"];
  deformation: DynamicMeasurement["deformation"];
  direction: DynamicMeasurement["direction"];
  file: string;
  sha256: string;
  section: string | null;
  temperature_C: number[];
  frequency_Hz: number[];
  storageModulus_Pa: number[];
  lossModulus_Pa: number[];
  strainAmplitude: number[] | null;
}

export interface PackedRebound {
  method: string | null;
  file: string;
  sha256: string;
  readings: { temperature_C: number | null; fractions: number[] }[];
}

export interface PageCompound {
  name: string;
  isReference: boolean;
  inputs: string[];
  measurements: PackedMeasurement[];
  rebounds: PackedRebound[];
  /** Those at a stated frequency: the page predicts from them. */
  glassTransitions: GlassTransition[];
  superposition: ResultsCompound["superposition"];
  /** Codes of the notices that cast doubt on each of the compound's outlooks. */
  flags: string[];
  /**
   * Points as shifted, null where nothing was. Reduced frequency and moduli follow: f·10^shift, and the model
   * there times 10^residual.
   */
  masterCurve: {
    temperature_C: number[];
    frequency_Hz: number[];
    log10Shift: number[];
    storageResidualLog10: (number | null)[];
    lossResidualLog10: (number | null)[];
  } | null;
  model: PackedModel | null;
  draws: PackedDraws;
  /** Where there is no model: the spectrum at each temperature that was measured over frequency. */
  spectraAt: { temperature_C: number; model: PackedModel; draws: PackedDraws }[];
  calibration: ReboundCalibration | null;
  strainSoftening: NonNullable<Material["strainSoftening"]> | null;
  measuredStates: MeasuredState[];
  hasNoSweep: boolean;
  /** Peaks of sweeps that state no frequency: shown, and never predicted from. */
  unmovedTransitions: ResultsCompound["glassTransitions"];
  properties: CompoundProperty[];
  softening: ResultsCompound["softening"];
  /** What results.json says, in each use of the study. */
  outlooks: Outlook[];
  /** Of the same outlooks the draws that the requirements are judged by, packed. */
  drawsOfUses: Partial<Record<keyof OutlookDraws, string>>[];
}

/** All the page's script works from. */
export interface PageData {
  program: string;
  uses: Use[];
  settings: StudySettings;
  predictionSettings: PredictionSettings;
  /** What the study asks; its limits can be moved on the page. */
  requirements: Requirement[];
  /** The use the page opens with; null where nothing is predicted in any. */
  start: ComposedUse | null;
  /** True where only a part of the draws is in the page. */
  thinned: boolean;
  /** The compounds' sections, where there are so many that each unfolds from here only when opened. */
  bodies: string[] | null;
  /** Paths of all inputs, in the order of their numbers on the page. */
  inputPaths: string[];
  compounds: PageCompound[];
}

function digits(values: ArrayLike<number>, count = 5): number[] {
  return Array.from(values, (value) =>
    Number.isFinite(value) ? Number(value.toPrecision(count)) : Number.NaN,
  );
}

function decimals(values: ArrayLike<number>, count: number): number[] {
  return Array.from(values, (value) => Number(value.toFixed(count)));
}

function packModel(model: RelaxationModel): PackedModel {
  const { furtherPhase, mixing, ...rest } = model;
  return {
    ...rest,
    times_s: [...model.times_s],
    moduli_Pa: [...model.moduli_Pa],
    ...(furtherPhase === undefined ? {} : { furtherPhase: packPhase(furtherPhase) }),
    ...(mixing === undefined
      ? {}
      : { mixing: { ...mixing, phases: [packPhase(mixing.phases[0]), packPhase(mixing.phases[1])] } }),
  };
}

function packPhase<Phase extends { times_s: Float64Array; moduli_Pa: Float64Array }>(
  phase: Phase,
): Packed<Phase> {
  return { ...phase, times_s: [...phase.times_s], moduli_Pa: [...phase.moduli_Pa] };
}

/** Where there are very many compounds every third draw, with fewer digits, has to do. */
function packDraws(all: RelaxationModel[], thinned: boolean): PackedDraws {
  const draws = thinned ? all.filter((_, i) => i % 3 === 0) : all;
  const bytes = thinned ? 3 : 6;
  return {
    rest: draws.map((draw) => {
      const { times_s: _, moduli_Pa: __, ...rest } = packModel(draw);
      return rest;
    }),
    grids: draws.map((draw) => packGrid(draw.times_s)),
    bytes,
    moduli_Pa: packNumbers(
      draws.flatMap((draw) => [...draw.moduli_Pa]),
      bytes,
    ),
  };
}

function packMeasurement(measurement: DynamicMeasurement, sha256: string, kept: number): PackedMeasurement {
  return {
    kind: measurement.kind,
    deformation: measurement.deformation,
    direction: measurement.direction,
    file: measurement.provenance.file,
    sha256,
    section: measurement.provenance.section,
    temperature_C: digits(measurement.temperature_C),
    frequency_Hz: digits(measurement.frequency_Hz),
    storageModulus_Pa: digits(measurement.storageModulus_Pa, kept),
    lossModulus_Pa: digits(measurement.lossModulus_Pa, kept),
    strainAmplitude: measurement.strainAmplitude && digits(measurement.strainAmplitude),
  };
}

function packDrawsOfUses(
  { outlooks }: AssessedCompound,
  requirements: Requirement[],
): PageCompound["drawsOfUses"] {
  return outlooks.map(({ outlook, draws }) => {
    const packed: PageCompound["drawsOfUses"][number] = {};
    for (const kind of drawnKinds(requirements, outlook.use)) {
      const drawn = draws[kind];
      if (drawn !== null) packed[kind] = packNumbers(drawn, drawBytes);
    }
    return packed;
  });
}

function packCompound(
  compound: AssessedCompound,
  result: ResultsCompound,
  requirements: Requirement[],
  hashOf: (path: string) => string,
  thinned: boolean,
): PageCompound {
  const curve = superposedCurve(compound.material);
  const dynamic = compound.measurements.flatMap((measurement) =>
    measurement.kind === "rebound" ? [] : [measurement],
  );
  const rebounds = compound.measurements.flatMap((measurement) =>
    measurement.kind === "rebound" ? [measurement] : [],
  );
  return {
    name: compound.name,
    isReference: compound.isReference,
    inputs: result.inputs,
    measurements: dynamic.map((measurement) =>
      packMeasurement(measurement, hashOf(measurement.provenance.file), thinned ? 4 : 5),
    ),
    rebounds: rebounds.map((measurement) => ({
      method: measurement.method,
      file: measurement.provenance.file,
      sha256: hashOf(measurement.provenance.file),
      readings: measurement.readings.map(({ temperature_C, fractions }) => ({
        temperature_C: Number.isFinite(temperature_C) ? temperature_C : null,
        fractions,
      })),
    })),
    glassTransitions: result.glassTransitions.filter(
      (one): one is GlassTransition => one.frequency_Hz !== null,
    ),
    superposition: result.superposition,
    flags: result.flags,
    masterCurve: curve && {
      temperature_C: decimals(curve.temperature_C, 2),
      frequency_Hz: digits(curve.frequency_Hz, 4),
      log10Shift: decimals(
        curve.reducedFrequency_Hz.map((reduced, i) => log10(reduced / curve.frequency_Hz[i])),
        4,
      ),
      storageResidualLog10: decimals(curve.storageResidualLog10, 4),
      lossResidualLog10: decimals(curve.lossResidualLog10, 4),
    },
    model: compound.material.model && packModel(compound.material.model),
    draws: packDraws(compound.material.draws, thinned),
    spectraAt: (compound.material.spectraAt ?? []).map(({ temperature_C, model, draws }) => ({
      temperature_C,
      model: packModel(model),
      draws: packDraws(draws, thinned),
    })),
    calibration: compound.calibration,
    strainSoftening: compound.material.strainSoftening ?? null,
    measuredStates: compound.material.measuredStates,
    hasNoSweep: compound.material.hasNoSweep ?? false,
    unmovedTransitions: result.glassTransitions.filter(({ frequency_Hz }) => frequency_Hz === null),
    properties: result.properties,
    softening: result.softening,
    outlooks: result.outlooks,
    drawsOfUses: packDrawsOfUses(compound, requirements),
  };
}

/** All that the page’s own script works from, with long columns packed; plain data for JSON. */
export function pageData(context: ReportContext): PageData {
  const { bodies, compounds, ...rest } = dataInTurn(context);
  return { ...rest, bodies: bodies?.all() ?? null, compounds: compounds.all() };
}

/** The same, its long lists yet to be made. */
type DataInTurn = Omit<PageData, "bodies" | "compounds"> & {
  bodies: MadeInTurn<string> | null;
  compounds: MadeInTurn<PageCompound>;
};

function dataInTurn(context: ReportContext): DataInTurn {
  const { assessment } = context;
  const { results, compounds, uses, settings, predictionSettings } = assessment;
  const requirements = results.decision?.requirements ?? [];
  const hashes = new Map(results.inputs.map((input) => [input.path, input.sha256]));
  return {
    program: `${results.program.name} ${results.program.version}`,
    uses,
    settings,
    predictionSettings,
    requirements,
    start: startingUse(results, uses),
    thinned: context.packed,
    bodies: context.packed
      ? new MadeInTurn(compounds.length, (index) => compoundBody(context, index).markup)
      : null,
    inputPaths: results.inputs.map((input) => input.path),
    compounds: new MadeInTurn(compounds.length, (index) =>
      packCompound(
        compounds[index],
        results.compounds[index],
        requirements,
        (path) => hashes.get(path) ?? "",
        context.packed,
      ),
    ),
  };
}

/** The page's data as base64 of gzip-compressed JSON: small, and without a character that markup could stumble on. */
export function packPageData(context: ReportContext): string {
  // No time in the gzip header: the same assessment gives the same bytes.
  const pieces = Array.from(jsonPieces(dataInTurn(context), 0), (piece) => strToU8(piece));
  return toBase64(gzipSync(joinedBytes(pieces), { level: 6, mtime: 0 }));
}
