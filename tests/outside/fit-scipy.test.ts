import { fcnnlsVector } from "ml-fcnnls";
import { Matrix } from "ml-matrix";
import { sgg } from "ml-savitzky-golay-generalized";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { fitKraus } from "../../src/fit/network/kraus-curve.js";
import { maxwellModulus } from "../../src/fit/spectrum/relaxation-model.js";
import { isothermsOf } from "../../src/fit/superposition/isotherms/isotherms.js";
import { areaShift, risingCurve } from "../../src/fit/superposition/shift/area-shift.js";
import { fitSuperposition, middleIsotherm } from "../../src/fit/superposition/shift/superposition-fit.js";
import { leastSquares } from "../../src/numeric/least-squares/least-squares.js";
import { nnls } from "../../src/numeric/non-negative/nnls.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";
import {
  broadSpectrum,
  isothermSweep,
  knownLaws,
  knownModulus,
  lawAtGlass,
  sharpSpectrum,
  sweepFrequencies_Hz,
  temperaturesAbove,
  truthOf,
} from "../fit/synthetic-data.js";
import { filledRubber, makeStrainSweep } from "../make/kraus-sweep.js";
import { nistModel, nistProblems } from "./nist-yardstick.js";
import { type RunningPython, startPython, withoutSciPy } from "./python.js";

interface System {
  name: string;
  matrix: number[][];
  rhs: number[];
}

/** Random systems and Maxwell kernels (columns nearly parallel) on relative residuals. */
function systems(): System[] {
  const random = seededRandom(11);
  const out: System[] = [];
  for (const [rows, columns] of [
    [30, 10],
    [60, 60],
    [200, 40],
    [416, 120],
  ]) {
    out.push({
      name: `random ${rows} × ${columns}`,
      matrix: Array.from({ length: rows }, () => Array.from({ length: columns }, () => random.normal())),
      rhs: Array.from({ length: rows }, () => random.normal()),
    });
  }
  for (const modesPerDecade of [3, 5, 10]) {
    for (const noise of [0, 0.01]) {
      const omega = Array.from({ length: 208 }, (_, i) => 10 ** (-6 + (12 * i) / 207));
      const times = Array.from(
        { length: 12 * modesPerDecade + 1 },
        (_, j) => 10 ** (-6 + j / modesPerDecade),
      );
      const data = omega.map((w) => {
        const [storage, loss] = knownModulus(sharpSpectrum(), w);
        return [storage * (1 + noise * random.normal()), loss * (1 + noise * random.normal())];
      });
      const storageRows = omega.map((w, i) => [
        ...times.map((t) => (w * t) ** 2 / (1 + (w * t) ** 2) / data[i][0]),
        1 / data[i][0],
      ]);
      const lossRows = omega.map((w, i) => [
        ...times.map((t) => (w * t) / (1 + (w * t) ** 2) / data[i][1]),
        0,
      ]);
      // Moduli in units of 1e6 Pa keep the columns near one.
      out.push({
        name: `Maxwell kernel, ${modesPerDecade} modes a decade, noise ${noise}`,
        matrix: [...storageRows, ...lossRows].map((row) => row.map((value) => value * 1e6)),
        rhs: new Array(416).fill(1),
      });
    }
  }
  return out;
}

function columnsOf(matrix: number[][]): { rows: number; columns: number; values: Float64Array } {
  const rows = matrix.length;
  const columns = matrix[0].length;
  const values = new Float64Array(rows * columns);
  for (let j = 0; j < columns; j++) for (let i = 0; i < rows; i++) values[j * rows + i] = matrix[i][j];
  return { rows, columns, values };
}

function largestDifference(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let difference = 0;
  let scale = 0;
  for (let j = 0; j < b.length; j++) {
    difference = Math.max(difference, Math.abs(a[j] - b[j]));
    scale = Math.max(scale, Math.abs(b[j]));
  }
  return difference / scale;
}

