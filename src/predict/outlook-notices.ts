import type { Material } from "../fit/material.js";
import { type RelaxationModel, reducedFrequency_Hz } from "../fit/spectrum/relaxation-model.js";
import { isNearlySimple } from "../fit/superposition/nearly-simple.js";
import { notice, noticeIn } from "../words/codes/codes.js";
import type { Notice } from "../words/notice.js";
import { fixed, frequencyText, partText, statedTemperature } from "../words/quantity-text.js";
import { measuredReach, type Reach, sweepToReach } from "./cold/measured-reach.js";
import type { Contacts } from "./contact/contact-state.js";
import type { PredictionSettings } from "./prediction-settings.js";
import type { ReboundPrediction } from "./rebound/rebound.js";
import type { ImpactContact } from "./use.js";

/** What a material's own data leave open for every number predicted from them. */
export function materialNotices(material: Material, settings: PredictionSettings): Notice[] {
  const notices: Notice[] = [];
  const { model, superposition } = material;
  if (model?.deformation === "shear") {
    notices.push(
      noticeIn(
        "predict.shear-to-tension",
        `Rebound and grip take E = ${settings.tensilePerShear} G from data in shear, which holds in the rubbery range and overstates E by some 10 % in the glass`,
        [],
      ),
    );
  }
  if (model?.deformation === "unstated") {
    notices.push(
      notice(
        "predict.deformation-unstated",
        "The file does not state how the specimen was deformed; the modulus is taken for a tensile one.",
      ),
    );
  }
  if (superposition?.source === "assumed") {
    notices.push(
      notice(
        "predict.assumed-shift-law",
        `Every prediction away from the measured frequency rests on assumed shift constants${superposition.assumption === null ? "" : `: ${superposition.assumption}`}.`,
      ),
    );
  }
  if (superposition?.thermorheologicallySimple === false && !isNearlySimple(material)) {
    notices.push(
      notice(
        "predict.not-thermorheologically-simple",
        "The isotherms of this compound do not fall on one curve, so predictions away from the measured states are doubtful.",
      ),
    );
  }
  return notices;
}

/** A distance that is not none: "15 K", "0.3 K". */
const kelvinText = (distance_K: number) =>
  distance_K < 0.05 ? "less than 0.1 K" : `${fixed(distance_K, distance_K < 0.95 ? 1 : 0)} K`;
interface ReachVerdict {
  determined: boolean;
  notices: Notice[];
}

/** The impact's main frequency must have been measured; three times to either side should. */
const impactSpread = 3;
/** Hertz is for indentations shallow against the radius; the layer formula holds up to χ = 1. */
const deepIndentation = 0.4;
/** Rubber between two faces stiffens markedly beyond such a compression (common practice). */
const deepCompression = 0.3;

/** Whether an impact stays within what was measured, with what is to be said of it: depth, width, and frequencies beyond. */
export function reachOfImpact(
  model: RelaxationModel,
  temperature_C: number,
  rebound: ReboundPrediction,
  impact: ImpactContact,
  settings: PredictionSettings,
): ReachVerdict {
  const frequency_Hz = 1 / (2 * rebound.contactTime_s);
  const centre = measuredReach(model, temperature_C, frequency_Hz, frequency_Hz);
  const band = measuredReach(model, temperature_C, frequency_Hz / impactSpread, frequency_Hz * impactSpread);
  const what = `rebound at ${statedTemperature(temperature_C)} (contact at ${frequencyText(frequency_Hz)}`;
  const verdict = reachVerdict(model, temperature_C, frequency_Hz, centre, band, what, settings);
  if (!verdict.determined) return verdict;
  const { indenterRadius_m, thickness_m } = impact;
  if (
    impact.contact === "sphere" &&
    settings.impactContact !== "linear" &&
    rebound.indentation_m > deepIndentation * indenterRadius_m
  ) {
    verdict.notices.push(
      noticeIn(
        "predict.indentation-deep",
        `The simulated impact goes deeper than ${deepIndentation} of the indenter's radius, so its contact time is uncertain unless it is calibrated on measured rebound`,
        [`${fixed(1000 * rebound.indentation_m, 1)} mm at ${statedTemperature(temperature_C)}`],
      ),
    );
  }
  if (thickness_m !== null && rebound.indentation_m > deepCompression * thickness_m) {
    verdict.notices.push(
      notice(
        "predict.compression-deep",
        `The simulated impact at ${statedTemperature(temperature_C)} compresses the ${fixed(1000 * thickness_m, 1)} mm by ${((100 * rebound.indentation_m) / thickness_m).toFixed(0)} %: past ${100 * deepCompression} % rubber stiffens more and more, which is not in these numbers, so the true peak force is higher.`,
      ),
    );
  }
  if (
    impact.contact === "sphere" &&
    thickness_m !== null &&
    Math.sqrt(indenterRadius_m * rebound.indentation_m) > thickness_m
  ) {
    verdict.notices.push(
      notice(
        "predict.indentation-past-layer",
        `The contact at ${statedTemperature(temperature_C)} is wider than the specimen of ${fixed(1000 * thickness_m, 1)} mm is thick, past the range of the correction for a thin layer.`,
      ),
    );
  }
  return verdict;
}

