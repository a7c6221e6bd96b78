import { createHash } from "node:crypto";
import type { GlassTransition, Material, Superposition } from "../../src/fit/material.js";
import {
  complexModulus,
  type RelaxationModel,
  reducedFrequency_Hz,
} from "../../src/fit/spectrum/relaxation-model.js";
import { log10ShiftFactor } from "../../src/fit/spectrum/shift-law.js";
import type { DynamicMeasurement, Measurement, Provenance } from "../../src/io/measurement.js";
import { seededRandom, seedFromText } from "../../src/numeric/statistics/random.js";
import { stiffening } from "../../src/predict/cold/stiffening.js";
import { decisionOf } from "../../src/predict/decision/decision-of.js";
import type { Requirement } from "../../src/predict/decision/requirement.js";
import { quickIndicators } from "../../src/predict/indicators/quick-indicators.js";
import { outlookOf } from "../../src/predict/outlook-of.js";
import { defaultPredictionSettings } from "../../src/predict/prediction-settings.js";
import { besideReference } from "../../src/predict/relative-to-reference.js";
import type { Use } from "../../src/predict/use.js";
import type { AssessedCompound, Assessment } from "../../src/report/assessment.js";
import type { Results, ResultsCompound, ResultsInput } from "../../src/report/results/results.js";

/** Invented compounds: name, glass transition (tan δ peak at 1 Hz, roughly), spread of the spectrum. */
export const inventedCompounds = [
  { name: "Birch 60", glass_C: -40, spread: 0.55, plateau_Pa: 1.9e6 },
  { name: "Alder 45", glass_C: -58, spread: 0.5, plateau_Pa: 1.4e6 },
  { name: "Larch winter", glass_C: -78, spread: 0.6, plateau_Pa: 1.6e6 },
  { name: "Spruce stiff", glass_C: -14, spread: 0.5, plateau_Pa: 2.6e6 },
  { name: "Rowan cast", glass_C: -30, spread: 0.7, plateau_Pa: 3.4e6 },
  { name: "Juniper blend", glass_C: -50, spread: 1.1, plateau_Pa: 2.0e6 },
];

const frequencies_Hz = [1, 3, 10, 30];

/** A wedge of Maxwell modes around the glass transition, moved by a WLF law hung on it. */
export function inventedModel(
  glass_C: number,
  spread: number,
  plateau_Pa: number,
  scatter: () => number = () => 0,
): RelaxationModel {
  const modes = 26;
  const times_s = new Float64Array(modes);
  const moduli_Pa = new Float64Array(modes);
  for (let i = 0; i < modes; i++) {
    const decade = -9 + (i * 13) / (modes - 1);
    times_s[i] = 10 ** decade;
    const slope = decade < -1 ? 0.12 * (decade + 1) : -spread * (decade + 1);
    moduli_Pa[i] = 3e8 * 10 ** (slope + 0.03 * scatter());
  }
  return {
    deformation: "tension",
    law: {
      kind: "wlf",
      referenceTemperature_C: glass_C,
      c1: 14.2 + 0.15 * scatter(),
      c2_K: 52 + 0.6 * scatter(),
      tangentBelow_C: glass_C - 6,
    },
    verticalShift: { kind: "off" },
    equilibriumModulus_Pa: plateau_Pa * (1 + 0.01 * scatter()),
    times_s,
    moduli_Pa,
    lowestReducedFrequency_Hz: 1e-12,
    highestReducedFrequency_Hz: 1e7,
    lowestTemperature_C: glass_C - 30,
    highestTemperature_C: glass_C + 90,
  };
}

function provenance(file: string): Provenance {
  const column = (header: string, index: number, quantity: string, unit: string) => ({
    header,
    column: index,
    quantity,
    unit,
    unitAssumed: unit === "°C",
  });
  return {
    file,
    sheet: null,
    section: "Frequency = 1 Hz",
    firstLine: 12,
    lastLine: 512,
    columns: [
      column("Temperatur", 1, "temperature", "°C"),
      column("Freq", 2, "frequency", "Hz"),
      column("E'", 3, "storage modulus", "MPa"),
      column("E''", 4, "loss modulus", "MPa"),
    ],
  };
}

