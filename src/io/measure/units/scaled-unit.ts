import { exp10 } from "../../../numeric/elementary/exponential.js";
import { notice, problem, quoted } from "../../problem-codes.js";
import { columnInStudy } from "../../study-example.js";
import type { Column } from "../../table/header/column.js";
import type { Quantity } from "../../vocabulary/quantities.js";
import { toSI, type Unit } from "../../vocabulary/units.js";
import { Rejection } from "../rejection.js";
import { type ChosenUnit, chooseUnit, type Extent, shownNumber } from "./choose-unit.js";

/** What the greatest value of a column of a whole test can be, SI: wide for any rubber (common practice). */
const greatest: Partial<Record<Quantity, [least: number, most: number]>> = {
  "storage modulus": [1e5, 6e9],
  "complex modulus": [1e5, 6e9],
  "loss modulus": [1e4, 2e9],
  "tan delta": [0.02, 6],
  "strain amplitude": [1e-5, 3],
  "double strain amplitude": [1e-5, 3],
  "rebound resilience": [0.02, 1],
};

/**
 * The unit of a column whose header names a power of ten beside its name. "tan δ ×10³" heads numbers that are a
 * thousand times tan δ in most tables and a thousandth in some: the reading that a rubber can have is taken, and
 * where both or neither can be, it is asked for.
 */
export function scaledUnit(column: Column, extent: Extent, headerLine: number): ChosenUnit | null {
  const { quantity, reading, position } = column;
  const { power, text, isSure } = reading.factor!;
  const plain =
    reading.unit === null
      ? unitOf(column, extent, power, isSure, headerLine)
      : { unit: reading.unit, text: reading.unitText };
  const header = `Column ${position + 1} (${quoted(reading.text)}), the ${quantity},`;
  const by = (sign: 1 | -1): Unit => ({ ...plain.unit, power: plain.unit.power + sign * power });
  const range = greatest[quantity!];
  const fits = (unit: Unit) => {
    const value = toSI(extent.greatest, unit);
    return range !== undefined && value >= range[0] && value <= range[1];
  };
  const [times, over] = [by(-1), by(1)];
  const shown = (sign: "over" | "times") => (sign === "times" ? "multiplied by" : "divided by");
  if (isSure && (range === undefined || fits(times) || !fits(over)))
    return { unit: times, text: `${plain.text}`, notice: null };
  if (fits(times) !== fits(over)) {
    const unit = fits(times) ? times : over;
    const how = fits(times) ? shown("over") : shown("times");
    const message = `${header} names the factor ${text}: its numbers were ${how} it, as only then a rubber can have them.`;
    return { unit, text: plain.text, notice: notice("caution", "io.scale-assumed", message) };
  }
  throw new Rejection(
    problem(
      "io.scale-unclear",
      `${header} names the factor ${text}, and its values (${shownNumber(extent.least)} to ${shownNumber(extent.greatest)}) do not tell whether ` +
        `they are to be multiplied or divided by it. Write the unit into the header, or state the column in study.yaml, as in ` +
        columnInStudy(reading.text, example(quantity!)),
      headerLine,
      position + 1,
    ),
  );
}

/** The unit of a column that states a factor and none: chosen by the values with the factor taken off. */
function unitOf(
  column: Column,
  extent: Extent,
  power: number,
  isSure: boolean,
  headerLine: number,
): { unit: Unit; text: string } {
  const factor = isSure ? exp10(-power) : 1;
  const { least, middle, greatest: most } = extent;
  const choice = chooseUnit(
    column,
    { least: least * factor, middle: middle * factor, greatest: most * factor },
    headerLine,
  );
  return choice ?? { unit: { dimension: "ratio", before: 0, power: 0, factor: 1 }, text: "-" };
}

function example(quantity: Quantity): string {
  return quantity === "tan delta" || quantity === "rebound resilience"
    ? `${quantity} in %`
    : `${quantity} in MPa`;
}
