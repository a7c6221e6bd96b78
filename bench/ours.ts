// Our side of each task of the bench.
import { closeSync, openSync, readdirSync, readFileSync, readSync } from "node:fs";
import { join } from "node:path";
import { glassTransitionDefaults, glassTransitions } from "../src/fit/glass/glass-transition.js";
import { superpose } from "../src/fit/material-of.js";
import { complexModulus, type RelaxationModel } from "../src/fit/spectrum/relaxation-model.js";
import { defaultSuperpositionSettings } from "../src/fit/superposition/superposition-settings.js";
import type { DynamicMeasurement } from "../src/io/measurement.js";
import { readBytes } from "../src/io/read-bytes.js";
import { intervalAround } from "../src/numeric/statistics/value-interval.js";
import { contactState } from "../src/predict/contact/contact-state.js";
import { defaultUses } from "../src/predict/default-uses.js";
import { contactsOf } from "../src/predict/outlook-of.js";
import { defaultPredictionSettings } from "../src/predict/prediction-settings.js";
import { decodeAndScan } from "./decode-and-scan.js";
import { type InventedMeasurement, sweepFrequencies_Hz } from "./invented-rubber.js";

/** A task readied once, to be run and timed many times. */
export interface Task {
  run(): unknown | Promise<unknown>;
}

export const tasks: Record<string, (folder: string) => Task> = {
  read: readExports,
  "read-bytes": readFromMemory,
  "read-floor": decodeAndScanFromMemory,
  "glass-transition": glassTransitionTask,
  superposition: superpositionTask,
  contacts: contactsTask,
};

function readExports(folder: string): Task {
  const paths = exportPaths(folder);
  return {
    async run() {
      const answers = [];
      // A reading keeps none of the bytes, so one room serves all files, as it does in the program.
      const room = new Uint8Array(1 << 20);
      for (const path of paths) answers.push(await columnsOf(bytesOf(path, room), path));
      return answers;
    },
  };
}

function bytesOf(path: string, room: Uint8Array): Uint8Array {
  const file = openSync(path, "r");
  try {
    const read = readSync(file, room, 0, room.length, 0);
    return read < room.length ? room.subarray(0, read) : readFileSync(path);
  } finally {
    closeSync(file);
  }
}

function readFromMemory(folder: string): Task {
  const files = exportPaths(folder).map((path) => ({ path, bytes: readFileSync(path) }));
  return {
    async run() {
      const answers = [];
      for (const { path, bytes } of files) answers.push(await columnsOf(bytes, path));
      return answers;
    },
  };
}

function decodeAndScanFromMemory(folder: string): Task {
  const files = exportPaths(folder).map((path) => readFileSync(path));
  return { run: () => files.map((bytes) => decodeAndScan(bytes)) };
}

export function exportPaths(folder: string): string[] {
  const exports = join(folder, "exports");
  return readdirSync(exports)
    .sort()
    .map((name) => join(exports, name));
}

async function columnsOf(bytes: Uint8Array, path: string) {
  const outcome = await readBytes(bytes, path);
  if (!outcome.ok) throw new Error(`${path}: ${outcome.problem.message}`);
  const measurement = outcome.value.measurements[0] as DynamicMeasurement;
  return {
    temperature_C: measurement.temperature_C,
    frequency_Hz: measurement.frequency_Hz,
    storageModulus_Pa: measurement.storageModulus_Pa,
    lossModulus_Pa: measurement.lossModulus_Pa,
  };
}

function glassTransitionTask(folder: string): Task {
  const sweeps = readJson<InventedMeasurement[]>(folder, "sweeps.json").map((sweep) =>
    measurementOf(sweep, "temperature sweep"),
  );
  return {
    run: () =>
      sweeps.map((sweep, i) => {
        const [transition] = glassTransitions(sweep, { ...glassTransitionDefaults, seed: i + 1 }).transitions;
        return {
          tanDelta: transition.tanDeltaPeak,
          lossModulus: transition.lossModulusPeak,
          onset: transition.storageModulusOnset,
        };
      }),
  };
}

function superpositionTask(folder: string): Task {
  const compounds = readJson<InventedMeasurement[]>(folder, "isotherms.json").map((isotherms) =>
    measurementOf(isotherms, "frequency sweep"),
  );
  // The Python side has no vertical factor to choose.
  const settings = { ...defaultSuperpositionSettings, verticalShift: "off" as const, draws: 0 };
  return {
    run: () =>
      compounds.map((compound) => {
        const { superposition, model } = superpose([compound], [], settings);
        if (superposition === null || model === null) return null;
        const { shifts, law, wlf, arrhenius, referenceTemperature_C } = superposition;
        return {
          referenceTemperature_C,
          law,
          wlf: wlf && { c1: wlf.c1, c2_K: wlf.c2_K },
          activationEnergy_J_mol: arrhenius?.activationEnergy_J_mol ?? null,
          log10aT: shifts.map((shift) => shift.log10aT),
          moduli: shifts.flatMap(({ temperature_C }) =>
            sweepFrequencies_Hz.map((f) => complexModulus(model, temperature_C, f)),
          ),
        };
      }),
  };
}

function contactsTask(folder: string): Task {
  const compounds = readJson<RelaxationModel[][]>(folder, "models.json").map((models) =>
    models.map((model) => ({
      ...model,
      times_s: Float64Array.from(model.times_s),
      moduli_Pa: Float64Array.from(model.moduli_Pa),
    })),
  );
  const settings = defaultPredictionSettings;
  return {
    run: () =>
      compounds.map((models) =>
        defaultUses().map((use) => {
          const { contacts } = contactsOf(use, settings, 1);
          const states = models.map((model) => contactState(model, use.temperature_C, contacts, settings));
          const [{ rebound, friction }, ...drawn] = states;
          if (rebound === null || friction === null) throw new Error(`${use.name}: no contact`);
          return {
            temperature_C: use.temperature_C,
            rebound: {
              value: rebound.fraction,
              ...intervalAround(
                rebound.fraction,
                Float64Array.from(drawn, (s) => s.rebound!.fraction),
              ),
            },
            contactTime_s: rebound.contactTime_s,
            textbookFraction: rebound.textbookFraction,
            friction: {
              value: friction.frictionCoefficient,
              ...intervalAround(
                friction.frictionCoefficient,
                Float64Array.from(drawn, (s) => s.friction!.frictionCoefficient),
              ),
            },
            cutOff: friction.cutOffSensitivity,
            contactAreaRatio: friction.contactAreaRatio,
            contactFrequency_Hz: friction.contactFrequency_Hz,
          };
        }),
      ),
  };
}

export function measurementOf(
  rows: InventedMeasurement,
  kind: DynamicMeasurement["kind"],
): DynamicMeasurement {
  return {
    kind,
    sample: null,
    deformation: "tension",
    direction: kind === "temperature sweep" ? "heating" : null,
    temperature_C: Float64Array.from(rows.temperature_C),
    frequency_Hz: Float64Array.from(rows.frequency_Hz),
    storageModulus_Pa: Float64Array.from(rows.storageModulus_Pa),
    lossModulus_Pa: Float64Array.from(rows.lossModulus_Pa),
    strainAmplitude: null,
    time_s: null,
    heatingRate_K_min: null,
    provenance: { file: "invented", sheet: null, section: null, firstLine: 1, lastLine: 1, columns: [] },
  };
}

function readJson<Value>(folder: string, name: string): Value {
  return JSON.parse(readFileSync(join(folder, name), "utf8")) as Value;
}
