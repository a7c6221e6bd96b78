import type { LeverChange } from "../../predict/decision/lever-schema.js";
import type { Assessment } from "../assessment.js";
import type { Cell, Table } from "./csv.js";

/** What filler changes: each step of the study's series, and each trade for a requirement that a compound fails. */
export function fillerChangesTable({ results }: Assessment): Table {
  const { series = [], trades = [] } = results.decision?.levers ?? {};
  const unitOf = (name: string | null) => series.find((one) => one.name === name)?.loadUnit;
  return {
    name: "filler-changes.csv",
    header: [
      ...["series", "basis", "compound", "toCompound", "failedRequirement", "loadUnit", "fromLoad", "toLoad"],
      ...[
        "quantity",
        "use",
        "unit",
        "requirement",
        "fromValue",
        "toValue",
        "change",
        "changeLow",
        "changeHigh",
      ],
      ...["slopePerLoad", "slopeLow", "slopeHigh", "probability", "answer"],
    ],
    rows: [
      ...series.flatMap(({ name, loadUnit, steps }) =>
        steps.flatMap(({ from, to, fromLoad, toLoad, changes }) =>
          changes.map((one): Cell[] => [
            ...[name, "measured step", from, to, null, loadUnit, fromLoad, toLoad],
            ...changeCells(one),
          ]),
        ),
      ),
      ...trades.flatMap((trade) =>
        trade.changes.map((one): Cell[] => [
          ...[trade.series, "interpolated trade", trade.compound, null, trade.requirement],
          ...[unitOf(trade.series), trade.load, trade.changedLoad],
          ...changeCells(one),
        ]),
      ),
    ],
  };
}

function changeCells({
  quantity,
  use,
  unit,
  requirement,
  from,
  to,
  change,
  slope,
  ...judged
}: LeverChange): Cell[] {
  return [
    ...[quantity, use, unit, requirement, from, to],
    ...[change.value, change.low, change.high, slope.value, slope.low, slope.high],
    ...[judged.probability, judged.answer],
  ];
}
