import type { z } from "zod";
import type { Material } from "../../fit/material.js";
import type { RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import type { ReboundMeasurement } from "../../io/measurement.js";
import { exp } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { square } from "../../numeric/elementary/power.js";
import { leastOver } from "../../numeric/least-over.js";
import { normal95, studentT95 } from "../../numeric/statistics/confidence.js";
import { notice } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { percentText, temperatureText } from "../../words/quantity-text.js";
import { measuredReach } from "../cold/measured-reach.js";
import { tensileSpectrumAt } from "../contact/tensile-spectrum.js";
import type { reboundCalibrationSchema } from "../outlook-schema.js";
import type { PredictionSettings } from "../prediction-settings.js";
import type { ImpactContact } from "../use.js";
import { withLoss } from "./impact-strain.js";
import type { PooledRebound } from "./pool-rebound.js";
import { predictRebound } from "./rebound.js";
import { reduceRebound } from "./rebound-readings.js";

/** Factors on contact stiffness and loss, found on a compound's own rebound readings; 1 for what is not calibrated. */
export type ReboundCalibration = z.infer<typeof reboundCalibrationSchema>;

export type CalibrationPoint = ReboundCalibration["readings"][number];

/** The factor is sought between 1/10 and 10, on this many steps, with R interpolated between them. */
const farthestFactor = 10;
const steps = 40;

/**
 * Calibrates the simulated impact on measured rebound: a factor on the contact stiffness (so on the contact time), on
 * the loss, or both, which bring predicted and measured R together in least squares: whichever predicts the readings left
 * out best, with that error. Readings outside what the sweep reached are left out and named; null with a notice where
 * nothing is left, or a factor runs into its limit.
 * @example calibrateRebound(exampleMaterial(), [], pendulumImpact, defaultPredictionSettings).notices[0].code // "predict.rebound-not-calibrated"
 */
export function calibrateRebound(
  material: Material,
  readings: ReboundMeasurement[],
  impact: ImpactContact,
  settings: PredictionSettings,
): { calibration: ReboundCalibration | null; notices: Notice[] } {
  const { method, points, notices } = reduceRebound(readings, impact.method);
  const { model } = material;
  if (model === null) {
    const message = `Rebound of ${material.compound} cannot be predicted without a sweep, so its readings calibrate nothing.`;
    return {
      calibration: null,
      notices: [...notices, notice("predict.rebound-not-calibrated", message)],
    };
  }
  const curves: ReboundCurve[] = [];
  for (const point of points) {
    const curve = reboundOverFactor(model, point, impact, settings);
    if (curve.inside) curves.push(curve);
    else {
      const message = `The rebound reading at ${temperatureText(point.temperature_C, 0)} (line ${point.line} of ${point.path}) lies outside what the sweep of ${material.compound} reached.`;
      notices.push({ ...notice("predict.rebound-readings-skipped", message), path: point.path });
    }
  }
  if (curves.length === 0) {
    const message = `No rebound reading of ${material.compound} can be compared with the prediction; it stands uncalibrated.`;
    return {
      calibration: null,
      notices: [...notices, notice("predict.rebound-not-calibrated", message)],
    };
  }

  const tried = ways
    .map((way) => ({ way, fit: fitWay(curves, way), error: leaveOneOut(curves, way) }))
    .filter(({ way, fit }) => curves.length >= way.fewest && !isAtLimit(curves, fit));
  const limit = (farthest: number) => Number(exp(reachOf(curves) * ln(farthest)).toPrecision(2));
  if (tried.length === 0) {
    const message = `The rebound readings of ${material.compound} fix neither the contact stiffness nor the loss: every best factor, or its interval, runs into its limit (1/${limit(farthestFactor)} to ${limit(farthestFactor)} on the stiffness, 1/${limit(farthestLoss)} to ${limit(farthestLoss)} on the loss). No calibration is used.`;
    notices.push(notice("predict.calibration-weak", message));
    return { calibration: null, notices };
  }
  const { way, fit } = tried.reduce((a, b) => ((b.error ?? 1) < clearlyBetter * (a.error ?? 1) ? b : a));
  const { logFactor, logLoss } = fit;
  const { logStandardError, halfWidth, lossStandardError } = uncertainty(curves, fit, way);
  if (curves.length === 1) {
    const what = curves[0].point.tests > 1 ? "Rebound at one temperature" : "One rebound reading";
    const [sweepAlone, measured] = [reboundAt(curves[0], 0), curves[0].point.fraction];
    const message = `${what} calibrates ${material.compound} (${percentText(measured, 0)}, where the sweep alone gives ${percentText(sweepAlone, 0)}): its error cannot be checked.`;
    notices.push(notice("predict.calibration-single-reading", message));
  }
  const leftOut = curves.map((curve, i) => {
    if (curves.length < 2) return null;
    return fittedAt(
      curve,
      fitWay(
        curves.filter((_, j) => j !== i),
        way,
      ),
    );
  });
  const calibration: ReboundCalibration = {
    compound: material.compound,
    method,
    stiffnessFactor: exp(logFactor),
    low: exp(logFactor - halfWidth),
    high: exp(logFactor + halfWidth),
    logStandardError,
    lossFactor: exp(logLoss),
    lossLogStandardError: lossStandardError,
    leaveOneOutError:
      curves.length < 2 ? null : rootMeanSquare(curves.map((curve, i) => leftOut[i]! - curve.point.fraction)),
    uncalibratedError: rootMeanSquare(curves.map((curve) => reboundAt(curve, 0) - curve.point.fraction)),
    readings: curves.map((curve, i) => ({
      temperature_C: curve.point.temperature_C,
      measuredFraction: curve.point.fraction,
      measuredLow: curve.point.low,
      measuredHigh: curve.point.high,
      tests: curve.point.tests,
      laboratories: curve.point.laboratories,
      calibratedFraction: fittedAt(curve, fit),
      uncalibratedFraction: reboundAt(curve, 0),
      leftOutFraction: leftOut[i],
      path: curve.point.path,
      line: curve.point.line,
    })),
  };
  return { calibration, notices };
}

/** What a calibration moves: contact stiffness (so contact time), which moves R only where tan δ changes with frequency; the loss; or both. */
interface Way {
  stiffness: boolean;
  loss: boolean;
  /** Readings that it takes. */
  fewest: number;
}

/** The loss, or both, only where they predict the readings left out by so much better. */
const clearlyBetter = 0.6;

const ways: Way[] = [
  { stiffness: true, loss: false, fewest: 1 },
  { stiffness: false, loss: true, fewest: 1 },
  { stiffness: true, loss: true, fewest: 3 },
];

interface WayFit {
  logFactor: number;
  /** ln of the factor on the loss: R becomes R to its power. */
  logLoss: number;
}

/** The loss is sought between 1/4 and 4 times that of the sweep. */
const farthestLoss = 4;
const lossSteps = 24;

const fittedAt = (curve: ReboundCurve, { logFactor, logLoss }: WayFit) =>
  withLoss(Math.max(0, reboundAt(curve, logFactor)), exp(logLoss));

function fitWay(curves: ReboundCurve[], way: Way): WayFit {
  if (!way.loss) return { logFactor: bestLogFactor(curves), logLoss: 0 };
  const error = (fit: WayFit) =>
    curves.reduce((sum, curve) => sum + square(fittedAt(curve, fit) - curve.point.fraction), 0);
  const limit = ln(farthestLoss);
  const at = (logLoss: number): WayFit => ({
    logFactor: way.stiffness ? bestLogFactor(curves, exp(logLoss)) : 0,
    logLoss,
  });
  return at(leastOver((logLoss) => error(at(logLoss)), -limit, limit, lossSteps, 1e-6));
}

function leaveOneOut(curves: ReboundCurve[], way: Way): number | null {
  if (curves.length < Math.max(2, way.fewest)) return null;
  return rootMeanSquare(
    curves.map((curve, i) => {
      const others = curves.filter((_, j) => j !== i);
      return fittedAt(curve, fitWay(others, way)) - curve.point.fraction;
    }),
  );
}

/** How far a factor may go, as a share of its limits' logarithms: what one test says no second bears out. */
const reachOf = (curves: ReboundCurve[]) => (curves.length > 1 || curves[0].point.tests > 1 ? 1 : 0.5);

/** A factor at its limit, or one whose interval passes it, is no calibration. */
function isAtLimit(curves: ReboundCurve[], fit: WayFit): boolean {
  const { logFactor, logLoss } = fit;
  const [farthestLogFactor, farthestLogLoss] = [logFarthest, ln(farthestLoss)].map(
    (farthest) => reachOf(curves) * farthest,
  );
  if (Math.abs(logFactor) > farthestLogFactor - 1e-4 || Math.abs(logLoss) > farthestLogLoss - 1e-4)
    return true;
  const movesStiffness = logFactor !== 0;
  const { halfWidth, lossStandardError } = uncertainty(curves, fit, {
    stiffness: movesStiffness,
    loss: logLoss !== 0,
    fewest: 1,
  });
  if (movesStiffness && Math.abs(logFactor) + halfWidth > farthestLogFactor) return true;
  return Math.abs(logLoss) + normal95 * lossStandardError > farthestLogLoss;
}

/** R predicted at a reading's temperature over the log of the stiffness factor, evenly spaced. */
interface ReboundCurve {
  point: PooledRebound;
  fractions: Float64Array;
  /** Whether the contact lies inside what was measured. */
  inside: boolean;
}

const logFarthest = ln(farthestFactor);
const logStep = (2 * logFarthest) / steps;
const logFactorAt = (i: number) => -logFarthest + i * logStep;

function reboundOverFactor(
  model: RelaxationModel,
  point: PooledRebound,
  impact: ImpactContact,
  settings: PredictionSettings,
): ReboundCurve {
  const spectrum = tensileSpectrumAt(model, point.temperature_C, settings);
  const predictions = Array.from({ length: steps + 1 }, (_, i) =>
    predictRebound(spectrum, impact, settings, exp(logFactorAt(i))),
  );
  const frequency_Hz = 1 / (2 * predictions[steps / 2].contactTime_s);
  const reach = measuredReach(model, point.temperature_C, frequency_Hz, frequency_Hz);
  return {
    point,
    fractions: Float64Array.from(predictions, ({ fraction }) => fraction),
    inside: reach.outsideShare === 0 && reach.temperatureExcess_K <= settings.lawReach_K,
  };
}

/** Parabola through the three nearest table points. */
function reboundAt(curve: ReboundCurve, logFactor: number): number {
  const at = (logFactor + logFarthest) / logStep;
  const middle = Math.min(steps - 1, Math.max(1, Math.round(at)));
  const p = at - middle;
  const a = curve.fractions[middle - 1];
  const b = curve.fractions[middle];
  const c = curve.fractions[middle + 1];
  return b + (p * (c - a)) / 2 + (p * p * (a - 2 * b + c)) / 2;
}

/** Least squares over the factor. */
function bestLogFactor(curves: ReboundCurve[], loss = 1): number {
  const error = (logFactor: number) => {
    let sum = 0;
    for (const curve of curves) {
      const rebound = reboundAt(curve, logFactor);
      const fraction = loss === 1 ? rebound : withLoss(Math.max(0, rebound), loss);
      sum += square(fraction - curve.point.fraction);
    }
    return sum;
  };
  return leastOver(error, -logFarthest, logFarthest, steps, 1e-7);
}

/** A reading's own scatter where one reading leaves no residual: 1 % of resilience (common practice). */
const readingScatter = 0.01;

/**
 * Linearised least squares: s² = Σ r²/(n − 1), se² = s²/Σ (dR/d ln k)²; or what the spread between the tests of
 * each temperature makes of it, where that is more. One laboratory's bias is the same at all temperatures, so the
 * spread between laboratories adds up over them; that between tests adds up in squares.
 */
function uncertainty(curves: ReboundCurve[], fit: WayFit, way: Way) {
  const { logFactor } = fit;
  const nudge = logStep / 2;
  const fitted = curves.map((curve) => fittedAt(curve, fit));
  const stiffnessSlopes = curves.map(
    (curve) => (reboundAt(curve, logFactor + nudge) - reboundAt(curve, logFactor - nudge)) / (2 * nudge),
  );
  // d(R^λ)/d ln λ = R^λ ln R^λ.
  const lossSlopes = fitted.map((fraction) => (fraction > 0 ? fraction * ln(fraction) : 0));
  const squares = curves.reduce((sum, { point }, i) => sum + square(fitted[i] - point.fraction), 0);
  const degreesOfFreedom = curves.length - 1;
  const scatter =
    degreesOfFreedom > 0
      ? Math.sqrt(squares / degreesOfFreedom) * (studentT95(degreesOfFreedom) / normal95)
      : readingScatter;
  const points = curves.map(({ point }) => point);
  const error = logErrorOf(stiffnessSlopes, scatter, points) ?? Number.POSITIVE_INFINITY;
  const logStandardError = way.stiffness ? Math.min(error, logFarthest) : 0;
  return {
    logStandardError,
    halfWidth: normal95 * logStandardError,
    lossStandardError: way.loss ? (logErrorOf(lossSlopes, scatter, points) ?? 0) : 0,
  };
}

/** Standard error of the log of a factor that moves R by `slopes`; null where it moves none. */
function logErrorOf(slopes: number[], scatter: number, points: PooledRebound[]): number | null {
  const squares = slopes.reduce((sum, slope) => sum + square(slope), 0);
  if (squares === 0) return null;
  let betweenTests = 0;
  let betweenLaboratories = 0;
  for (const [i, { between, halfWidth }] of points.entries()) {
    const share = (Math.abs(slopes[i]) * halfWidth) / normal95;
    if (between === "laboratories") betweenLaboratories += share;
    else betweenTests += square(share);
  }
  const between = Math.sqrt(betweenTests + square(betweenLaboratories));
  return Math.max(scatter / Math.sqrt(squares), between / squares);
}

function rootMeanSquare(values: number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}
