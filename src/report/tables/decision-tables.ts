import type { Results } from "../results/results.js";
import type { Cell, Table } from "./csv.js";

/** Durability and routine properties as measured, one row a compound, property and method. */
export function propertiesTable({ compounds }: Pick<Results, "compounds">): Table {
  return {
    name: "properties.csv",
    header: ["compound", "property", "unit", "value", "low", "high", "count", "method", "paths"],
    rows: compounds.flatMap(({ name, properties }) =>
      properties.map(({ quantity, unit, value, low, high, count, method, inputs }): Cell[] => [
        name,
        quantity,
        unit,
        value,
        low,
        high,
        count,
        method,
        inputs.join("; "),
      ]),
    ),
  };
}

/** Who meets what: one row a compound and requirement; no rows where the study asks nothing. */
export function decisionTable({ decision }: Pick<Results, "decision">): Table {
  const requirements = decision?.requirements ?? [];
  return {
    name: "decision.csv",
    header: [
      "compound",
      "requirement",
      "property",
      "use",
      "unit",
      "atLeast",
      "atMost",
      "wantedVerdict",
      "value",
      "probability",
      "answer",
      "meetsAllProbability",
      "onFrontier",
      "chosen",
    ],
    rows: (decision?.compounds ?? []).flatMap(({ name, meets, meetsAllProbability, onFrontier }) =>
      meets.map(({ requirement, value, probability, answer }, i): Cell[] => {
        const { quantity, use, unit, atLeast, atMost, verdict } = requirements[i];
        const isChosen = decision?.choice.names.includes(name) ?? false;
        return [
          name,
          requirement,
          quantity,
          use,
          unit,
          atLeast,
          atMost,
          verdict,
          value,
          probability,
          answer,
          meetsAllProbability,
          onFrontier,
          isChosen,
        ];
      }),
    ),
  };
}
