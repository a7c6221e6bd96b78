import { assessCompound, type CompoundAssessment, type CompoundTask } from "./assess-compound.js";

/** What a worker thread runs: one compound at a time. */
export default function run(task: CompoundTask): CompoundAssessment {
  return assessCompound(task);
}
