import { foldText } from "../../vocabulary/fold-text.js";
import type { Tag } from "../../vocabulary/header-meaning.js";
import { dimensionsOf, isResponse } from "../../vocabulary/quantities.js";
import { toSI, type Unit } from "../../vocabulary/units.js";
import { valuesWithUnit } from "../../vocabulary/value-with-unit.js";
import { rememberedHeader } from "./column.js";

/** "10 Hz", "-20 °C" or "f = 10 Hz": a quantity alone in a cell, with at most its own name. A range or a limit is none. */
export function tagOf(text: string): Tag | null {
  if (text.length > 40) return null;
  const folded = foldText(text);
  const values = valuesWithUnit(folded);
  if (values.length !== 1) return null;
  const [{ value, unit, start, end }] = values;
  const name = `${folded.slice(0, start)} ${folded.slice(end)}`.replace(/[=:@()[\]]/g, " ").trim();
  if (name !== "" && !isNameOf(name, unit)) return null;
  const state = toSI(value, unit);
  if (unit.dimension === "frequency" && state > 0) return { frequency_Hz: state };
  if (unit.dimension === "temperature" && state >= -273.15) return { temperature_C: state };
  return null;
}

/** Whether words beside a value are its own name, or that of a quantity that was measured there. */
function isNameOf(name: string, unit: Unit): boolean {
  if (/^(?:at|bei|a|à|em|step|@)$/i.test(name)) return true;
  const { quantity, certain } = rememberedHeader(name.replace(/(?:^| )(?:at|bei|à|em)$/i, ""));
  if (quantity === null || !certain) return false;
  return isResponse(quantity) || dimensionsOf[quantity].includes(unit.dimension);
}
