import { isBelowLossPeak, secondaryLossRatio } from "../fit/glass/glass-at-frequency.js";
import type { Material } from "../fit/material.js";
import type { RelaxationModel } from "../fit/spectrum/relaxation-model.js";
import type { SpectrumAt } from "../fit/spectrum/spectra-at.js";
import { areTooFew, intervalAround } from "../numeric/statistics/value-interval.js";
import { cautions } from "../words/cautions.js";
import { notice, noticeIn } from "../words/codes/codes.js";
import { sweepAdvice } from "../words/codes/prediction-codes.js";
import type { Notice } from "../words/notice.js";
import { statedTemperature, temperatureText } from "../words/quantity-text.js";
import { coldOutlook } from "./cold/cold.js";
import { type LowestTemperatures, lowestTemperatures } from "./cold/lowest-temperatures.js";
import type { GovernedModel } from "./cold/moved-peaks.js";
import { misfitNotice, nearestMeasurement } from "./cold/nearest-measurement.js";
import { otherAsphaltNotices } from "./cold/other-asphalt.js";
import { type ContactState, type Contacts, contactState } from "./contact/contact-state.js";
import { type DrawnState, drawnStates, withLossFactor } from "./contact/drawn-states.js";
import { practicallyNone } from "./contact/friction.js";
import { roughnessOf } from "./contact/roughness.js";
import type { CushioningOutlook, GripOutlook, Outlook, ReboundOutlook } from "./outlook.js";
import { materialNotices, reachOfImpact, reachOfSliding } from "./outlook-notices.js";
import type { PredictionSettings } from "./prediction-settings.js";
import type { ReboundCalibration } from "./rebound/calibrate-rebound.js";
import { cushioningOf } from "./rebound/cushioning.js";
import {
  type StrainBasis,
  strainBasis,
  withDiscrepancy,
  withSecondaryLoss,
} from "./rebound/impact-strain.js";
import { strainedContacts } from "./rebound/strained-contacts.js";
import type { ImpactContact, Use } from "./use.js";

/** The values behind the intervals, one per draw, so that ratios between compounds can be formed. */
export interface OutlookDraws {
  rebound: Float64Array | null;
  grip: Float64Array | null;
  /** Of the impact. */
  peakForce_N: Float64Array | null;
  indentation_m: Float64Array | null;
}

/** The frequency of a contact by the best model, and one value per draw; NaN where a draw has none. */
export interface ContactFrequency {
  frequency_Hz: number;
  draws_Hz: Float64Array;
}

export interface PredictedOutlook {
  outlook: Outlook;
  notices: Notice[];
  draws: OutlookDraws;
  /** v q½/2π of the sliding, 1/(2 t) of the impact; null where the use has none or nothing is known of it. */
  contactFrequencies: { sliding: ContactFrequency | null; impact: ContactFrequency | null };
}

/** What may be left out where nobody looks at it, for a verdict costs as much as grip and rebound together. */
export interface OutlookScope {
  /** Whether the compound turns glassy; a curve of grip or rebound does without. */
  verdict: boolean;
  /** Verdict and friction on another surface as well, of which only notices tell. */
  otherSurface: boolean;
}

const wholeScope: OutlookScope = { verdict: true, otherSurface: true };

/**
 * What a compound does in a use: rebound, grip and whether it turns glassy, each with its 95 % interval, or
 * null with a notice that says why and which sweep would settle it.
 *
 * @param calibration factors on contact stiffness and loss from measured rebound; null: none
 * @param scope what is to be left out; what is given is the same with and without it
 * @example outlookOf(exampleMaterial(), defaultUses()[3], defaultPredictionSettings, null).outlook.cold.verdict // "rubbery"
 */
export function outlookOf(
  material: Material,
  use: Use,
  settings: PredictionSettings,
  calibration: ReboundCalibration | null = null,
  scope = wholeScope,
): PredictedOutlook {
  return withFlags(outlookAndNotices(material, use, settings, calibration, scope));
}

