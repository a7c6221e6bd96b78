import { parentPort, workerData } from "node:worker_threads";
import { fuzzReader, readerCorpus } from "./fuzz-reader.js";

/** What a thread of scripts/fuzz.mjs runs: one stretch of mutants after the other. */
const { fixtures, seed, current } = workerData as { fixtures: string; seed: number; current: Int32Array };
const corpus = readerCorpus(fixtures);
parentPort!.on("message", async ({ from, to }: { from: number; to: number }) => {
  const result = await fuzzReader(corpus, seed, from, to, (index) => Atomics.store(current, 0, index));
  Atomics.store(current, 0, -1);
  parentPort!.postMessage(result);
});
parentPort!.postMessage("ready");
