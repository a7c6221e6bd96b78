import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { assessCompound, type CompoundAssessment } from "./assess-compound.js";
import { type FitCompounds, mapInOrder } from "./assess-from.js";
import { type Cache, hashOf, noCache } from "./cache.js";

/**
 * Fits the compounds in worker threads, or in this one where a single compound is to be computed.
 *
 * @param workers how many threads; null: one a core
 * @param cache what was computed before is taken from it, and what is computed is put there
 */
export function fitInThreads(workers: number | null, cache: Cache = noCache): FitCompounds {
  return async (tasks, onDone) => {
    const keys = cache === noCache ? [] : tasks.map(hashOf);
    const assessed = await Promise.all(keys.map((key) => cache.get("compounds", key)));
    const missing = tasks.map((_, i) => i).filter((i) => assessed[i] === undefined);
    const threads = Math.min(workers ?? availableParallelism(), missing.length);
    const pool = threads > 1 ? await openPool(threads) : null;
    try {
      await mapInOrder(missing, threads, async (i) => {
        const assessment = pool === null ? assessCompound(tasks[i]) : await pool.run(tasks[i]);
        onDone(tasks[i].material.compound, missing.length);
        assessed[i] = assessment;
        if (keys.length > 0) await cache.put("compounds", keys[i], assessment);
      });
    } finally {
      await pool?.destroy();
    }
    return assessed as CompoundAssessment[];
  };
}

/** Worker threads; null where the program is not bundled, for their file is there only once it is. */
async function openPool(threads: number) {
  if (!import.meta.url.endsWith(".js")) return null;
  const { Tinypool } = await import("tinypool");
  return new Tinypool({
    filename: fileURLToPath(new URL("./compound-worker.js", import.meta.url)),
    minThreads: threads,
    maxThreads: threads,
  });
}