/** A use is at an isotherm's own temperature within this. */
const sameTemperature_K = 1;

/**
 * The material as it is known at a temperature: where nothing joins the isotherms, by the one measured there, and at its
 * temperature, for how far a kelvin moves it is not known.
 */
function knownAt(material: Material, temperature_C: number): { material: Material; temperature_C: number } {
  if (material.model !== null) return { material, temperature_C };
  const away_K = (one: { temperature_C: number }) => Math.abs(one.temperature_C - temperature_C);
  const there = material.spectraAt
    ?.filter((one) => away_K(one) <= sameTemperature_K)
    .reduce<SpectrumAt | null>((a, b) => (a === null || away_K(b) < away_K(a) ? b : a), null);
  if (there == null) return { material, temperature_C };
  return {
    material: { ...material, model: there.model, draws: there.draws },
    temperature_C: there.temperature_C,
  };
}

function outlookAndNotices(
  measured: Material,
  asked: Use,
  settings: PredictionSettings,
  calibration: ReboundCalibration | null,
  scope: OutlookScope,
): PredictedOutlook {
  const outlook: Outlook = {
    use: asked.name,
    temperature_C: asked.temperature_C,
    rebound: null,
    grip: null,
    cushioning: null,
    cold: null,
    nearestMeasurement: null,
    flags: [],
  };
  const draws: OutlookDraws = { rebound: null, grip: null, peakForce_N: null, indentation_m: null };
  const contactFrequencies: PredictedOutlook["contactFrequencies"] = { sliding: null, impact: null };
  const { material, temperature_C } = knownAt(measured, asked.temperature_C);
  const use = { ...asked, temperature_C };
  const { model } = material;
  if (model === null) {
    if (material.hasNoSweep) {
      const message = `No sweep was measured on ${material.compound}, so no verdict: it could be glassy. ${sweepAdvice}.`;
      return { outlook, notices: [notice(noSweepCode, message)], draws, contactFrequencies };
    }
    const only_C = (material.spectraAt ?? []).map((one) => one.temperature_C);
    if (only_C.length > 0) outlook.predictsOnlyAt_C = only_C;
    const where =
      only_C.length === 0
        ? ""
        : ` It was measured over frequency at ${only_C.map((at) => temperatureText(at, 0)).join(" and ")}, and predicts in a use at that temperature.`;
    const message = `Nothing was measured on ${material.compound} that allows a prediction at another temperature or frequency.${where}`;
    return { outlook, notices: [notice("predict.no-model", message)], draws, contactFrequencies };
  }
  const notices = materialNotices(material, settings);
  const softensFrom_C = material.softening?.bracketed ? material.softening.low_C : null;
  if (softensFrom_C != null && use.temperature_C >= softensFrom_C) {
    const message = `${material.compound} softens from ${temperatureText(softensFrom_C)} on, measured at the warm end: at ${temperatureText(use.temperature_C)} its numbers are of a rubber that gives way.`;
    notices.push(notice("predict.softened", message));
  }
  const { contacts: unstrained, problem } = contactsOf(use, settings, calibration?.stiffnessFactor ?? 1);
  const basis = strainBasis(material, calibration !== null);
  const strained = strainedContacts(material, use.temperature_C, unstrained, settings, basis);
  const { contacts } = strained;
  if (problem !== null) notices.push(problem);
  if (contacts.sliding === null && contacts.impact === null) {
    const message = `The use "${use.name}" has no contact that can be predicted, so no contact frequency.`;
    return {
      outlook,
      notices: [...notices, notice("predict.use-without-contact", message)],
      draws,
      contactFrequencies,
    };
  }

  const uncorrected = contactState(model, use.temperature_C, contacts, settings);
  const best = withLossFactor(uncorrected, (calibration?.lossFactor ?? 1) * strained.loss);
  const alternatives = drawnStates(
    material,
    use.temperature_C,
    contacts,
    settings,
    calibration,
    strained.loss,
    uncorrected,
  );
  if (alternatives.length === 0) {
    notices.push(
      notice(
        "predict.interval-not-determined",
        `The data of ${material.compound} give no interval; low and high repeat the value itself.`,
      ),
    );
  }

  for (const contact of ["sliding", "impact"] as const) {
    const frequency_Hz = contactFrequency_Hz(best, contact);
    if (frequency_Hz === null) continue;
    const draws_Hz = Float64Array.from(
      alternatives,
      ({ state }) => contactFrequency_Hz(state, contact) ?? Number.NaN,
    );
    contactFrequencies[contact] = { frequency_Hz, draws_Hz };
  }

  const predicted: PredictedOutlook = { outlook, notices, draws, contactFrequencies };
  const inUse: InUse = { material, model, use, settings, contacts, best, alternatives, basis };
  putRebound(inUse, predicted);
  putGrip(inUse, predicted);

  const nearest = nearestMeasurement(
    material.measuredStates,
    use.temperature_C,
    best.governing?.frequency_Hz ?? null,
  );
  outlook.nearestMeasurement = nearest;
  const misfit = nearest === null ? null : misfitNotice(nearest, use.temperature_C);
  if (misfit !== null) notices.push(misfit);

  if (scope.verdict) putVerdict(inUse, scope, predicted);
  return predicted;
}

