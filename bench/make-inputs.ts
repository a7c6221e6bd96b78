// Everything the bench reads, made from seeded random numbers into a folder of its own. All of it is invented.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { seededRandom } from "../src/numeric/statistics/random.js";
import {
  type InventedMeasurement,
  inventedDraws,
  inventedIsotherms,
  inventedRubber,
  inventedSweep,
} from "./invented-rubber.js";

export interface Sizes {
  /** Files of the reading task and rows in each. */
  exports: number;
  rows: number;
  /** Sweeps of the glass-transition task, 121 points each. */
  sweeps: number;
  /** Compounds of the superposition task, and of the friction and rebound task. */
  compounds: number;
  /** Alternatives of each model in the friction and rebound task. */
  draws: number;
  /** Compounds of the whole job. */
  jobCompounds: number;
}

export const fullSizes: Sizes = {
  exports: 1000,
  rows: 500,
  sweeps: 1000,
  compounds: 50,
  draws: 60,
  jobCompounds: 16,
};

export const quickSizes: Sizes = {
  exports: 100,
  rows: 500,
  sweeps: 60,
  compounds: 6,
  draws: 60,
  jobCompounds: 4,
};

const noise = 0.01;

/** Writes exports/, sweeps.json, isotherms.json, models.json and job/ into the folder. */
export function makeInputs(folder: string, sizes: Sizes): void {
  makeExports(join(folder, "exports"), sizes.exports, sizes.rows);
  const random = seededRandom(7);
  const sweeps = Array.from({ length: sizes.sweeps }, () =>
    inventedSweep(inventedRubber(random), 121, noise, random),
  );
  writeJson(join(folder, "sweeps.json"), sweeps);
  const isotherms = Array.from({ length: sizes.compounds }, () =>
    inventedIsotherms(inventedRubber(random), noise, random),
  );
  writeJson(join(folder, "isotherms.json"), isotherms);
  const models = Array.from({ length: sizes.compounds }, () => {
    const model = inventedRubber(random);
    return [model, ...inventedDraws(model, sizes.draws, random)];
  });
  writeJson(join(folder, "models.json"), models);
  makeJob(join(folder, "job"), sizes.jobCompounds);
  writeFileSync(join(folder, "job-study.yaml"), jobStudy(sizes.jobCompounds));
}

/**
 * Temperature sweeps as exports: the first half with semicolons and decimal commas, the rest with commas and
 * points. With fewer compounds than files, each compound is measured again and again.
 */
export function makeExports(folder: string, files: number, rows: number, compounds = files): void {
  mkdirSync(folder, { recursive: true });
  const random = seededRandom(3);
  const rubbers = Array.from({ length: compounds }, () => inventedRubber(random));
  for (let k = 0; k < files; k++) {
    const sweep = inventedSweep(rubbers[k % compounds], rows, noise, random);
    const sample = `Fjordtread ${(k % compounds) + 1}`;
    const text = exportText(sample, "temperature sweep", sweep, k < files / 2 ? ";" : ",");
    writeFileSync(join(folder, `export-${String(k + 1).padStart(5, "0")}.csv`), text);
  }
}

/** The whole job's folder: for each compound a sweep of 241 points and 12 isotherms of 21 frequencies. */
export function makeJob(folder: string, compounds: number): void {
  mkdirSync(folder, { recursive: true });
  const random = seededRandom(11);
  for (let k = 0; k < compounds; k++) {
    const model = inventedRubber(random);
    const name = `Fjordtread ${k + 1}`;
    const stem = `fjordtread-${String(k + 1).padStart(3, "0")}`;
    const mark = k % 2 === 0 ? ";" : ",";
    const sweep = exportText(name, "temperature sweep", inventedSweep(model, 241, noise, random), mark);
    const isotherms = exportText(name, "frequency sweep", inventedIsotherms(model, noise, random), mark);
    writeFileSync(join(folder, `${stem}-sweep.csv`), sweep);
    writeFileSync(join(folder, `${stem}-isotherms.csv`), isotherms);
  }
}

/**
 * What the Python side of the whole job takes for granted: instruments without errors of their own, no vertical
 * factor, and rubber without filler, so that an impact needs no correction for strain.
 */
function jobStudy(compounds: number): string {
  const lines = [
    "uncertainty: { temperature_K: 0, modulus: 0 }",
    'superposition: { verticalShift: "off" }',
    "compounds:",
  ];
  for (let k = 1; k <= compounds; k++) {
    lines.push(
      `  - name: Fjordtread ${k}`,
      `    files: ["fjordtread-${String(k).padStart(3, "0")}-*"]`,
      "    filler: { name: none, phr: 0, density_kg_m3: 1800, rubberDensity_kg_m3: 920 }",
    );
  }
  return `${lines.join("\n")}\n`;
}

/** Compounds of one measurement each: what a compound of that kind costs. */
export function makeCompounds(
  folder: string,
  kind: "single sweep" | "deep sweep" | "isotherms",
  compounds: number,
): void {
  mkdirSync(folder, { recursive: true });
  const random = seededRandom(17);
  for (let k = 0; k < compounds; k++) {
    const model = inventedRubber(random);
    const rows =
      kind === "isotherms"
        ? inventedIsotherms(model, noise, random, 16)
        : inventedSweep(
            model,
            kind === "deep sweep" ? 90 : 50,
            noise,
            random,
            kind === "deep sweep" ? 100 : 40,
          );
    const test = kind === "isotherms" ? "frequency sweep" : "temperature sweep";
    const text = exportText(`Fjordtread ${k + 1}`, test, rows, ";");
    writeFileSync(join(folder, `fjordtread-${String(k + 1).padStart(3, "0")}.csv`), text);
  }
}

function exportText(sample: string, test: string, rows: InventedMeasurement, delimiter: ";" | ","): string {
  const local = (text: string) => (delimiter === ";" ? text.replace(".", ",") : text);
  const lines = [
    ["Sample", sample],
    ["Test", test],
    ["Deformation", "tension"],
    ["Remark", "invented data"],
    [""],
    [
      "Temperature [°C]",
      "Frequency [Hz]",
      "Storage modulus E' [MPa]",
      "Loss modulus E'' [MPa]",
      "tan delta [-]",
    ],
  ];
  for (let i = 0; i < rows.temperature_C.length; i++) {
    const storageModulus_Pa = rows.storageModulus_Pa[i];
    const lossModulus_Pa = rows.lossModulus_Pa[i];
    lines.push([
      local(rows.temperature_C[i].toFixed(2)),
      local(rows.frequency_Hz[i].toFixed(4)),
      local((storageModulus_Pa / 1e6).toPrecision(7)),
      local((lossModulus_Pa / 1e6).toPrecision(7)),
      local((lossModulus_Pa / storageModulus_Pa).toFixed(6)),
    ]);
  }
  return `${lines.map((cells) => cells.join(delimiter)).join("\n")}\n`;
}

function writeJson(path: string, value: unknown): void {
  writeFileSync(
    path,
    JSON.stringify(value, (_, part) => (part instanceof Float64Array ? Array.from(part) : part)),
  );
}
