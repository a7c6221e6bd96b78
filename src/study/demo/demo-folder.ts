import { type Random, seededRandom, seedFromText } from "../../numeric/statistics/random.js";
import { compoundModel } from "./compound-model.js";
import {
  alderN,
  alderNSecondBatch,
  birch48,
  birch60,
  birch66,
  birchGum,
  type DemoCompound,
  hazelT,
  juniper55,
  lindenPU,
  mapleDuo,
  rowanW,
  spruceH,
} from "./compounds.js";
import * as isothermLayout from "./isotherm-layouts.js";
import { abrasionRepeatsTable, abrasionTable, routineTable } from "./property-tables.js";
import { readmeText } from "./readme-text.js";
import { reboundTable } from "./rebound-table.js";
import { secondLook, studyFileText } from "./study-file-text.js";
import * as sweepLayout from "./sweep-layouts.js";
import {
  logSteps,
  measureSteps,
  measureStrainSweep,
  type SweepPoint,
  type SweepStep,
  steps,
} from "./sweeps.js";
import { encodeText, joinLines, type TextEncoding } from "./text.js";
import { lindenWorkbook } from "./workbook-layout.js";

export interface DemoFile {
  /** Relative to the demo folder. */
  path: string;
  bytes: Uint8Array;
}

const sweepTemperatures_C = steps(-100, 80, 2);
const sweepFrequencies_Hz = [1, 3.16, 10, 31.6];

/**
 * All files of the demo folder: exports of invented compounds in differing layouts, a rebound table, two
 * broken files, `study.yaml` and `README.txt`. The same bytes at every call: each file's scatter comes from
 * a seed of its own name.
 * @example demoFolder().some(({ path }) => path === "study.yaml") // true
 */