/** A material in a use: what rebound, grip and verdict are all read from. */
interface InUse {
  material: Material;
  model: RelaxationModel;
  use: Use;
  settings: PredictionSettings;
  contacts: Contacts;
  best: ContactState;
  alternatives: DrawnState[];
  basis: StrainBasis;
}

/** Rebound and cushioning of the use's impact, as far as what was measured reaches. */
function putRebound(
  { model, use, settings, contacts, best, alternatives, basis }: InUse,
  into: PredictedOutlook,
): void {
  const { outlook, notices, draws } = into;
  if (best.rebound === null || contacts.impact === null) return;
  const reach = reachOfImpact(model, use.temperature_C, best.rebound, contacts.impact, settings);
  notices.push(...reach.notices);
  if (!reach.determined) return;
  const plain = Float64Array.from(alternatives, ({ state }) => state.rebound?.fraction ?? Number.NaN);
  const impact_Hz = 1 / (2 * best.rebound.contactTime_s);
  const secondaryLoss = secondaryLossRatio(model, use.temperature_C, impact_Hz);
  noteSecondary(notices, "rebound", use.temperature_C, secondaryLoss);
  draws.rebound = withDiscrepancy(
    plain,
    basis,
    isBelowLossPeak(model, use.temperature_C, impact_Hz),
    secondaryLoss,
  );
  noteGaps(notices, "rebound", use.temperature_C, draws.rebound);
  outlook.rebound = {
    ...reboundOutlook(best.rebound, draws.rebound, basis),
    // The discrepancy reaches downwards only.
    high: intervalAround(best.rebound.fraction, plain).high,
  };
  if (basis === "small strain") {
    notices.push(
      noticeIn(
        "predict.rebound-small-strain",
        "Rebound is predicted from data at small strain. An impact strains the rubber by 10 to 20 %, where a filled compound loses more, so the true rebound tends to lie below the value, and the interval is extended downwards for it",
        [statedTemperature(use.temperature_C)],
        "A strain sweep to 20 % or measured rebound settles it.",
      ),
    );
  }
  notices.push(notice("predict.rebound-screening", cautions.rebound));
  const { impact } = contacts;
  draws.peakForce_N = Float64Array.from(
    alternatives,
    ({ state }) => state.rebound?.peakForce_N ?? Number.NaN,
  );
  draws.indentation_m = Float64Array.from(
    alternatives,
    ({ state }) => state.rebound?.indentation_m ?? Number.NaN,
  );
  outlook.cushioning = cushioningOutlook(best.rebound, outlook.rebound, draws, impact);
  notices.push(notice("predict.cushioning-screening", cautions.cushioning));
}

