import { cpSync, existsSync } from "node:fs";
import { join } from "node:path";
import { inject } from "vitest";

declare module "vitest" {
  interface ProvidedContext {
    /** A folder for the fits that tests hand on to one another, which is there for the run. */
    keptFits: string;
  }
}

/*
 * Tests that are about what follows from the fits, such as a decision or a page of the docs, fit the same few
 * compounds. Their runs take from the output folder's cache what another run of the suite has fitted, as those of a user
 * do; tests/faults and tests/study/cache.test.ts hold that a run with a cache gives the bytes of one without, and that
 * no entry is trusted that is damaged, foreign or half-written. Entries are named by what they were computed from, so
 * it does not matter which test was first. What is about a first run, such as equal bytes from any number of workers,
 * has no part in it.
 */

/** Gives an output folder the fits that are kept. */
export function takeKeptFits(out: string): void {
  const kept = inject("keptFits");
  if (existsSync(kept)) cpSync(kept, join(out, ".cache"), { recursive: true });
}

/** Keeps what was fitted for an output folder. */
export function keepFits(out: string): void {
  const cache = join(out, ".cache");
  if (existsSync(cache)) cpSync(cache, inject("keptFits"), { recursive: true, force: false });
}
