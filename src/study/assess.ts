import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import type { Notice, Problem } from "../io/problem.js";
import { relativeToReference } from "../predict/relative-to-reference.js";
import type { Assessment } from "../report/assessment.js";
import { assessCompound, type CompoundAssessment, type CompoundTask } from "./assess-compound.js";
import { type Cache, hashOf, noCache } from "./cache.js";
import { compareCompounds } from "./compare-compounds.js";
import { type FoundInput, type FoundInputs, findInputs } from "./find-inputs.js";
import { type GroupedCompound, groupCompounds } from "./group-compounds.js";
import { loadStudy } from "./load-study.js";
import { type InputReading, readInput } from "./read-inputs.js";
import { resultsOf } from "./results-of.js";
import type { Study } from "./study.js";

export interface AssessOptions {
  outputFolder: string;
  studyFile: string | null;
  /** Worker threads for the fits; the results do not depend on it. Null: one a core. */
  workers: number | null;
  version: string;
  onProgress?: (progress: Progress) => void;
  /** What was computed before; by default nothing is kept. */
  cache?: Cache;
}

export interface Progress {
  stage: "reading" | "fitting";
  done: number;
  total: number;
  name: string;
}

export type AssessOutcome = { ok: true; assessment: Assessment } | { ok: false; problems: Problem[] };

/** All inputs of a job as read, and the study they belong to. */
export interface GatheredInputs {
  found: Pick<FoundInputs, "notices">;
  inputs: InputReading[];
  study: Study;
}

/**
 * The main job: from paths to an assessment. Nothing is written and no input is changed.
 * @example (await assess(["no such folder"], { outputFolder: "report", studyFile: null, workers: 1, version: "0.1.0" })).problems[0].code // "study.no-such-path"
 */
export async function assess(paths: string[], options: AssessOptions): Promise<AssessOutcome> {
  const gathered = await gatherInputs(paths, options);
  return gathered.ok ? assessInputs(gathered.value, options) : gathered;
}

/** Finds and reads everything. */
export async function gatherInputs(
  paths: string[],
  options: AssessOptions,
): Promise<{ ok: true; value: GatheredInputs } | { ok: false; problems: Problem[] }> {
  const { found, problems } = await findInputs(paths, options.outputFolder);
  if (found === null) return { ok: false, problems };
  const study = await loadStudy(options.studyFile ?? found.study);
  if (!study.ok) return { ok: false, problems: [study.problem] };
  const inputs: InputReading[] = [];
  const exports = exportsAmong(found, study.value);
  for (const [i, input] of exports.entries()) {
    options.onProgress?.({ stage: "reading", done: i, total: exports.length, name: input.path });
    inputs.push(await readInput(input, study.value.columns, options.cache));
  }
  return { ok: true, value: { found: { notices: found.notices }, inputs, study: study.value } };
}

/** The inputs less the texture profiles that the study names. */
export function exportsAmong(found: FoundInputs, study: Study): FoundInput[] {
  return found.inputs.filter(({ file }) => !study.profileFiles.includes(file));
}

/** The same from inputs already read. */
export async function assessInputs(
  gathered: GatheredInputs,
  options: Pick<AssessOptions, "workers" | "version" | "onProgress" | "cache">,
): Promise<AssessOutcome> {
  const groups = groupsOf(gathered);
  if (groups.length === 0) return { ok: false, problems: nothingUsable(gathered.inputs) };
  const assessed = await assessGroups(groups, gathered.study, options);
  return { ok: true, assessment: concludeAssessment(gathered, groups, assessed, options.version) };
}

export function groupsOf({ inputs, study }: Pick<GatheredInputs, "inputs" | "study">): GroupedCompound[] {
  return groupCompounds(
    inputs.map(({ path, reading }) => ({ path, measurements: reading?.measurements ?? [] })),
    study,
  );
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
  };
}

export function isReference(name: string, study: Study): boolean {
  return study.compounds.some((compound) => compound.reference && compound.name === name);
}

/** The fits and predictions of each compound, by worker threads where there are several. */
export async function assessGroups(
  groups: GroupedCompound[],
  study: Study,
  { workers, onProgress, cache = noCache }: Pick<AssessOptions, "workers" | "onProgress" | "cache">,
): Promise<CompoundAssessment[]> {
  const tasks: CompoundTask[] = groups.map(({ name, measurements }) => ({
    name,
    measurements,
    uses: study.uses,
    superposition: study.superposition,
    prediction: study.prediction,
    network: networkOf(name, study),
    batchLimits: study.batchLimits,
    seed: study.seed,
  }));
  const keys = cache === noCache ? [] : tasks.map(hashOf);
  const assessed = await Promise.all(keys.map((key) => cache.get("compounds", key)));
  const missing = tasks.map((_, i) => i).filter((i) => assessed[i] === undefined);
  const threads = Math.min(workers ?? availableParallelism(), missing.length);
  let done = 0;
  const finish = async (i: number, assessment: CompoundAssessment) => {
    onProgress?.({ stage: "fitting", done: done++, total: missing.length, name: tasks[i].name });
    assessed[i] = assessment;
    if (keys.length > 0) await cache.put("compounds", keys[i], assessment);
  };
  // The worker's file is there only once the program is bundled.
  if (threads <= 1 || !import.meta.url.endsWith(".js")) {
    for (const i of missing) await finish(i, assessCompound(tasks[i]));
    return assessed as CompoundAssessment[];
  }
  const { Tinypool } = await import("tinypool");
  const pool = new Tinypool({
    filename: fileURLToPath(new URL("./compound-worker.js", import.meta.url)),
    minThreads: threads,
    maxThreads: threads,
  });
  try {
    await Promise.all(missing.map(async (i) => finish(i, await pool.run(tasks[i]))));
  } finally {
    await pool.destroy();
  }
  return assessed as CompoundAssessment[];
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

export function nothingUsable(inputs: InputReading[]): Problem[] {
  if (inputs.length === 0) {
    return [
      {
        code: "study.nothing-found",
        message:
          "No file to read was found. Give the folder that holds the exports, or the files themselves.",
      },
    ];
  }
  return inputs.map(({ path, problem }) => ({
    ...(problem ?? { code: "study.nothing-read", message: "holds no measurement" }),
    message: `${path}: ${problem?.message ?? "holds no measurement."}`,
  }));
}