/** Whether the frequencies that a texture excites stay within what was measured, with what is to be said of it. */
export function reachOfSliding(
  model: RelaxationModel,
  temperature_C: number,
  sliding: NonNullable<Contacts["sliding"]>,
  settings: PredictionSettings,
): ReachVerdict {
  const perMetre = sliding.speed_m_s / (2 * Math.PI);
  const lowest_Hz = sliding.roughness.q0_per_m * perMetre;
  const highest_Hz = sliding.roughness.q1_per_m * perMetre;
  const band = measuredReach(model, temperature_C, lowest_Hz, highest_Hz);
  const centre = { ...band, outsideShare: band.outsideShare > settings.outsideShare ? 1 : 0 };
  const worst_Hz = band.side === "too warm or slow" ? lowest_Hz : highest_Hz;
  const what = `grip at ${statedTemperature(temperature_C)} (texture excites ${frequencyText(lowest_Hz)} to ${frequencyText(highest_Hz)}`;
  return reachVerdict(model, temperature_C, worst_Hz, centre, band, what, settings);
}

function reachVerdict(
  model: RelaxationModel,
  temperature_C: number,
  frequency_Hz: number,
  centre: Reach,
  band: Reach,
  what: string,
  settings: PredictionSettings,
): ReachVerdict {
  const excess_K = band.temperatureExcess_K;
  const side = band.side;
  const sweep = () =>
    sweepToReach(
      model,
      temperature_C,
      frequency_Hz,
      side === "inside"
        ? temperature_C < model.lowestTemperature_C
          ? "too cold or fast"
          : "too warm or slow"
        : side,
    );
  if (centre.outsideShare > 0 || excess_K > settings.lawReach_K) {
    const [why, state] =
      centre.outsideShare > 0
        ? [
            `Too ${side.replace("too ", "").replace(" or ", " or too ")} for what was measured, after superposition`,
            `${what})`,
          ]
        : [
            "Too far outside the measured temperatures to extrapolate the shift law",
            `${what}; ${kelvinText(excess_K)} outside)`,
          ];
    const remedy = `To settle it, run ${sweep()}.`;
    return {
      determined: false,
      notices: [noticeIn("predict.contact-outside-range", `${why}, so not determined`, [state], remedy)],
    };
  }
  const notices: Notice[] = [];
  if (band.outsideShare > 0) {
    notices.push(
      noticeIn(
        "predict.contact-partly-outside-range",
        "A part of the contact's frequencies rests on the model beyond what was measured",
        [`${what}; ${band.outsideShare < 1 ? partText(band.outsideShare) : "all"} of them)`],
        `To settle it, run ${sweep()}.`,
      ),
    );
  }
  if (model.superposedUpTo_Hz !== undefined) {
    const reduced_Hz = reducedFrequency_Hz(model, temperature_C, frequency_Hz);
    if (reduced_Hz > model.superposedUpTo_Hz) {
      notices.push(
        noticeIn(
          "predict.glass-branch",
          "Extrapolated, although the glass itself was measured, for it rests on the glass branch of the shift law, its tangent below the transition",
          [`${what})`],
        ),
      );
    }
  }
  if (excess_K > 0) {
    notices.push(
      noticeIn("predict.law-outside-range", "The shift law is used outside the measured temperatures", [
        `${what}; ${kelvinText(excess_K)} outside)`,
      ]),
    );
  }
  return { determined: true, notices };
}
