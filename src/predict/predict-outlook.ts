import { exp } from "../elementary/exponential.js";
import type { Material } from "../fit/material.js";
import { seededRandom, seedFromText } from "../fit/random.js";
import type { RelaxationModel } from "../fit/relaxation-model.js";
import type { Notice } from "../io/problem.js";
import type { ReboundCalibration } from "./calibrate-rebound.js";
import { cautions } from "./cautions.js";
import { coldOutlook, type GovernedModel } from "./cold.js";
import { type ContactState, type Contacts, contactState } from "./contact-state.js";
import { intervalAround } from "./intervals.js";
import { lowestTemperatures } from "./lowest-temperatures.js";
import { predictionNotice } from "./notice-codes.js";
import { signed } from "./number-words.js";
import type { GripOutlook, Outlook, ReboundOutlook } from "./outlook.js";
import { withFlags } from "./outlook-flags.js";
import { materialNotices, reachOfImpact, reachOfSliding } from "./outlook-notices.js";
import type { PredictionSettings } from "./prediction-settings.js";
import { roughnessOf } from "./roughness.js";
import type { Use } from "./use.js";

/** The values behind the intervals, one per draw, so that ratios between compounds can be formed. */
export interface OutlookDraws {
  rebound: Float64Array | null;
  grip: Float64Array | null;
}

export interface PredictedOutlook {
  outlook: Outlook;
  notices: Notice[];
  draws: OutlookDraws;
}

/**
 * What a compound does in a use: rebound, grip and whether it turns glassy, each with its 95 % interval, or
 * null with a notice that says why and which sweep would settle it.
 *
 * @param calibration factor on the contact stiffness from measured rebound; null: none
 * @example predictOutlook(exampleMaterial(), defaultUses()[3], defaultPredictionSettings, null).outlook.cold.verdict // "rubbery"
 */
export function predictOutlook(
  material: Material,
  use: Use,
  settings: PredictionSettings,
  calibration: ReboundCalibration | null,
): PredictedOutlook {
  return withFlags(outlookAndNotices(material, use, settings, calibration));
}

function outlookAndNotices(
  material: Material,
  use: Use,
  settings: PredictionSettings,
  calibration: ReboundCalibration | null,
): PredictedOutlook {
  const outlook: Outlook = {
    use: use.name,
    temperature_C: use.temperature_C,
    rebound: null,
    grip: null,
    cold: null,
  };
  const draws: OutlookDraws = { rebound: null, grip: null };
  const { model } = material;
  if (model === null) {
    const message = `Nothing was measured on ${material.compound} that allows a prediction at another temperature or frequency.`;
    return { outlook, notices: [predictionNotice("predict.no-model", message)], draws };
  }
  const notices = materialNotices(material, settings);
  const { contacts, problem } = contactsOf(use, settings, calibration?.stiffnessFactor ?? 1);
  if (problem !== null) notices.push(problem);
  if (contacts.sliding === null && contacts.impact === null) {
    const message = `The use "${use.name}" has no contact that can be predicted, so no contact frequency.`;
    return {
      outlook,
      notices: [...notices, predictionNotice("predict.use-without-contact", message)],
      draws,
    };
  }

  const best = contactState(model, use.temperature_C, contacts, settings);
  const alternatives = drawnStates(material, use.temperature_C, contacts, settings, calibration);
  if (alternatives.length === 0) {
    notices.push(
      predictionNotice(
        "predict.interval-not-determined",
        `The data of ${material.compound} give no interval; low and high repeat the value itself.`,
      ),
    );
  }

  if (best.rebound !== null && contacts.impact !== null) {
    const reach = reachOfImpact(model, use.temperature_C, best.rebound, contacts.impact, settings);
    notices.push(...reach.notices);
    if (reach.determined) {
      draws.rebound = Float64Array.from(alternatives, ({ state }) => state.rebound?.fraction ?? Number.NaN);
      outlook.rebound = reboundOutlook(best.rebound, draws.rebound, calibration);
      notices.push(predictionNotice("predict.rebound-screening", cautions.rebound));
    }
  }
  if (best.friction !== null && contacts.sliding !== null) {
    const reach = reachOfSliding(model, use.temperature_C, contacts.sliding, settings);
    notices.push(...reach.notices);
    if (reach.determined) {
      draws.grip = Float64Array.from(
        alternatives,
        ({ state }) => state.friction?.frictionCoefficient ?? Number.NaN,
      );
      outlook.grip = gripOutlook(best.friction, contacts.sliding.roughness, draws.grip);
      notices.push(
        predictionNotice(
          "predict.grip-screening",
          `${cautions.grip} ${cautions.gripNotIncluded} ${cautions.gripCutOff}`,
        ),
      );
    }
  }

  const governed = governedModel(model, best);
  if (governed !== null) {
    const drawn = alternatives.flatMap(
      ({ model: drawnModel, state }) => governedModel(drawnModel, state) ?? [],
    );
    const { cold, notices: coldNotices } = coldOutlook(
      material,
      use.temperature_C,
      governed,
      drawn,
      settings,
    );
    notices.push(...coldNotices);
    if (cold !== null) {
      const lowest = lowestTemperatures(model, contacts, settings);
      outlook.cold = {
        ...cold,
        lowestRubbery_C: lowest.rubbery_C,
        lowestAboveGlassy_C: lowest.aboveGlassy_C,
      };
      const determined = governed.governing.contact === "impact" ? outlook.rebound : outlook.grip;
      if (determined === null) {
        const message = `The contact frequency at ${signed(use.temperature_C)} °C comes from the model beyond what was measured; the borders of the verdict themselves were measured.`;
        notices.push(predictionNotice("predict.contact-frequency-extrapolated", message));
      }
      notices.push(
        predictionNotice("predict.cold-screening", `${cautions.cold} ${cautions.crystallisation}`),
      );
    }
  }
  return { outlook, notices, draws };
}

