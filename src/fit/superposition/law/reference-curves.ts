import elastomersFile from "../../../../reference-curves/elastomers.json" with { type: "json" };
import type { Outcome } from "../../../words/notice.js";
import { changeReference, type WlfLaw, zeroCelsius_K } from "../../spectrum/shift-law.js";

/** Named constants of the shift law that hold at the glass transition temperature. */
export interface NamedConstants {
  name: string;
  c1: number;
  c2_K: number;
}

/** One row of reference-curves/elastomers.json. */
export interface Elastomer {
  name: string;
  referenceTemperature_K: number;
  c1: number;
  c2_K: number;
  /** Dilatometric (static) glass transition temperature. */
  glassTemperature_K: number;
  source: string;
  /** True where the values were recalled and not looked up. */
  fromMemory: boolean;
}

export interface ReferenceCurves {
  universal: NamedConstants & { source: string; fromMemory: boolean };
  elastomers: Elastomer[];
}

/**
 * Checks a table of shift constants: every row has a name, a source, positive constants and a Tg above its
 * T∞. The problem names the row, what was found and what was expected.
 */
export function readReferenceCurves(file: unknown): Outcome<ReferenceCurves> {
  if (!isRecord(file) || !isRecord(file.universal) || !Array.isArray(file.elastomers)) {
    return problem('expected an object with "universal" and a list "elastomers"');
  }
  const universal = checkRow(file.universal, "universal", ["c1", "c2_K"]);
  if (universal !== null) return problem(universal);
  const names = new Set<string>();
  for (const [index, row] of file.elastomers.entries()) {
    const place = `row ${index + 1} of "elastomers"`;
    if (!isRecord(row)) return problem(`${place} is not an object`);
    const fault = checkRow(row, place, ["referenceTemperature_K", "c1", "c2_K", "glassTemperature_K"]);
    if (fault !== null) return problem(fault);
    const { name, c2_K, referenceTemperature_K, glassTemperature_K } = row as unknown as Elastomer;
    if (names.has(name)) return problem(`${place} repeats the name "${name}"`);
    names.add(name);
    if (!(glassTemperature_K > referenceTemperature_K - c2_K)) {
      return problem(
        `${place} ("${name}") has Tg ${glassTemperature_K} K at or below T∞ ${referenceTemperature_K - c2_K} K; expected a Tg above it`,
      );
    }
  }
  return { ok: true, value: file as unknown as ReferenceCurves };
}

/** The published constants that come with the program. */
export const referenceCurves: ReferenceCurves = (() => {
  const read = readReferenceCurves(elastomersFile);
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
})();

/**
 * An elastomer's WLF law in °C, with the constants as its source publishes them.
 * @example publishedLaw(referenceCurves.elastomers[0]).c1 // 3.44
 */
export function publishedLaw(row: Elastomer): WlfLaw {
  return {
    kind: "wlf",
    referenceTemperature_C: row.referenceTemperature_K - zeroCelsius_K,
    c1: row.c1,
    c2_K: row.c2_K,
    tangentBelow_C: null,
  };
}

/**
 * The constants of real elastomers, each moved to its own Tg: how far these lie apart is how far assumed
 * constants can be wrong.
 * @example constantsAtGlassTransition()[0] // { name: "polybutadiene, 96 % cis", c1: 11.3…, c2_K: 59.6 }
 */
export function constantsAtGlassTransition(curves: ReferenceCurves = referenceCurves): NamedConstants[] {
  return curves.elastomers.map((row) => {
    const { c1, c2_K } = changeReference(publishedLaw(row), row.glassTemperature_K - zeroCelsius_K);
    return { name: row.name, c1, c2_K };
  });
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function checkRow(row: Record<string, unknown>, place: string, numbers: string[]): string | null {
  for (const key of ["name", "source"]) {
    const value = row[key];
    if (typeof value !== "string" || value.trim() === "") {
      return `${place} has ${key} ${JSON.stringify(value)}; expected a text`;
    }
  }
  for (const key of numbers) {
    const value = row[key];
    if (typeof value !== "number" || !Number.isFinite(value) || value <= 0) {
      return `${place} has ${key} ${JSON.stringify(value)}; expected a number above zero`;
    }
  }
  if (typeof row.fromMemory !== "boolean") {
    return `${place} has fromMemory ${JSON.stringify(row.fromMemory)}; expected true or false`;
  }
  return null;
}

function problem(what: string): { ok: false; problem: { code: string; message: string } } {
  return {
    ok: false,
    problem: {
      code: "fit.reference-curves",
      message: `The table of shift constants cannot be used: ${what}. Correct that entry.`,
    },
  };
}