export function demoFolder(): DemoFile[] {
  const linden = lindenWorkbook(
    lindenPU,
    sweep(lindenPU, "Linden PU.xlsx"),
    isotherms(lindenPU, "Linden PU isotherms", { span_K: 75, frequencies_Hz: logSteps(0.1, 100, 13) }),
  );
  return [
    text("Birch 60 Temperaturdurchläufe.csv", "windows-1252", "\r\n", (path) =>
      sweepLayout.germanSweep(birch60, sweep(birch60, path)),
    ),
    text("Birch 60 Frequenzdurchläufe.txt", "utf-8", "\r\n", (path) =>
      isothermLayout.angularSections(
        birch60,
        isotherms(birch60, path, { span_K: 80, frequencies_Hz: logSteps(0.1, 100, 16) }),
      ),
    ),
    text("Birch 60 strain sweep.csv", "utf-8", "\n", (path) =>
      sweepLayout.strainTable(birch60, strainSweep(birch60, path)),
    ),
    text("Rowan W winter.txt", "utf-16 le with BOM", "\r\n", (path) =>
      sweepLayout.tabbedSweep(rowanW, sweep(rowanW, path)),
    ),
    text("rowan w frequency sweeps (psi).csv", "utf-8", "\r\n", (path) =>
      isothermLayout.fahrenheitPsi(
        rowanW,
        isotherms(rowanW, path, { span_K: 80, frequencies_Hz: logSteps(0.05, 50, 16) }),
      ),
    ),
    text("alder_n_tension.csv", "utf-8", "\n", (path) =>
      sweepLayout.commaSections(alderN, sweep(alderN, path)),
    ),
    text("Alder N balayages isothermes.csv", "utf-8 with BOM", "\r\n", (path) =>
      isothermLayout.frenchLogarithms(
        alderN,
        isotherms(alderN, path, { span_K: 70, frequencies_Hz: logSteps(0.1, 100, 13) }),
      ),
    ),
    text("Alder N seconda mescola.csv", "windows-1252", "\r\n", (path) =>
      sweepLayout.italianSweep(
        alderNSecondBatch,
        sweep(alderNSecondBatch, path, steps(-80, 60, 2), sweepFrequencies_Hz),
      ),
    ),
    text("Spruce H.dat", "utf-8", "\n", (path) => sweepLayout.alignedSections(spruceH, sweep(spruceH, path))),
    text("Spruce H isotherms.csv", "utf-8", "\n", (path) =>
      isothermLayout.bareExponents(
        isotherms(spruceH, path, { span_K: 75, frequencies_Hz: logSteps(0.1, 100, 13) }),
      ),
    ),
    { path: "Linden PU.xlsx", bytes: linden },
    text("Maple Duo sweep.csv", "utf-8 with BOM", "\n", (path) =>
      sweepLayout.storageAndTanDelta(mapleDuo, sweep(mapleDuo, path)),
    ),
    text("Maple Duo isotherms.txt", "utf-8", "\n", (path) =>
      isothermLayout.angularSections(
        mapleDuo,
        isotherms(mapleDuo, path, { span_K: 120, frequencies_Hz: logSteps(0.1, 100, 13) }),
      ),
    ),
    text("Juniper 55 barrido.txt", "utf-8", "\r\n", (path) =>
      sweepLayout.spanishSingleFrequency(juniper55, sweep(juniper55, path, steps(-80, 60, 2), [10])),
    ),
    ...[birchGum, birch48, birch66].map((compound) =>
      text(`Filler series ${compound.name}.csv`, "utf-8", "\n", (path) =>
        sweepLayout.shortSweep(compound, sweep(compound, path, steps(-70, 80, 2.5), sweepFrequencies_Hz)),
      ),
    ),
    text("Hazel T to the warm end.csv", "utf-8", "\n", (path) =>
      sweepLayout.strokeUnits(hazelT, sweep(hazelT, path, steps(-90, 112, 2), [1, 10])),
    ),
    text("Rückprall ISO 4662.csv", "windows-1252", "\r\n", (path) =>
      reboundTable(
        [birch60, rowanW, alderN, spruceH, lindenPU, mapleDuo],
        [-20, -10, 0, 10, 23, 40, 60],
        randomFor(path),
      ),
    ),
    text("Routine properties winter trial.csv", "utf-8", "\r\n", routineTable),
    text("Perda por abrasão.txt", "windows-1252", "\r\n", abrasionTable),
    text(secondLook, "utf-8 with BOM", "\n", abrasionRepeatsTable),
    text("Maple Duo export abgebrochen.csv", "utf-8", "\n", () => [
      "Sample;Maple Duo",
      "Mode;shear sandwich",
      "",
      "Temperature (K);Storage modulus G' (MPa);tan delta",
    ]),
    { path: "Linden PU Kopie.xlsx", bytes: linden.slice(0, Math.floor(linden.length / 3)) },
    { path: "study.yaml", bytes: encodeText(studyFileText(), "utf-8") },
    { path: "README.txt", bytes: encodeText(readmeText(), "utf-8") },
  ];
}

function text(
  path: string,
  encoding: TextEncoding,
  lineEnding: "\n" | "\r\n",
  lines: (path: string) => string[],
): DemoFile {
  return { path, bytes: encodeText(joinLines(lines(path), lineEnding), encoding) };
}

function randomFor(path: string): Random {
  return seededRandom(seedFromText(path));
}

function sweep(
  compound: DemoCompound,
  seedText: string,
  temperatures_C = sweepTemperatures_C,
  frequencies_Hz = sweepFrequencies_Hz,
): SweepStep[] {
  return measureSteps(compoundModel(compound), temperatures_C, frequencies_Hz, randomFor(seedText));
}

/** Isotherms in 5 K steps from the lowest glass transition up, over so many kelvin. */
function isotherms(
  compound: DemoCompound,
  seedText: string,
  { span_K, frequencies_Hz }: { span_K: number; frequencies_Hz: number[] },
): SweepStep[] {
  const lowest_C = Math.min(...compound.phases.map(({ glassTransition_C }) => glassTransition_C));
  return measureSteps(
    compoundModel(compound),
    steps(lowest_C, lowest_C + span_K, 5),
    frequencies_Hz,
    randomFor(seedText),
  );
}

function strainSweep(compound: DemoCompound, seedText: string): SweepPoint[] {
  const payne = { share: 0.55, halfStrain: 0.012, exponent: 0.6, lossRise: 0.35 };
  return measureStrainSweep(
    compoundModel(compound),
    60,
    10,
    logSteps(0.0001, 0.25, 30),
    payne,
    randomFor(seedText),
  );
}
