// What the draws say of friction in the whole job: results.json gives an interval that the cut-off mostly rules.
import { intervalAround } from "../src/numeric/statistics/value-interval.js";
import { folderSource } from "../src/study/inputs/folder-source.js";
import { assessCompound, type CompoundAssessment } from "../src/study/run/assess-compound.js";
import { assessFrom } from "../src/study/run/assess-from.js";

/** Friction of a compound in each use with the interval of the draws alone; null where it is not predicted. */
export interface DrawnFriction {
  name: string;
  uses: ({ value: number; low: number; high: number } | null)[];
}

/** The same job once more, by the functions that the program calls. */
export async function drawnFrictions(job: string, studyFile: string): Promise<DrawnFriction[]> {
  const source = await folderSource([job], { outputFolder: job, studyFile });
  if (!source.ok) throw new Error(source.problems[0].message);
  let assessed: CompoundAssessment[] = [];
  const fit = async (tasks: Parameters<typeof assessCompound>[0][]) => {
    assessed = tasks.map(assessCompound);
    return assessed;
  };
  const outcome = await assessFrom(source.value, fit, { version: "bench" });
  if (!outcome.ok) throw new Error(outcome.problems[0].message);
  return assessed.map(({ material, outlooks }) => ({
    name: material.compound,
    uses: outlooks.map(({ outlook: { grip }, draws }) =>
      grip === null || draws.grip === null
        ? null
        : { value: grip.frictionCoefficient, ...intervalAround(grip.frictionCoefficient, draws.grip) },
    ),
  }));
}
