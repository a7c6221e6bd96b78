import { problem } from "../../../words/codes/codes.js";
import type { Problem } from "../../../words/notice.js";
import { quoted } from "../../../words/quoted.js";
import { columnInStudy } from "../../study-example.js";
import { dimensionsOf, type Quantity } from "../../vocabulary/quantities.js";
import type { Column } from "./column.js";

/** What is wrong with the unit of a column that is read; null where nothing is, or where none is stated. */
export function unitTrouble({ quantity, reading, position }: Column, line: number): Problem | null {
  if (quantity === null) return null;
  const dimensions = dimensionsOf[quantity];
  const fits =
    reading.unit === null
      ? reading.unknownUnit === null || dimensions.includes("ratio")
      : dimensions.includes(reading.unit.dimension);
  if (fits) return null;
  const expected = expectedUnits(quantity);
  const at = reading.unitLine ?? line;
  const example = columnInStudy(reading.text, `${quantity} in ${usualUnit(quantity)}`);
  if (reading.unit === null) {
    return problem(
      "io.unknown-unit",
      `The header ${quoted(reading.text)} (${quantity}) gives ${quoted(reading.unknownUnit!)} where a unit should be, and no such ` +
        `unit is known; expected ${expected}. Correct it, or state the column in study.yaml, as in ${example}`,
      at,
      position + 1,
    );
  }
  return problem(
    "io.unit-does-not-fit",
    `The header ${quoted(reading.text)} gives the unit ${quoted(reading.unitText)}, which a ${quantity} cannot have; expected ` +
      `${expected}. Correct it, or state the column in study.yaml, as in ${example}`,
    at,
    position + 1,
  );
}

function expectedUnits(quantity: Quantity): string {
  switch (dimensionsOf[quantity][0]) {
    case "temperature":
      return "°C, K or °F";
    case "stress":
      return "a unit such as Pa, kPa, MPa, GPa, N/mm², psi or dyn/cm²";
    case "frequency":
    case "angular frequency":
      return "Hz or rad/s";
    case "time":
      return "s, min or h";
    case "length":
      return "mm, cm or m";
    case "angle":
      return "degrees or rad";
    case "hardness":
      return "Shore A or IRHD";
    case "volume":
      return "mm³ or cm³";
    case "line force":
      return "kN/m or N/mm";
    case "density":
      return "g/cm³ or kg/m³";
    case "cycles":
      return "cycles or kilocycles";
    case "compliance":
      return "1/Pa or 1/MPa";
    default:
      return "% or a fraction";
  }
}

/** A unit for an example. */
function usualUnit(quantity: Quantity): string {
  const dimension = dimensionsOf[quantity][0];
  return (
    {
      temperature: "°C",
      stress: "MPa",
      frequency: "Hz",
      "angular frequency": "rad/s",
      time: "s",
      length: "mm",
      angle: "°",
      compliance: "1/MPa",
      hardness: "Shore A",
      volume: "mm³",
      "line force": "kN/m",
      density: "g/cm³",
      cycles: "kilocycles",
    }[dimension as string] ?? "%"
  );
}
