import { onOneLine } from "../../words/quoted.js";
import type { ColumnMeaning } from "../measurement.js";
import type { Layout } from "../table/header/layout.js";
import type { ChosenUnits } from "./units/si-columns.js";

/** What each column of a table was taken for. */
export function columnReadings(layout: Layout, chosen: ChosenUnits): ColumnMeaning[] {
  const readings: ColumnMeaning[] = [];
  for (const column of layout.columns) {
    const { reading, quantity, position } = column;
    if (reading.text === "" && layout.slotOf[position] < 0) continue;
    const choice = chosen.get(column);
    const isRead = layout.slotOf[position] >= 0 && choice !== null;
    const label = layout.labelColumns.find((one) => one.position === position);
    readings.push({
      header: onOneLine(reading.text),
      column: position + 1,
      quantity:
        position === layout.sampleColumn
          ? "sample"
          : position === layout.methodColumn && column.setAside === null
            ? "method"
            : (label?.kind ?? (isRead ? described(quantity ?? "not used", reading.logarithm) : "not used")),
      unit: isRead ? (reading.unit !== null ? reading.unitText : (choice?.text ?? "")) : reading.unitText,
      unitAssumed: isRead && reading.unit === null && choice?.notice != null,
    });
  }
  return readings;
}

function described(quantity: string, logarithm: number): string {
  if (logarithm === 0) return quantity;
  return logarithm === 10 ? `log10 of ${quantity}` : `ln of ${quantity}`;
}
