import type { Deformation } from "../measurement.js";

/**
 * How plainly a frequency or temperature was said. "named": by its name. "alone": a title that holds the quantity alone.
 * "described": in the words of a method or of what is called a title. "mentioned": in other words of a title; both are
 * assumptions. "earlier": before the rows of a table that lie between.
 */
export type Plainness = "named" | "alone" | "described" | "mentioned" | "earlier";

/** A frequency or a temperature that a line states, Hz or °C. */
export interface Stated {
  value: number;
  line: number;
  how: Plainness;
  /** True where neither name nor value gives a unit. */
  isUnitAssumed: boolean;
}

/** What a file says outside its tables. A rank tells how plainly a thing was said: the lower, the plainer. */
export interface Facts {
  sample: string | null;
  sampleRank: number;
  /** Samples with a letter each, "Compound A: … Compound B: …", that are named before one table: of whom it is, is not said. */
  lettered: { name: string; line: number }[];
  deformation: Exclude<Deformation, "unstated"> | null;
  deformationRank: number;
  frequency: Stated | null;
  temperature: Stated | null;
  /** The other one of two that are named alike and differ, with nothing between them. */
  otherFrequency: Stated | null;
  otherTemperature: Stated | null;
  /** To which a master curve was superposed, °C. */
  referenceTemperature: { value: number; line: number } | null;
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
  lines: { sample: number | undefined; deformation: number | undefined };
}

export const noFacts: Facts = {
  sample: null,
  sampleRank: 99,
  lettered: [],
  deformation: null,
  deformationRank: 99,
  frequency: null,
  temperature: null,
  otherFrequency: null,
  otherTemperature: null,
  referenceTemperature: null,
  strainAmplitude: null,
  heatingRate_K_min: null,
  dropHeight_m: null,
  dropAngle_deg: null,
  method: null,
  methodRank: 99,
  laboratory: null,
  lines: { sample: undefined, deformation: undefined },
};

/** One thing that a line says. */
export type Statement =
  | { about: "sample"; text: string; rank: number; isLettered?: true }
  | { about: "method"; text: string; rank: number }
  | { about: "laboratory"; text: string }
  | { about: "deformation"; mode: Exclude<Deformation, "unstated">; rank: number }
  | {
      about: "frequency" | "temperature";
      value: number;
      how?: "alone" | "described" | "mentioned";
      isUnitAssumed?: true;
    }
  | {
      about: "reference temperature" | "strain" | "heating rate" | "drop height" | "drop angle";
      value: number;
    }
  | { about: "section"; text: string }
  | { about: "passed over"; text: string; why: string }
  | { about: "remark" };

/**
 * Facts with what a line adds. A plainer statement stands against a vaguer one; of one rank a later replaces it, but
 * for two named values that differ: which one holds cannot be told, and both are kept.
 */
export function withStatements(facts: Facts, statements: readonly Statement[], line: number): Facts {
  const { sample, deformation } = facts.lines;
  const next: Facts = { ...facts, lines: { sample, deformation } };
  for (const statement of statements) {
    switch (statement.about) {
      case "sample":
        if (statement.isLettered) next.lettered = [...next.lettered, { name: statement.text, line }];
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
      case "temperature": {
        const { about } = statement;
        const stated = {
          ...statement,
          line,
          how: statement.how ?? "named",
          isUnitAssumed: statement.isUnitAssumed ?? false,
        } as const;
        const before = next[about];
        if (differs(before, stated))
          next[about === "frequency" ? "otherFrequency" : "otherTemperature"] = before;
        if (replaces(before, stated)) next[about] = stated;
        break;
      }
      case "reference temperature":
        next.referenceTemperature = { value: statement.value, line };
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

const vagueness: Record<Plainness, number> = { named: 0, alone: 1, described: 2, mentioned: 2, earlier: 3 };

function replaces(before: Stated | null, stated: Stated): boolean {
  return before === null || vagueness[stated.how] <= vagueness[before.how];
}

function differs(before: Stated | null, stated: Stated): boolean {
  if (before === null || before.how !== "named" || stated.how !== "named") return false;
  return Math.abs(before.value - stated.value) > 1e-9 * Math.abs(stated.value);
}

/**
 * What is left of facts under the rows of a table: it holds on, but any word about a thing replaces it. A name of a
 * sample, specimen, compound or material ends the one before, whatever it was called there.
 */
export function afterRows(facts: Facts): Facts {
  const earlier = (stated: Stated | null) =>
    stated === null ? null : { ...stated, how: "earlier" as const };
  return {
    ...facts,
    sampleRank: Math.max(facts.sampleRank, weakestName),
    lettered: [],
    frequency: earlier(facts.frequency),
    temperature: earlier(facts.temperature),
    otherFrequency: null,
    otherTemperature: null,
  };
}

/** Rank of a name by number; a batch is vaguer, and does not end a sample. */
const weakestName = 3.5;
