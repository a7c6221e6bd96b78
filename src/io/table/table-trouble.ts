import { problem } from "../../words/codes/codes.js";
import type { Problem } from "../../words/notice.js";
import { quoted } from "../../words/quoted.js";
import { columnInStudy } from "../study-example.js";
import { isLabel } from "../vocabulary/quantities.js";
import { rememberedHeader } from "./header/column.js";
import type { TableContents } from "./table-contents.js";

/** Why a text or sheet gives nothing, where it gives nothing. */
export function tableTrouble(reading: TableContents): Problem | null {
  const { blocks, problems, likelyHeader, headers } = reading;
  if (problems.length > 0 && blocks.length === 0) return problems[0];
  if (blocks.some(({ rows }) => rows > 0)) return null;
  if (headers > 0) {
    const [skipped] = reading.skipped.list();
    if (skipped !== undefined) {
      return problem(
        "io.no-rows",
        `No row under the header holds usable numbers (line ${skipped.line}: ${skipped.why}); expected at least two rows of ` +
          `numbers. Export the test again.`,
        skipped.line,
      );
    }
    return problem(
      "io.no-rows",
      "There is a header, but no row of numbers under it; expected the measured values. Export the test again.",
    );
  }
  if (likelyHeader !== null) {
    const { cells, line } = likelyHeader;
    const named = cells.filter((cell) => cell !== "");
    const known = named.filter(isKnown);
    return problem(
      "io.no-known-column",
      `No known column for a modulus or a rebound value. The row that looks like a header names ` +
        `${named
          .slice(0, 8)
          .map((cell) => quoted(cell, 30))
          .join(", ")}${named.length > 8 ? ", …" : ""}` +
        `${
          known.length > 0
            ? `; understood: ${known
                .slice(0, 4)
                .map((cell) => quoted(cell, 30))
                .join(", ")}`
            : ""
        }. Expected headers such as ` +
        `"Temperature (°C)", "Frequency (Hz)", "Storage modulus (MPa)", "Loss modulus (MPa)" or "Rebound resilience (%)". ` +
        `Name the columns in the export, or state them in study.yaml, as in ${exampleFor(named)}`,
      line,
    );
  }
  return problem(
    "io.no-known-column",
    "No table was found: no row names columns that are known, such as a temperature, a frequency and two moduli, or a rebound value. " +
      `Export with a header row, or state the columns by number in study.yaml, as in ${columnInStudy(1, "temperature in °C")}`,
  );
}

function isKnown(cell: string): boolean {
  const { quantity } = rememberedHeader(cell);
  return quantity !== null && quantity !== "not used" && !isLabel(quantity);
}

/** A column that is not understood yet and what its unit says it may hold; one by no name where none says so. */
function exampleFor(named: string[]): string {
  const unread = named.filter((cell) => !isKnown(cell)).map((cell) => rememberedHeader(cell));
  const modulus = unread.find(({ unit }) => unit?.dimension === "stress");
  if (modulus !== undefined) return columnInStudy(modulus.text, `storage modulus in ${modulus.unitText}`);
  const temperature = unread.find(({ unit }) => unit?.dimension === "temperature");
  if (temperature !== undefined)
    return columnInStudy(temperature.text, `temperature in ${temperature.unitText}`);
  return columnInStudy("header of the column", "storage modulus in MPa");
}