/** Friction of the use's sliding, as far as what was measured reaches. */
function putGrip(
  { model, use, settings, contacts, best, alternatives }: InUse,
  into: PredictedOutlook,
): void {
  const { outlook, notices, draws } = into;
  if (best.friction === null || contacts.sliding === null) return;
  const reach = reachOfSliding(model, use.temperature_C, contacts.sliding, settings);
  notices.push(...reach.notices);
  if (!reach.determined) return;
  const plain = Float64Array.from(
    alternatives,
    ({ state }) => state.friction?.frictionCoefficient ?? Number.NaN,
  );
  const { contactFrequency_Hz: sliding_Hz } = best.friction;
  const secondaryLoss = sliding_Hz === null ? 1 : secondaryLossRatio(model, use.temperature_C, sliding_Hz);
  noteSecondary(notices, "friction", use.temperature_C, secondaryLoss);
  draws.grip = withSecondaryLoss(plain, secondaryLoss);
  noteGaps(notices, "grip", use.temperature_C, draws.grip);
  outlook.grip = gripOutlook(best.friction, contacts.sliding.roughness, plain, draws.grip);
  notices.push(
    notice("predict.grip-screening", `${cautions.grip} ${cautions.gripNotIncluded} ${cautions.gripCutOff}`),
  );
  if (best.friction.frictionCoefficient < practicallyNone) {
    notices.push(
      noticeIn(
        "predict.grip-practically-none",
        `Hysteresis friction is practically none, µ below ${practicallyNone}`,
        [statedTemperature(use.temperature_C)],
      ),
    );
  }
}

/** The verdict at the contact's frequency, with the lowest temperatures and what the other asphalt would make of it. */
function putVerdict(
  { material, model, use, settings, contacts, best, alternatives }: InUse,
  scope: OutlookScope,
  into: PredictedOutlook,
): void {
  const { outlook, notices } = into;
  const governed = governedModel(model, best, 0);
  if (governed === null) return;
  const drawn = alternatives.flatMap(
    ({ model: drawnModel, state, warmer_K }) => governedModel(drawnModel, state, warmer_K) ?? [],
  );
  const {
    cold,
    transition,
    notices: coldNotices,
  } = coldOutlook(material, use.temperature_C, governed, drawn, settings);
  notices.push(...coldNotices);
  outlook.transitionAtContact = transition;
  if (scope.otherSurface) {
    const here = { friction: outlook.grip?.frictionCoefficient ?? null, verdict: cold?.verdict ?? null };
    notices.push(...otherAsphaltNotices(material, use, settings, governed, drawn, here));
  }
  if (cold === null) return;
  const lowest =
    model.onlyAt_C === undefined
      ? lowestIn(model, use, contacts, settings)
      : { rubbery_C: null, aboveGlassy_C: null };
  outlook.cold = {
    ...cold,
    lowestRubbery_C: lowest.rubbery_C,
    lowestAboveGlassy_C: lowest.aboveGlassy_C,
  };
  const determined = governed.governing.contact === "impact" ? outlook.rebound : outlook.grip;
  if (determined === null) {
    const { tanDeltaPeak, lossModulusPeak } = transition;
    const areMeasured = tanDeltaPeak.reason === null && lossModulusPeak.reason === null;
    notices.push(
      noticeIn(
        "predict.contact-frequency-extrapolated",
        `The contact frequency comes from the model beyond what was measured${areMeasured ? ", while both peaks of the verdict were measured" : ""}`,
        [statedTemperature(use.temperature_C)],
      ),
    );
  }
  notices.push(notice("predict.cold-screening", `${cautions.cold} ${cautions.crystallisation}`));
}