function sweepOf(model: RelaxationModel, name: string, file: string, glass_C: number): DynamicMeasurement {
  const random = seededRandom(seedFromText(name));
  const temperatures: number[] = [];
  for (let T = Math.round(glass_C) - 30; T <= glass_C + 90; T += 2) temperatures.push(T);
  const count = temperatures.length * frequencies_Hz.length;
  const measurement: DynamicMeasurement = {
    kind: "temperature sweep",
    sample: name,
    deformation: "tension",
    direction: "heating",
    temperature_C: new Float64Array(count),
    frequency_Hz: new Float64Array(count),
    storageModulus_Pa: new Float64Array(count),
    lossModulus_Pa: new Float64Array(count),
    strainAmplitude: null,
    time_s: null,
    heatingRate_K_min: 2,
    provenance: provenance(file),
  };
  let i = 0;
  for (const T of temperatures) {
    for (const f of frequencies_Hz) {
      const { storageModulus_Pa, lossModulus_Pa } = complexModulus(model, T, f);
      measurement.temperature_C[i] = T;
      measurement.frequency_Hz[i] = f;
      measurement.storageModulus_Pa[i] = storageModulus_Pa * (1 + 0.01 * random.normal());
      measurement.lossModulus_Pa[i] = lossModulus_Pa * (1 + 0.01 * random.normal());
      i++;
    }
  }
  return measurement;
}

interface ModelPeaks {
  tanDelta_C: number;
  height: number;
  loss_C: number;
}

/** The peaks of a model at one frequency, by dense evaluation. */
export function peaksOf(model: RelaxationModel, frequency_Hz: number): ModelPeaks {
  let best: ModelPeaks = { tanDelta_C: 0, height: 0, loss_C: 0 };
  let highestLoss_Pa = 0;
  for (let T = model.lowestTemperature_C; T <= model.highestTemperature_C; T += 0.1) {
    const { storageModulus_Pa, lossModulus_Pa } = complexModulus(model, T, frequency_Hz);
    if (lossModulus_Pa / storageModulus_Pa > best.height)
      best = { ...best, tanDelta_C: T, height: lossModulus_Pa / storageModulus_Pa };
    if (lossModulus_Pa > highestLoss_Pa) {
      highestLoss_Pa = lossModulus_Pa;
      best = { ...best, loss_C: T };
    }
  }
  return best;
}

export const inventedUses: Use[] = [23, 5, -10, -20, -30].map((temperature_C) => ({
  name: `${temperature_C} °C`.replace("-", "−"),
  temperature_C,
  sliding: {
    speed_m_s: 0.3,
    pressure_Pa: 3e5,
    texture: {
      name: "worn asphalt",
      source: "from memory: the order of published asphalt spectra",
      rmsHeight_m: 3e-4,
      hurstExponent: 0.8,
      q0_per_m: 1500,
      q1_per_m: null,
      measured: null,
    },
  },
  impact: {
    method: "pendulum as in ISO 4662",
    mass_kg: 0.255,
    speed_m_s: 1.98,
    contact: "sphere",
    indenterRadius_m: 0.0075,
    thickness_m: null,
  },
  assumed: true,
}));

function transitionOf(model: RelaxationModel, frequency_Hz: number, path: string): GlassTransition {
  const peaks = peaksOf(model, frequency_Hz);
  const around = (T: number) => ({ temperature_C: T, low_C: T - 0.4, high_C: T + 0.4 });
  return {
    frequency_Hz,
    deformation: "tension",
    direction: "heating",
    tanDeltaPeak: { ...around(peaks.tanDelta_C), bracketed: true, height: peaks.height, width_K: 18.3 },
    lossModulusPeak: { ...around(peaks.loss_C), bracketed: true },
    storageModulusOnset: around(peaks.loss_C - 6),
    furtherPeaks: [],
    path,
  };
}

function superpositionOf(model: RelaxationModel, measurement: DynamicMeasurement): Superposition {
  if (model.law.kind !== "wlf") throw new Error("the invented models follow a WLF law");
  const points = Array.from(measurement.temperature_C, (T, i) => {
    const f = measurement.frequency_Hz[i];
    const exact = complexModulus(model, T, f);
    return {
      T,
      f,
      reduced: reducedFrequency_Hz(model, T, f),
      storage: measurement.storageModulus_Pa[i],
      loss: measurement.lossModulus_Pa[i],
      storageResidual: Math.log10(measurement.storageModulus_Pa[i] / exact.storageModulus_Pa),
      lossResidual: Math.log10(measurement.lossModulus_Pa[i] / exact.lossModulus_Pa),
    };
  });
  const law = model.law;
  return {
    source: "fitted",
    assumption: null,
    deformation: "tension",
    referenceTemperature_C: law.referenceTemperature_C,
    law: "wlf",
    wlf: {
      c1: law.c1,
      c2_K: law.c2_K,
      c1Low: law.c1 - 0.3,
      c1High: law.c1 + 0.3,
      c2Low_K: law.c2_K - 1.2,
      c2High_K: law.c2_K + 1.2,
    },
    arrhenius: null,
    aicc: { wlf: -5120.4, arrhenius: -2210.7 },
    derived: {
      vogelTemperature_C: law.referenceTemperature_C - law.c2_K,
      vogelTemperatureLow_C: law.referenceTemperature_C - law.c2_K - 1,
      vogelTemperatureHigh_C: law.referenceTemperature_C - law.c2_K + 1,
      vogelB_K: Math.LN10 * law.c1 * law.c2_K,
      fragility: 64.2,
      activationEnergyAtTg_J_mol: 2.41e5,
      glassTemperature_C: law.referenceTemperature_C,
    },
    shifts: [...new Set(measurement.temperature_C)].map((T) => {
      const log10aT = log10ShiftFactor(law, T);
      return {
        temperature_C: T,
        log10aT,
        log10aTLow: log10aT - 0.05,
        log10aTHigh: log10aT + 0.05,
        log10bT: 0,
      };
    }),
    verticalShift: "off",
    rmsLog10: 0.0044,
    thermorheologicallySimple: true,
    simplicity: {
      nearlySimple: false,
      wicketScatterLog10: 0.006,
      phaseScatter_deg: 0.4,
      allowedScatterLog10: 0.02,
      allowedScatter_deg: 1.2,
    },
    masterCurve: {
      temperature_C: points.map((p) => p.T),
      frequency_Hz: points.map((p) => p.f),
      reducedFrequency_Hz: points.map((p) => p.reduced),
      storageModulus_Pa: points.map((p) => p.storage),
      lossModulus_Pa: points.map((p) => p.loss),
      storageResidualLog10: points.map((p) => p.storageResidual),
      lossResidualLog10: points.map((p) => p.lossResidual),
    },
  };
}

