import type { Material } from "../fit/material.js";
import type { ReboundMeasurement } from "../io/measurement.js";
import { normal95 } from "../numeric/statistics/confidence.js";
import { noticeIn } from "../words/codes/codes.js";
import type { Notice } from "../words/notice.js";
import { percentText, statedTemperature } from "../words/quantity-text.js";
import { outlookOf } from "./outlook-of.js";
import type { PredictionSettings } from "./prediction-settings.js";
import { reduceRebound } from "./rebound/rebound-readings.js";
import type { ImpactContact } from "./use.js";

/** Scatter of a test that stands alone: 1 % of resilience (common practice). */
const testScatter = 0.01;

/** With a decimal where next to nothing is lost, or returned. */
const shareText = (fraction: number) => percentText(fraction, fraction < 0.095 || fraction > 0.905 ? 1 : 0);

/**
 * Whether measured rebound and the sweep contradict each other where no calibration is had: the tests whose interval
 * lies outside that of the uncalibrated prediction at their temperature. Null where none does, or none can be compared.
 *
 * @example reboundBesideSweep(exampleMaterial(), [], pendulumImpact, defaultPredictionSettings) // null
 */
export function reboundBesideSweep(
  material: Material,
  readings: ReboundMeasurement[],
  impact: ImpactContact,
  settings: PredictionSettings,
): Notice | null {
  const apart = reduceRebound(readings, impact.method).points.flatMap((point) => {
    const { temperature_C, fraction } = point;
    const use = { name: "measured rebound", temperature_C, impact, sliding: null, assumed: false };
    const scope = { verdict: false, otherSurface: false };
    const { rebound } = outlookOf(material, use, settings, null, scope).outlook;
    if (rebound === null) return [];
    const low = point.low ?? fraction - normal95 * testScatter;
    const high = point.high ?? fraction + normal95 * testScatter;
    if (low <= rebound.high && high >= rebound.low) return [];
    const { fraction: predicted, low: from, high: to } = rebound;
    return [
      `${shareText(fraction)} measured at ${statedTemperature(temperature_C)}, ${shareText(predicted)} from the sweep (95 %: ${shareText(from)} to ${shareText(to)})`,
    ];
  });
  if (apart.length === 0) return null;
  return noticeIn(
    "predict.rebound-contradicts-sweep",
    "Measured rebound and the sweep contradict each other, and no calibration brings them together, so what is predicted follows the sweep alone",
    apart,
    "Look whether both are of this compound, and at the units, the specimen and the method of both.",
  );
}