function contactFrequency_Hz(
  { friction, rebound }: ContactState,
  contact: "sliding" | "impact",
): number | null {
  if (contact === "sliding") return friction?.contactFrequency_Hz ?? null;
  return rebound === null ? null : 1 / (2 * rebound.contactTime_s);
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
    return { contacts, problem: notice("predict.texture-unusable", roughness.problem.message) };
  }
  const { speed_m_s, pressure_Pa } = use.sliding;
  contacts.sliding = { speed_m_s, pressure_Pa, roughness: roughness.value };
  if (roughness.value.cutOff === "end of the measured spectrum") {
    const message = `The measured texture "${use.sliding.texture.name}" reaches an rms slope of ${roughness.value.rmsSlope.toFixed(2)} only, short of ${settings.cutOffSlope}; its last wave number is taken for the cut-off.`;
    return { contacts, problem: notice("predict.texture-slope-not-reached", message) };
  }
  return { contacts, problem: null };
}

/** From this ratio of the losses on it is said. */
const tellingSecondary = 1.5;

/** Says that the glass may lose more at the contact's frequency than the shift law carries there. */
function noteSecondary(notices: Notice[], what: string, temperature_C: number, ratio: number): void {
  if (ratio < tellingSecondary) return;
  notices.push(
    noticeIn(
      "predict.secondary-relaxation",
      "Colder than the glass transition a secondary relaxation loses energy, at the contact's frequency more than the shift law carries there, and the interval reaches to as much as the sweep shows of it in the glass",
      [
        `${what} at ${statedTemperature(temperature_C)} (up to ${Number(ratio.toPrecision(2))} times the loss)`,
      ],
    ),
  );
}

/** Says where an interval stands on a part of the draws only, which leaves out the worst of them. */
function noteGaps(notices: Notice[], what: string, temperature_C: number, drawn: Float64Array): void {
  if (!areTooFew(drawn)) return;
  const given = drawn.filter(Number.isFinite).length;
  const message = `Only ${given} of ${drawn.length} equally likely models give a ${what} at ${statedTemperature(temperature_C)}: its interval is too narrow, and the number itself doubtful.`;
  notices.push(notice("predict.interval-not-determined", message));
}

interface FoundLowest {
  settings: PredictionSettings;
  contact: string;
  lowest: LowestTemperatures;
}

/** What was last found of each model: it does not depend on the use's temperature, and is half the work of a value. */
const lastLowest = new WeakMap<RelaxationModel, FoundLowest>();

function lowestIn(
  model: RelaxationModel,
  { sliding }: Use,
  contacts: Contacts,
  settings: PredictionSettings,
): LowestTemperatures {
  // A measured spectrum would make a longer key than the work it saves.
  if (sliding !== null && sliding.texture.measured !== null)
    return lowestTemperatures(model, contacts, settings);
  const contact = JSON.stringify([sliding, contacts.impact, contacts.stiffnessFactor]);
  const last = lastLowest.get(model);
  if (last?.contact === contact && last.settings === settings) return last.lowest;
  const lowest = lowestTemperatures(model, contacts, settings);
  lastLowest.set(model, { settings, contact, lowest });
  return lowest;
}

function governedModel(
  model: RelaxationModel,
  { governing }: ContactState,
  warmer_K: number,
): GovernedModel | null {
  return governing === null ? null : { model, governing, warmer_K };
}

function reboundOutlook(
  best: NonNullable<ContactState["rebound"]>,
  draws: Float64Array,
  basis: StrainBasis,
): ReboundOutlook {
  return {
    fraction: best.fraction,
    ...intervalAround(best.fraction, draws),
    textbookFraction: best.textbookFraction,
    contactTime_s: best.contactTime_s,
    indentation_m: best.indentation_m,
    calibrated: basis === "calibrated",
    strainBasis: basis,
  };
}