export interface AssessmentOptions {
  /** How many compounds; beyond the six invented names they are numbered. */
  compounds?: number;
  /** False: no superposition, no model, no outlooks. */
  predictions?: boolean;
  /** Takes the place of the first compounds' names and files. */
  names?: string[];
  draws?: number;
}

/** A whole assessment, made without reading a file: what the report needs, with consistent invented numbers. */
export function makeAssessment(options: AssessmentOptions = {}): Assessment {
  const { compounds: count = 6, predictions = true, names = [], draws = 20 } = options;
  const inputs: ResultsInput[] = [];
  const compounds: AssessedCompound[] = [];
  const rows: ResultsCompound[] = [];
  for (let i = 0; i < count; i++) {
    const base = inventedCompounds[i % inventedCompounds.length];
    const { glass_C } = base;
    const name = names[i] ?? (i < inventedCompounds.length ? base.name : `${base.name} ${i + 1}`);
    const path =
      names[i] === undefined ? `sweeps/${name.replaceAll(" ", "-").toLowerCase()}.csv` : `${name}.csv`;
    const model = inventedModel(glass_C, base.spread, base.plateau_Pa);
    const sweep = sweepOf(model, name, path, glass_C);
    const random = seededRandom(i + 1);
    const measurements: Measurement[] = [sweep];
    if (i % 2 === 0 && predictions) {
      measurements.push({
        kind: "rebound",
        sample: name,
        method: "ISO 4662 pendulum",
        readings: [-20, 0, 23].map((temperature_C, row) => ({
          temperature_C,
          fractions: [0.41, 0.42, 0.415].map((f) => f + 0.1 * row),
          line: row + 4,
        })),
        provenance: { ...provenance("rebound.csv"), section: null },
      });
    }
    const glassTransitions = frequencies_Hz.map((f) => transitionOf(model, f, path));
    const superposition = predictions ? superpositionOf(model, sweep) : null;
    const notices: Material["notices"] = predictions
      ? [
          {
            severity: "info",
            code: "heating-rate-assumed",
            message: "The file states no heating rate; none was assumed.",
            path,
          },
          {
            severity: "caution",
            code: "two-peaks",
            message: "A second maximum of the loss modulus stands at −92 °C.",
            path,
          },
        ]
      : [
          {
            severity: "caution",
            code: "single-frequency",
            message:
              "One frequency only was measured, so nothing can be shifted. A sweep at three frequencies or more settles it.",
            path,
          },
        ];
    const material: Material = {
      compound: name,
      glassTransitions,
      superposition,
      model: predictions ? model : null,
      draws: predictions
        ? Array.from({ length: draws }, () =>
            inventedModel(glass_C, base.spread, base.plateau_Pa, () => random.normal()),
          )
        : [],
      measuredStates: [],
      network: null,
      payneEffects: [],
      notices,
    };
    compounds.push({ name, isReference: i === 1, measurements, material, calibration: null, outlooks: [] });
    const { masterCurve: _, ...withoutCurve } = superposition ?? { masterCurve: null };
    rows.push({
      name,
      isReference: i === 1,
      inputs: measurements.map((m) => m.provenance.file),
      glassTransitions,
      superposition: superposition === null ? null : (withoutCurve as ResultsCompound["superposition"]),
      spectrum: predictions
        ? {
            referenceTemperature_C: model.law.referenceTemperature_C,
            equilibriumModulus_Pa: model.equilibriumModulus_Pa,
            modes: Array.from(model.times_s, (time_s, k) => ({ time_s, modulus_Pa: model.moduli_Pa[k] })),
            deformation: "tension",
            lowestReducedFrequency_Hz: model.lowestReducedFrequency_Hz,
            highestReducedFrequency_Hz: model.highestReducedFrequency_Hz,
            assumed: false,
          }
        : null,
      outlooks: [],
      properties: [],
      softening: null,
      reboundCalibration: null,
      quickIndicators: quickIndicators(predictions ? [sweep] : []),
      stiffening: stiffening(material, defaultPredictionSettings).stiffening,
      network: null,
      payneEffects: [],
      repeatedRuns: [],
      whatItTakes: [],
      flags: [],
      notices,
      steps: [],
    });
    inputs.push(inputOf(path, sweep));
  }
  if (predictions) predictAll(compounds, rows);
  inputs.push({
    path: "photos/tread.csv",
    sha256: createHash("sha256").update("tread").digest("hex"),
    bytes: 48211,
    status: "rejected",
    measurements: 0,
    problem: {
      code: "not-text",
      message:
        "This is a PNG picture, not a table. Export the measurement as text or a workbook and put that here.",
      line: 1,
      column: 1,
    },
  });
  if (predictions) inputs.push(inputOf("rebound.csv", null));
  const results: Results = {
    schema: "frostline.results/1",
    program: { name: "frostline", version: "0.1.0" },
    inputs,
    compounds: rows,
    fillerSeries: [],
    verdictBorders: { glassyBorder_K: 0, leatheryBorder_K: 10 },
    settings: {},
    changes: null,
    batchComparisons: [],
    decision: null,
    cautions: [],
    notices: [
      {
        severity: "info",
        code: "uses-assumed",
        message: "No study.yaml was found, so uses at 23, 5, −10, −20 and −30 °C were assumed.",
      },
    ],
  };
  return {
    results,
    compounds,
    uses: inventedUses,
    predictionSettings: defaultPredictionSettings,
    settings: {
      compounds: compounds.map((c) => ({ name: c.name, files: [`${c.name}*`] })),
      uses: inventedUses.map((u) => ({ name: u.name, temperature_C: u.temperature_C })),
    },
  };
}

