import type { ResultsCompound } from "../results.js";

/** The part of a compound's results that verdicts, ranking and sentences are made of; the page has it too. */
export type JudgedCompound = Pick<
  ResultsCompound,
  "name" | "inputs" | "glassTransitions" | "superposition" | "outlooks" | "flags"
>;
