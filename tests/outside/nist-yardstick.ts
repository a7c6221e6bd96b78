import { leastSquares } from "../../src/numeric/least-squares/least-squares.js";
import nist from "./data/nist-strd-nonlinear.json" with { type: "json" };

export type NistProblem = (typeof nist.problems)[number];
export const nistProblems: NistProblem[] = nist.problems;
export const nistSource = nist.source;

export interface NistScore {
  problem: string;
  start: 1 | 2;
  /** −log10 of the relative error of the worst parameter, at most 11 (NIST certifies 11 digits). */
  digits: number;
  /** The same for the standard errors. */
  errorDigits: number;
  iterations: number;
}

/** The problem's formula as a function of the parameters and x. The formulas are the data file's own. */
export function nistModel(problem: NistProblem): (parameters: ArrayLike<number>, x: number) => number {
  const body = problem.model
    .replace(/-\(/g, "-1*(")
    .replace(/\bexp\b/g, "Math.exp")
    .replace(/\barctan\b/g, "Math.atan")
    .replace(/\bpi\b/g, "Math.PI")
    .replace(/\bb(\d)\b/g, (_, digit: string) => `p[${Number(digit) - 1}]`);
  return new Function("p", "x", `return ${body};`) as (p: ArrayLike<number>, x: number) => number;
}

/** Correct digits of the worst value, −log10(|b − c| / |c|). */
export function correctDigits(values: ArrayLike<number>, certified: ArrayLike<number>): number {
  let worst = 11;
  for (let j = 0; j < certified.length; j++) {
    const digits = -Math.log10(Math.abs(values[j] - certified[j]) / Math.abs(certified[j]));
    worst = Math.min(worst, Number.isNaN(digits) ? 0 : digits);
  }
  return Math.max(0, worst);
}

/** Our fit of one problem from one of NIST's two starts, scored against the certified values. */
export function scoreNist(problem: NistProblem, start: 1 | 2): NistScore {
  const model = nistModel(problem);
  const result = leastSquares({
    count: problem.x.length,
    start: problem.parameters.map((p) => (start === 1 ? p.start1 : p.start2)),
    residuals: (p, out) => {
      for (let i = 0; i < out.length; i++) out[i] = model(p, problem.x[i]) - problem.y[i];
    },
  });
  return {
    problem: problem.name,
    start,
    digits: correctDigits(
      result.parameters,
      problem.parameters.map((p) => p.certified),
    ),
    errorDigits: correctDigits(
      result.standardErrors,
      problem.parameters.map((p) => p.certifiedStandardDeviation),
    ),
    iterations: result.iterations,
  };
}

/** The scores as a table of text, in Markdown. */
export function yardstickTable(scores: NistScore[]): string {
  const rows = scores.map(
    (s) =>
      `| ${s.problem} | ${s.start} | ${s.digits.toFixed(1)} | ${s.errorDigits.toFixed(1)} | ${s.iterations} |`,
  );
  return [
    "| problem | start | correct digits, worst parameter | correct digits, worst standard error | iterations |",
    "|---|---|---|---|---|",
    ...rows,
  ].join("\n");
}
