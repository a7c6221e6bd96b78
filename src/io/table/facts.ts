import type { Deformation } from "../measurement.js";

/** What a file says outside its tables. A rank tells how plainly a thing was said: the lower, the plainer. */
export interface Facts {
  sample: string | null;
  sampleRank: number;
  deformation: Exclude<Deformation, "unstated"> | null;
  deformationRank: number;
  frequency_Hz: number | null;
  temperature_C: number | null;
  /** Fraction. */
  strainAmplitude: number | null;
  heatingRate_K_min: number | null;
  /** For rebound tables that give heights or angles of rebound only; m and degrees. */
  dropHeight_m: number | null;
  dropAngle_deg: number | null;
  method: string | null;
  methodRank: number;
  laboratory: string | null;
  /** Line on which each was said, for notices. */
  lines: { frequency?: number; temperature?: number; sample?: number; deformation?: number };
}

export const noFacts: Facts = {
  sample: null,
  sampleRank: 99,
  deformation: null,
  deformationRank: 99,
  frequency_Hz: null,
  temperature_C: null,
  strainAmplitude: null,
  heatingRate_K_min: null,
  dropHeight_m: null,
  dropAngle_deg: null,
  method: null,
  methodRank: 99,
  laboratory: null,
  lines: {},
};

/** One thing that a line says. */
export type Statement =
  | { about: "sample" | "method"; text: string; rank: number }
  | { about: "laboratory"; text: string }
  | { about: "deformation"; mode: Exclude<Deformation, "unstated">; rank: number }
  | {
      about: "frequency" | "temperature" | "strain" | "heating rate" | "drop height" | "drop angle";
      value: number;
    }
  | { about: "section"; text: string }
  | { about: "remark" };

/** Facts with what a line adds; a plainer statement stands against a vaguer one, a later one of its rank replaces it. */
export function withStatements(facts: Facts, statements: readonly Statement[], line: number): Facts {
  const next: Facts = { ...facts, lines: { ...facts.lines } };
  for (const statement of statements) {
    switch (statement.about) {
      case "sample":
        if (statement.rank > next.sampleRank) break;
        next.sample = statement.text;
        next.sampleRank = statement.rank;
        next.lines.sample = line;
        break;
      case "method":
        if (statement.rank > next.methodRank) break;
        next.method = statement.text;
        next.methodRank = statement.rank;
        break;
      case "laboratory":
        next.laboratory = statement.text;
        break;
      case "deformation":
        if (statement.rank > next.deformationRank) break;
        next.deformation = statement.mode;
        next.deformationRank = statement.rank;
        next.lines.deformation = line;
        break;
      case "frequency":
        next.frequency_Hz = statement.value;
        next.lines.frequency = line;
        break;
      case "temperature":
        next.temperature_C = statement.value;
        next.lines.temperature = line;
        break;
      case "strain":
        next.strainAmplitude = statement.value;
        break;
      case "heating rate":
        next.heatingRate_K_min = statement.value;
        break;
      case "drop height":
        next.dropHeight_m = statement.value;
        break;
      case "drop angle":
        next.dropAngle_deg = statement.value;
        break;
      default:
        break;
    }
  }
  return next;
}
