import type { Decision } from "../../../predict/decision/decision.js";
import type { Choosable } from "../../../predict/decision/decision-of.js";
import type { CompoundProperty } from "../../../predict/decision/decision-schema.js";
import type { Candidate } from "../../../predict/decision/judge.js";
import { leversOf, type StatedSeries } from "../../../predict/decision/levers.js";
import type { Results } from "../../../report/results/results.js";
import type { Study } from "../../study-file/study.js";
import type { CompoundAssessment } from "../assess-compound.js";

/** The decision with what a change of filler would do to what fails, by the study's own series. */
export function withLevers(
  decision: Decision | null,
  compounds: Choosable[],
  assessed: CompoundAssessment[],
  study: Study,
): Results["decision"] {
  if (decision === null) return null;
  const reference = compounds.find(({ isReference }) => isReference)?.outlooks ?? null;
  const candidates = compounds.map(
    (one, i): Candidate => ({
      ...{ name: one.name, outlooks: one.outlooks, reference, softening: one.softening },
      properties: [...one.properties, ...stiffness(assessed[i])],
    }),
  );
  const series = study.fillerSeries.map(
    ({ name, compounds }): StatedSeries => ({
      name,
      members: compounds.map((compound) => {
        const stated = study.compounds.find((one) => one.name === compound);
        return {
          compound,
          phr: stated?.filler_phr ?? null,
          volumeFraction: stated?.fillerVolumeFraction ?? null,
          particleSize_nm: stated?.particleSize_nm ?? null,
        };
      }),
    }),
  );
  return { ...decision, levers: leversOf(decision, candidates, series) };
}

/** The plateau modulus beside the properties; those of different deformation modes do not mix. */
function stiffness({ material: { network } }: CompoundAssessment): CompoundProperty[] {
  if (network == null) return [];
  const { value, low, high } = network.plateauModulus_Pa;
  return [
    {
      quantity: `plateau modulus in ${network.deformation === "unstated" ? "an unstated mode" : network.deformation}`,
      unit: "MPa",
      value: value / 1e6,
      low: low === null ? null : low / 1e6,
      high: high === null ? null : high / 1e6,
      ...{ count: 1, method: null, inputs: [] },
    },
  ];
}
