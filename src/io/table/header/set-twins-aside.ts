import { notice } from "../../../words/codes/codes.js";
import type { Notice } from "../../../words/notice.js";
import { quoted } from "../../../words/quoted.js";
import { isRepeatable, type Quantity } from "../../vocabulary/quantities.js";
import type { Column } from "./column.js";

const byGeometry = new Set<Quantity>(["rebound height", "drop height", "rebound angle", "drop angle"]);

/** Whether a column is of a kind that another may make needless. */
function mayBeTwin({ quantity, reading }: Column): boolean {
  if (quantity === null) return false;
  if (reading.logarithm !== 0 || reading.isReduced || (reading.mean && isRepeatable(quantity))) return true;
  return byGeometry.has(quantity) || quantity === "set temperature" || quantity === "angular frequency";
}

/** Logarithms beside their plain column, ω beside f, means beside their single values: one of the two is enough. */
export function setTwinsAside(columns: Column[], notices: Notice[]): void {
  if (!columns.some(mayBeTwin)) return;
  const keyOf = ({ quantity, reading }: Column) => `${quantity} ${JSON.stringify(reading.tag)}`;
  const plain = new Set(columns.filter(({ reading }) => reading.logarithm === 0).map(keyOf));
  const single = new Set(columns.filter(({ reading }) => !reading.mean).map(({ quantity }) => quantity));
  const has = new Set(columns.filter(({ setAside }) => setAside === null).map(({ quantity }) => quantity));
  const measured = columns.filter(({ reading }) => !reading.isReduced).map(({ quantity }) => quantity);
  const isFrequencyMeasured = measured.some((each) => each === "frequency" || each === "angular frequency");
  for (const column of columns) {
    const { quantity, reading } = column;
    if (quantity === null || column.setAside !== null) continue;
    if (reading.isReduced && isFrequencyMeasured) {
      column.setAside = "the measured frequency is used";
    } else if (reading.logarithm !== 0 && plain.has(keyOf(column))) {
      column.setAside = "the plain column beside it is used";
    } else if (isRepeatable(quantity) && reading.mean && single.has(quantity)) {
      column.setAside = "a mean; the single values are used";
    } else if (byGeometry.has(quantity) && has.has("rebound resilience")) {
      column.setAside = "the resilience column is used";
    } else if (quantity === "set temperature" && has.has("temperature")) {
      column.setAside = "the measured temperature is used";
    } else if (quantity === "angular frequency" && has.has("frequency")) {
      column.setAside = "the frequency column is used";
      const message = `Column ${column.position + 1} (${quoted(reading.text)}) is not used: ${column.setAside}.`;
      notices.push(notice("io.column-not-unique", message));
    }
  }
}
