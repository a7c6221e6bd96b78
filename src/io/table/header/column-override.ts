import { problem } from "../../../words/codes/codes.js";
import type { Problem } from "../../../words/notice.js";
import { quoted, shown } from "../../../words/quoted.js";
import type { HeaderMeaning } from "../../vocabulary/header-meaning.js";
import { readHeader } from "../../vocabulary/read-header.js";

export interface ColumnOverride {
  /** As the study writes it: a header or a 1-based position. */
  key: string;
  /** Null: the column is to be ignored. */
  reading: HeaderMeaning | null;
  /** Which of several runs side by side the column is of. */
  run?: string;
}

const ignoring = new Set(["ignore", "not used", "none", "skip", "-"]);

/**
 * Reads the column overrides of a file: "storage modulus in MPa", "storageModulus in MPa", "ignore". Gives a
 * problem that quotes the words which name no quantity or unit.
 */
export function readOverrides(columns: Record<string, string>): ColumnOverride[] | Problem {
  const overrides: ColumnOverride[] = [];
  for (const [key, value] of Object.entries(columns)) {
    const words = value.trim();
    if (ignoring.has(words.toLowerCase())) {
      overrides.push({ key, reading: null });
      continue;
    }
    const run = /,\s*run\s+([^\s,]+)\s*$/i.exec(words);
    const reading = readHeader(spaced(run === null ? words : words.slice(0, run.index)));
    if (reading.quantity === null || reading.quantity === "not used" || !reading.certain) {
      return problem(
        "io.bad-override",
        `The column override ${quoted(`${key}: ${value}`, 120)} names no quantity that the reader knows. Write for example ` +
          `"storage modulus in MPa", "temperature in °C", "frequency in Hz", "tan delta", "sample" or "ignore".`,
      );
    }
    overrides.push({ key, reading, ...(run === null ? {} : { run: `run ${run[1]}` }) });
  }
  return overrides;
}

/** "storageModulus in MPa" as "storage modulus in MPa"; a unit keeps its letter case. */
function spaced(words: string): string {
  const at = words.search(/ in /);
  const name = at < 0 ? words : words.slice(0, at);
  const unit = at < 0 ? "" : words.slice(at);
  const camel = /^[a-z]+([A-Z][a-z]+)+$/.test(name)
    ? name.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)
    : name;
  return camel + unit;
}

/** The override for a column, by its header or its position. */
export function overrideFor(
  overrides: ColumnOverride[],
  header: string,
  position: number,
): ColumnOverride | undefined {
  const wanted = shown(header);
  return (
    overrides.find(({ key }) => shown(key) === wanted && wanted !== "") ??
    overrides.find(({ key }) => key.trim() === String(position + 1))
  );
}