/** Force and depth with their own draws; deceleration and absorbed energy follow from force and rebound. */
function cushioningOutlook(
  best: NonNullable<ContactState["rebound"]>,
  { low, high }: ReboundOutlook,
  draws: OutlookDraws,
  impact: ImpactContact,
): CushioningOutlook {
  const value = cushioningOf(best, impact);
  const force = intervalAround(best.peakForce_N, draws.peakForce_N);
  const deceleration = (peakForce_N: number) =>
    cushioningOf({ ...best, peakForce_N }, impact).peakDeceleration_g;
  const absorbed = (fraction: number) => cushioningOf({ ...best, fraction }, impact).energyAbsorbed_J;
  return {
    peakForce_N: { value: value.peakForce_N, ...force },
    peakDeceleration_g: {
      value: value.peakDeceleration_g,
      low: deceleration(force.low),
      high: deceleration(force.high),
    },
    indentation_m: { value: value.indentation_m, ...intervalAround(best.indentation_m, draws.indentation_m) },
    energyAbsorbed_J: { value: value.energyAbsorbed_J, low: absorbed(high), high: absorbed(low) },
  };
}

function gripOutlook(
  best: NonNullable<ContactState["friction"]>,
  roughness: NonNullable<Contacts["sliding"]>["roughness"],
  plain: Float64Array,
  draws: Float64Array,
): GripOutlook {
  const { low } = intervalAround(best.frictionCoefficient, plain);
  // The secondary relaxation's loss reaches upwards only.
  const { high } = intervalAround(best.frictionCoefficient, draws);
  const { halved, doubled } = best.cutOffSensitivity;
  return {
    frictionCoefficient: best.frictionCoefficient,
    // The cut-off is the model's free choice; ratios to a reference come from the draws, where it cancels.
    low: Math.min(low, halved, doubled),
    high: Math.max(high, halved, doubled),
    shortestWave_m: (2 * Math.PI) / roughness.q1_per_m,
    contactAreaRatio: best.contactAreaRatio,
    cutOffSensitivity: best.cutOffSensitivity,
    cutOff_per_m: roughness.q1_per_m,
    rmsSlope: roughness.rmsSlope,
    contactFrequency_Hz: best.contactFrequency_Hz,
  };
}

/**
 * Codes of the notices that cast doubt on what they stand beside: cautions and errors, each once, in their
 * order. What a screening prediction is in general (codes that end in "-screening") sets no number apart.
 */
export function doubtCodes(notices: Notice[]): string[] {
  const codes = notices
    .filter(({ severity, code }) => severity !== "info" && !code.endsWith("-screening"))
    .map(({ code }) => code);
  return [...new Set(codes)];
}

/** Beside an outlook of a compound of which no sweep was read. */
const noSweepCode = "predict.no-sweep";

/** Whether a verdict is missing because there is nothing to judge, and not because the data leave it open. */
export const lacksSweep = (outlook: Pick<Outlook, "flags"> | undefined): boolean =>
  outlook?.flags.includes(noSweepCode) ?? false;

/** What can leave a use without a verdict, the most telling first. */
const reasons = [
  "predict.transition-outside-range",
  "predict.no-model",
  noSweepCode,
  "predict.use-without-contact",
  "predict.texture-unusable",
  "predict.contact-outside-range",
];

/** Puts into the outlook which of its notices cast doubt on it, and why it lacks a prediction or a verdict where it does. */
function withFlags(predicted: PredictedOutlook): PredictedOutlook {
  const { outlook, notices } = predicted;
  const outside = notices.find(({ code }) => code === "predict.contact-outside-range");
  const flagged = {
    ...outlook,
    flags: doubtCodes(notices),
    ...(outside === undefined ? {} : { predictionMissing: outside.message }),
  };
  if (outlook.cold !== null) return { ...predicted, outlook: flagged };
  const reason = reasons.flatMap((code) => notices.find((notice) => notice.code === code) ?? [])[0];
  return {
    ...predicted,
    outlook: reason === undefined ? flagged : { ...flagged, verdictMissing: reason.message },
  };
}