/** The contacts of a use with its texture settled, and the notice where the texture is unusable or short. */
export function contactsOf(
  use: Use,
  settings: PredictionSettings,
  stiffnessFactor: number,
): { contacts: Contacts; problem: Notice | null } {
  const contacts: Contacts = { sliding: null, impact: use.impact, stiffnessFactor };
  if (use.sliding === null) return { contacts, problem: null };
  const roughness = roughnessOf(use.sliding.texture, settings);
  if (!roughness.ok) {
    return { contacts, problem: predictionNotice("predict.texture-unusable", roughness.problem.message) };
  }
  const { speed_m_s, pressure_Pa } = use.sliding;
  contacts.sliding = { speed_m_s, pressure_Pa, roughness: roughness.value };
  if (roughness.value.cutOff === "end of the measured spectrum") {
    const message = `The measured texture "${use.sliding.texture.name}" reaches an rms slope of ${roughness.value.rmsSlope.toFixed(2)} only, short of ${settings.cutOffSlope}; its last wave number is taken for the cut-off.`;
    return { contacts, problem: predictionNotice("predict.texture-slope-not-reached", message) };
  }
  return { contacts, problem: null };
}

/**
 * The contacts on each drawn model. The calibration's own uncertainty enters as a log-normal factor with a seed
 * of its own, so that uses that share a calibration share its deviates and their ratio is free of them.
 */
function drawnStates(
  material: Material,
  temperature_C: number,
  contacts: Contacts,
  settings: PredictionSettings,
  calibration: ReboundCalibration | null,
): { model: RelaxationModel; state: ContactState }[] {
  const random = seededRandom(seedFromText(`calibration of ${calibration?.compound ?? ""}`));
  return material.draws.map((model) => {
    const deviation = random.normal() * (calibration?.logStandardError ?? 0);
    const drawn = { ...contacts, stiffnessFactor: contacts.stiffnessFactor * exp(deviation) };
    return { model, state: contactState(model, temperature_C, drawn, settings) };
  });
}

function governedModel(model: RelaxationModel, state: ContactState): GovernedModel | null {
  return state.governing === null ? null : { model, governing: state.governing };
}

function reboundOutlook(
  best: NonNullable<ContactState["rebound"]>,
  draws: Float64Array,
  calibration: ReboundCalibration | null,
): ReboundOutlook {
  return {
    fraction: best.fraction,
    ...intervalAround(best.fraction, draws),
    textbookFraction: best.textbookFraction,
    contactTime_s: best.contactTime_s,
    indentation_m: best.indentation_m,
    calibrated: calibration !== null,
  };
}

function gripOutlook(
  best: NonNullable<ContactState["friction"]>,
  roughness: NonNullable<Contacts["sliding"]>["roughness"],
  draws: Float64Array,
): GripOutlook {
  return {
    frictionCoefficient: best.frictionCoefficient,
    ...intervalAround(best.frictionCoefficient, draws),
    contactAreaRatio: best.contactAreaRatio,
    cutOffSensitivity: best.cutOffSensitivity,
    cutOff_per_m: roughness.q1_per_m,
    rmsSlope: roughness.rmsSlope,
    contactFrequency_Hz: best.contactFrequency_Hz,
  };
}
