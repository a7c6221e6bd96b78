import type { Decision } from "../../predict/decision/decision.js";
import type { CompoundProperty } from "../../predict/decision/decision-schema.js";
import type { Candidate } from "../../predict/decision/judge.js";
import { leversOf, type StatedSeries } from "../../predict/decision/levers.js";
import { propertiesOf } from "../../predict/decision/properties.js";
import type { Results } from "../../report/results/results.js";
import type { GroupedCompound } from "../inputs/group-compounds.js";
import { isReference, type Study } from "../study-file/study.js";
import type { CompoundAssessment } from "./assess-compound.js";

/** The decision with what a change of filler would do to what fails, by the study's own series. */
export function withLevers(
  decision: Decision | null,
  groups: GroupedCompound[],
  assessed: CompoundAssessment[],
  study: Study,
): Results["decision"] {
  if (decision === null) return null;
  const reference = assessed[groups.findIndex(({ name }) => isReference(name, study))]?.outlooks ?? null;
  const candidates = groups.map(
    (group, i): Candidate => ({
      name: group.name,
      outlooks: assessed[i].outlooks,
      reference,
      properties: [...propertiesOf(group), ...stiffness(assessed[i])],
      softening: assessed[i].material.softening ?? null,
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
