import { problem } from "../../words/codes/codes.js";
import { quoted } from "../../words/quoted.js";
import type { Facts } from "../table/facts.js";
import { Rejection } from "./rejection.js";

/** The sample that lines before a table state; null where none does. Throws where they name several, with a letter each. */
export function statedSample({ sample, lettered }: Facts): string | null {
  const names = new Set(lettered.map(({ name }) => name));
  if (names.size < 2) return sample;
  const said = lettered.map(({ name, line }) => `line ${line} names ${quoted(name, 40)}`);
  throw new Rejection(
    problem(
      "io.samples-differ",
      `Lines before the table name several samples: ${said.join(", ")}; expected one, or a column that says whose each row is. Take the others out of the export, or state sample for the file in study.yaml.`,
      lettered[1].line,
    ),
  );
}