/** The same assessment where the study asks something: judged as the command line does. */
export function asking(assessment: Assessment, requirements: Requirement[]): Assessment {
  const { results, compounds } = assessment;
  const decision = decisionOf(
    requirements,
    compounds.map(({ name, isReference, outlooks }, i) => ({
      name,
      isReference,
      outlooks,
      properties: results.compounds[i].properties,
      softening: results.compounds[i].softening,
      isAssumed: false,
    })),
  );
  return { ...assessment, results: { ...results, decision } };
}

/** What an invented study asks of the invented compounds: some meet it, none surely all. */
export const inventedRequirements: Requirement[] = [
  { name: "returns energy", quantity: "rebound", use: "−10 °C", unit: "1", atLeast: 0.3 },
  { name: "stays rubber", quantity: "verdict", use: "−10 °C", unit: "", verdict: "rubbery" },
  { name: "grip at least 0.05 (5 °C)", quantity: "grip", use: "5 °C", unit: "1", atLeast: 0.05 },
];

function predictAll(compounds: AssessedCompound[], rows: ResultsCompound[]): void {
  const reference = compounds.find((compound) => compound.isReference);
  for (const use of inventedUses) {
    const ofReference = reference && outlookOf(reference.material, use, defaultPredictionSettings, null);
    compounds.forEach((compound, i) => {
      // Beyond the six invented materials only names and draws differ: their outlooks are copied.
      if (i >= inventedCompounds.length) {
        const same = compounds[i % inventedCompounds.length].outlooks;
        compound.outlooks.push(same[same.length - 1]);
      } else {
        const alone = outlookOf(compound.material, use, defaultPredictionSettings, null);
        const { outlook, draws } = ofReference ? besideReference(alone, ofReference) : alone;
        compound.outlooks.push({ outlook, draws });
      }
      rows[i].outlooks.push(compound.outlooks[compound.outlooks.length - 1].outlook);
    });
  }
}

function inputOf(path: string, sweep: DynamicMeasurement | null): ResultsInput {
  return {
    path,
    sha256: createHash("sha256").update(path).digest("hex"),
    bytes: 20480,
    status: "read",
    measurements: 1,
    encoding: "Windows-1252",
    delimiter: "semicolon",
    decimalMark: ",",
    readings:
      sweep === null
        ? []
        : [
            {
              kind: sweep.kind,
              compound: sweep.sample ?? path,
              sheet: null,
              section: sweep.provenance.section,
              firstLine: 12,
              lastLine: 512,
              points: sweep.temperature_C.length,
              columns: sweep.provenance.columns,
            },
          ],
  };
}
