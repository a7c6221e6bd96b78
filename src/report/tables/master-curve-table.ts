import type { Assessment } from "../assessment.js";
import { superposedCurve } from "../superposed-part.js";
import type { Table } from "./csv.js";

/** The measured moduli at their reduced frequencies as far as the law superposes them, with what the fitted spectrum leaves over. */
export function masterCurveTable({ results, compounds }: Assessment): Table {
  return {
    name: "master-curve.csv",
    header: [
      "compound",
      "deformation",
      "referenceTemperature_C",
      "reducedFrequency_Hz",
      "storageModulus_Pa",
      "lossModulus_Pa",
      "storageResidualLog10",
      "lossResidualLog10",
      "measuredTemperature_C",
      "measuredFrequency_Hz",
    ],
    rows: compounds.flatMap(({ material }, i) => {
      const { superposition } = material;
      const curve = superposedCurve(material);
      if (!superposition || !curve) return [];
      return curve.reducedFrequency_Hz.map((reducedFrequency_Hz, k) => [
        results.compounds[i].name,
        superposition.deformation,
        superposition.referenceTemperature_C,
        reducedFrequency_Hz,
        curve.storageModulus_Pa[k],
        curve.lossModulus_Pa[k],
        curve.storageResidualLog10[k],
        curve.lossResidualLog10[k],
        curve.temperature_C[k],
        curve.frequency_Hz[k],
      ]);
    }),
  };
}
