import type { StatedLine } from "../measurement.js";
import type { Statement } from "../table/facts.js";
import type { SaidLine } from "../table/table-contents.js";

/** What lines outside the tables of a source state, for people and for programs. */
export function statedLines(said: readonly SaidLine[], sheet: string | null): StatedLine[] {
  return said.flatMap(({ line, statement }) => {
    const shown = shownStatement(statement);
    return shown === null ? [] : [{ line, sheet, ...shown }];
  });
}

function shownStatement(statement: Statement): Omit<StatedLine, "line" | "sheet"> | null {
  switch (statement.about) {
    case "passed over":
      return { fact: null, value: statement.text, why: statement.why };
    case "frequency":
    case "temperature": {
      const unit = statement.about === "frequency" ? "Hz" : "°C";
      return { fact: statement.about, value: `${number(statement.value)} ${unit}`, why: how(statement) };
    }
    case "reference temperature":
      return { fact: "reference temperature", value: `${number(statement.value)} °C`, why: null };
    case "strain":
      return { fact: "strain amplitude", value: `${number(100 * statement.value)} %`, why: null };
    case "heating rate":
      return { fact: "heating rate", value: `${number(statement.value)} K/min`, why: null };
    case "drop height":
      return { fact: "drop height", value: `${number(1000 * statement.value)} mm`, why: null };
    case "drop angle":
      return { fact: "drop angle", value: `${number(statement.value)}°`, why: null };
    case "deformation":
      return { fact: "deformation", value: statement.mode, why: null };
    case "sample":
    case "method":
    case "laboratory":
      return { fact: statement.about, value: statement.text, why: null };
    default:
      return null;
  }
}

function how({ how, isUnitAssumed }: { how?: string; isUnitAssumed?: true }): string | null {
  if (isUnitAssumed) return "no unit stated";
  if (how === "described") return "in the words of a title or a method, an assumption";
  return how === "mentioned" ? "beside other words of a title, an assumption" : null;
}

function number(value: number): string {
  return String(Number(value.toPrecision(6))).replace("-", "−");
}