describe.skipIf(withoutSciPy)("fits against SciPy", { timeout: 120_000 }, () => {
  let python: RunningPython;
  beforeAll(() => {
    python = startPython("scipy_fit.py");
  });
  afterAll(() => python?.end());

  it("non-negative least squares agrees with scipy.optimize.nnls to 1e-8", async () => {
    const given = systems();
    const answers = await python.ask<{ solution: number[]; norm: number }[]>({
      task: "nnls",
      systems: given,
    });
    const table: string[] = [];
    for (const [k, { name, matrix, rhs }] of given.entries()) {
      const columns = columnsOf(matrix);
      const target = Float64Array.from(rhs);
      const own = nnls(columns, target);
      expect(largestDifference(own.solution, answers[k].solution), name).toBeLessThan(1e-8);
      expect(Math.sqrt(own.residualSumOfSquares) / answers[k].norm - 1, name).toBeLessThan(1e-10);
      const library = new Matrix(matrix);
      const options = { gradientTolerance: 1e-12 };
      const theirs = fcnnlsVector(library, rhs, options).K.to1DArray();
      table.push(
        `${name.padEnd(46)} own ${largestDifference(own.solution, answers[k].solution).toExponential(0)} ` +
          `ml-fcnnls ${largestDifference(theirs, answers[k].solution).toExponential(0)}`,
      );
    }
    console.log(`Largest difference from SciPy's nnls:\n${table.join("\n")}`);
  });

  it("a warm start ends at the same solution as a cold one", () => {
    for (const { name, matrix, rhs } of systems()) {
      const columns = columnsOf(matrix);
      const cold = nnls(columns, Float64Array.from(rhs));
      const warm = nnls(
        columns,
        Float64Array.from(rhs),
        Array.from({ length: columns.columns }, (_, j) => j).filter((j) => j % 3 === 0),
      );
      expect(largestDifference(warm.solution, cold.solution), name).toBeLessThan(1e-8);
    }
  });

  it("least squares agrees with scipy.optimize.least_squares on NIST's problems to six digits", async () => {
    // Problems on which SciPy's own answer has the certified digits; all of NIST's stand in fit-nist.test.ts.
    const names = [
      "Misra1a",
      "Chwirut2",
      "Gauss1",
      "DanWood",
      "BoxBOD",
      "MGH17",
      "Rat43",
      "Eckerle4",
      "Thurber",
    ];
    const problems = nistProblems.filter((problem) => names.includes(problem.name));
    expect(problems).toHaveLength(names.length);
    const answers = await python.ask<{ parameters: number[]; residualSumOfSquares: number }[]>({
      task: "least_squares",
      problems,
    });
    for (const [k, problem] of problems.entries()) {
      const model = nistModel(problem);
      const own = leastSquares({
        count: problem.x.length,
        start: problem.parameters.map((p) => p.start2),
        residuals: (p, out) => {
          for (let i = 0; i < out.length; i++) out[i] = model(p, problem.x[i]) - problem.y[i];
        },
      });
      for (let j = 0; j < own.parameters.length; j++) {
        expect(own.parameters[j] / answers[k].parameters[j] - 1, `${problem.name} b${j + 1}`).toBeCloseTo(
          0,
          6,
        );
      }
      // Ours is never the worse minimum.
      expect(own.residualSumOfSquares / answers[k].residualSumOfSquares - 1).toBeLessThan(1e-9);
    }
  });

  it("the joint fit of law and spectrum agrees with least_squares around nnls", async () => {
    const law = knownLaws[2];
    const measured = isothermSweep(
      temperaturesAbove(law.glassTemperature_C),
      sweepFrequencies_Hz,
      truthOf(broadSpectrum(), lawAtGlass(law)),
      { noise: 0.01, seed: 5 },
    );
    const set = isothermsOf([measured], "shear");
    const reference = middleIsotherm(set, Number.NEGATIVE_INFINITY);
    const fit = fitSuperposition(set, reference, { verticalShift: "off", law: "wlf" })!;
    expect(fit.lossTrust).toBe(1);
    expect(fit.chosen.scatter_decades).toBe(0);
    const [slope, bend] = fit.chosen.parameters;
    const answer = await python.ask<{ slope: number; bend: number; residualSumOfSquares: number }>({
      task: "superposition",
      omega: Array.from(set.frequency_Hz, (f) => 2 * Math.PI * f),
      temperature: Array.from(set.temperature_C),
      storage: Array.from(set.storageModulus_Pa, (m) => m / 1e6),
      loss: Array.from(set.lossModulus_Pa, (m) => m / 1e6),
      times: Array.from(fit.reduced.times_s),
      reference: set.isotherms[reference].temperature_C,
      start: [1.1 * slope, 0.9 * bend],
    });
    // Both stop within a small part of the standard error (0.2 to 0.3 %) of the minimum.
    expect(slope / answer.slope - 1).toBeCloseTo(0, 3);
    expect(bend / answer.bend - 1).toBeCloseTo(0, 3);
  });

  it("Kraus's curve through noisy strain sweeps agrees with scipy.optimize.curve_fit to four digits, a hundredth of what the noise leaves open", async () => {
    const sweeps = [1, 2, 3, 4, 5].map((seed) => makeStrainSweep(filledRubber, { noise: 0.01, seed }));
    const answers = await python.ask<number[][]>({
      task: "kraus",
      sweeps: sweeps.map((sweep) => ({
        strain: Array.from(sweep.strainAmplitude!),
        storage: Array.from(sweep.storageModulus_Pa),
      })),
    });
    for (const [k, sweep] of sweeps.entries()) {
      const own = fitKraus(sweep.strainAmplitude!, sweep.storageModulus_Pa)!;
      const values = [own.storageAtRest, own.storageAtLarge, own.criticalStrain, own.exponent];
      for (const [j, value] of values.entries()) expect(value / answers[k][j]).toBeCloseTo(1, 4);
    }
  });

  it("smoothed derivatives of ml-savitzky-golay-generalized agree with scipy.signal.savgol_filter", async () => {
    const random = seededRandom(2);
    const step = 0.5;
    const x = Array.from({ length: 60 }, (_, i) => i * step);
    const y = x.map((v) => Math.tanh((v - 15) / 4) + 0.01 * random.normal());
    for (const derivative of [0, 1]) {
      const own = sgg(y, step, { windowSize: 9, polynomial: 3, derivative });
      const theirs = await python.ask<number[]>({
        task: "savgol",
        y,
        window: 9,
        order: 3,
        derivative,
        step,
      });
      expect(theirs).toHaveLength(own.length);
      for (let i = 0; i < own.length; i++) expect(own[i]).toBeCloseTo(theirs[i], 9);
    }
  });

  it("the closed-form area shift agrees with scipy.integrate.quad over the same polylines", async () => {
    const random = seededRandom(8);
    const truth = truthOf(broadSpectrum(), lawAtGlass(knownLaws[4]));
    const curve = (t: number) => {
      const moduli = sweepFrequencies_Hz.map((f) =>
        Math.log10(truth(t, f)[0] * (1 + 0.02 * random.normal())),
      );
      return risingCurve(sweepFrequencies_Hz.map(Math.log10), moduli);
    };
    const pairs = [-55, -45, -30, -10].map((t) => ({ first: curve(t), second: curve(t + 5) }));
    const plain = ({ x, y }: ReturnType<typeof risingCurve>) => [Array.from(x), Array.from(y)];
    const answers = await python.ask<number[]>({
      task: "area",
      pairs: pairs.map(({ first, second }) => ({ first: plain(first), second: plain(second) })),
    });
    expect(answers).toHaveLength(4);
    for (const [i, { first, second }] of pairs.entries()) {
      expect(areaShift(first, second).shift).toBeCloseTo(answers[i], 7);
    }
  });

  it("the loss modulus is the cosine transform of the relaxation modulus (quad)", async () => {
    const spectrum = sharpSpectrum();
    const omega = [1e-6, 1e-3, 1, 100];
    const answer = await python.ask<number[]>({
      task: "loss_from_relaxation",
      times: Array.from(spectrum.times_s),
      moduli: Array.from(spectrum.moduli_Pa),
      omega,
    });
    for (const [i, w] of omega.entries()) {
      expect(maxwellModulus(spectrum, w).lossModulus_Pa / answer[i] - 1).toBeCloseTo(0, 6);
    }
  });
});
