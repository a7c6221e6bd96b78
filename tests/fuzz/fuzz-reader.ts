import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { type ReadOptions, readBytes } from "../../src/io/read-bytes.js";
import { type Random, seededRandom } from "../../src/numeric/statistics/random.js";
import { combination } from "../fixtures/make/combination.mjs";
import { type Corpus, corpusOf, mutantOf } from "./mutate-export.js";
import { outcomeFault } from "./outcome-faults.js";

export interface FuzzFigures {
  inputs: number;
  read: number;
  rejected: number;
  /** How often each code was the reason of a rejection. */
  codes: Record<string, number>;
  slowest_ms: number;
  slowest: string;
}

export interface FuzzFault {
  index: number;
  made: string;
  fault: string;
  bytes: Uint8Array;
  options: ReadOptions;
}

/** Longest that the reader may take over any input. */
export const longest_ms = 2000;

/** The fixtures of the reader, good and bad, and some of their habits put together at random. */
export function readerCorpus(fixtures: string): Corpus {
  const files: Corpus["files"] = ["read", "bad"].flatMap((folder) =>
    readdirSync(join(fixtures, folder))
      .sort()
      .map((name) => ({ name, bytes: new Uint8Array(readFileSync(join(fixtures, folder, name))) })),
  );
  for (let seed = 1; seed <= 40; seed++)
    files.push({ name: `combination ${seed}`, bytes: combination(seed).bytes });
  return corpusOf(files);
}

/** What is read with mutant number `index` of a seed: the same at any time and on any machine. */
export function fuzzCase(corpus: Corpus, seed: number, index: number) {
  const random = seededRandom((seed * 0x9e3779b1 + index) | 0);
  const { bytes, made } = mutantOf(corpus, random);
  return { bytes, made, options: random.index(12) === 0 ? optionsOf(corpus, random) : {} };
}

/** Reads mutants `from` to `to` of a seed and gathers what was wrong. */
export async function fuzzReader(
  corpus: Corpus,
  seed: number,
  from: number,
  to: number,
  before: (index: number) => void = () => {},
): Promise<{ figures: FuzzFigures; faults: FuzzFault[] }> {
  const figures: FuzzFigures = { inputs: 0, read: 0, rejected: 0, codes: {}, slowest_ms: 0, slowest: "" };
  const faults: FuzzFault[] = [];
  for (let index = from; index < to; index++) {
    before(index);
    const { bytes, made, options } = fuzzCase(corpus, seed, index);
    const kept = bytes.slice();
    const start = performance.now();
    let fault: string | null;
    try {
      const outcome = await readBytes(bytes, "mutant.csv", options);
      let took_ms = performance.now() - start;
      // A machine that is busy elsewhere makes anything slow once, a reader that is slow is slow again.
      for (let again = 0; again < 2 && took_ms > longest_ms; again++) {
        const restart = performance.now();
        await readBytes(bytes, "mutant.csv", options);
        took_ms = Math.min(took_ms, performance.now() - restart);
      }
      if (took_ms > figures.slowest_ms) {
        figures.slowest_ms = took_ms;
        figures.slowest = `${index}: ${made}`;
      }
      fault = outcomeFault(outcome);
      if (outcome.ok) figures.read++;
      else {
        figures.rejected++;
        figures.codes[outcome.problem.code] = (figures.codes[outcome.problem.code] ?? 0) + 1;
      }
    } catch (error) {
      fault = `threw past its own net: ${error}`;
    }
    figures.inputs++;
    if (Buffer.compare(kept, bytes) !== 0) fault = "changed the bytes it was given";
    if (fault !== null && faults.length < 500) faults.push({ index, made, fault, bytes, options });
  }
  return { figures, faults };
}

function optionsOf(corpus: Corpus, random: Random): ReadOptions {
  const word = () => corpus.words[random.index(corpus.words.length)].replace(/\p{Cc}/gu, "");
  const options: ReadOptions = {};
  if (random.index(2)) options.columns = { [random.index(2) ? String(1 + random.index(6)) : word()]: word() };
  if (random.index(3) === 0) options.decimalMark = random.index(2) ? "," : ".";
  if (random.index(3) === 0) options.frequency_Hz = [10, 1e-3, 1e9][random.index(3)];
  if (random.index(3) === 0) options.temperature_C = [23, -40][random.index(2)];
  if (random.index(3) === 0) options.sample = word();
  return options;
}
