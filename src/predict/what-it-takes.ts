import type { Material } from "../fit/material.js";
import type { RelaxationModel } from "../fit/relaxation-model.js";
import { drawnInterval, type ValueInterval } from "../fit/value-interval.js";
import type { Notice } from "../io/problem.js";
import type { ReboundCalibration } from "./calibrate-rebound.js";
import { type ContactState, type Contacts, contactState } from "./contact-state.js";
import { type DrawnContacts, drawnContacts } from "./drawn-contacts.js";
import { glassAtFrequency } from "./glass-at-frequency.js";
import { predictionNotice } from "./notice-codes.js";
import { signed } from "./number-words.js";
import type { ColdVerdict, Outlook } from "./outlook.js";
import { contactsOf } from "./predict-outlook.js";
import type { PredictionSettings } from "./prediction-settings.js";
import { type Border, frequencyAtBorder, slidingSpeedAt } from "./slower-contact.js";
import type { Use } from "./use.js";
import { whatItTakesCaution, whatItTakesSentence } from "./what-it-takes-words.js";

/** How much slower one contact would have to be. */
export interface SlowerContact {
  contact: "sliding" | "impact";
  /** The contact frequency in the use, and the one at which the border meets the use temperature. */
  frequency_Hz: number;
  neededFrequency_Hz: ValueInterval;
  /** needed / present: 0.01 is a hundred times slower; 1 or more: slow enough. */
  frequencyFactor: ValueInterval;
  /** Sliding only: the speed in the use and the speed that gives the needed frequency. */
  speed_m_s: number | null;
  neededSpeed_m_s: ValueInterval | null;
}

/** What would bring a compound across one border at the use temperature. */
export interface WayAcross {
  /** By how many K its Tg would have to fall, all else equal; 0 or less: it is across. Null: see `reasons`. */
  glassTransitionFall_K: ValueInterval | null;
  /** One entry for each contact of the use; empty: see `reasons`. */
  contacts: SlowerContact[];
  /** Why something is not determined. */
  reasons: string[];
}

/** What a compound that is not rubbery in a use would need. */
export interface WhatItTakes {
  use: string;
  temperature_C: number;
  verdict: ColdVerdict;
  toBeRubbery: WayAcross;
  /** Null where the verdict leaves no doubt that it is not glassy. */
  toLeaveGlassy: WayAcross | null;
  sentence: string;
  caution: string;
}

/** A use of the compound with the outlook that was predicted for it. */
export interface JudgedUse {
  use: Use;
  outlook: Outlook;
}

/**
 * For each use in which a compound is not rubbery: by how many K its Tg would have to fall, or how much slower the
 * contact would have to be, to be rubbery and to leave the glassy state at the use temperature.
 *
 * The fall of Tg moves the whole behaviour along the temperature axis, all else equal: so it is the distance from the
 * use temperature up to where the border meets the temperature itself (`lowestTemperatures`), with the contact as it
 * is there. The slower contact is the one whose frequency puts the border at the use temperature. Intervals come from
 * the draws, for the fall by one Newton step from the best model's border.
 *
 * @param uses with their outlooks from `predictOutlook`, same settings and calibration
 * @returns one entry a use: null where it is rubbery or has no verdict
 * @example whatItTakes(exampleMaterial(), [{ use: defaultUses()[0], outlook: predictOutlook(exampleMaterial(), defaultUses()[0], defaultPredictionSettings, null).outlook }], defaultPredictionSettings, null).answers // [null]
 */
export function whatItTakes(
  material: Material,
  uses: JudgedUse[],
  settings: PredictionSettings,
  calibration: ReboundCalibration | null,
): { answers: (WhatItTakes | null)[]; notices: Notice[] } {
  const notices: Notice[] = [];
  const { model } = material;
  // Uses that differ in temperature only share where their borders lie.
  const falls = new Map<string, ValueInterval>();
  const answers = uses.map(({ use, outlook }) => {
    const { cold } = outlook;
    if (model === null || cold === null || cold.verdict === "rubbery") return null;
    const { contacts } = contactsOf(use, settings, calibration?.stiffnessFactor ?? 1);
    const drawn = drawnContacts(material, contacts, settings, calibration);
    const across = (border: Border): WayAcross => {
      const key = `${border.name} ${border.meets_C} ${JSON.stringify([use.sliding, use.impact])}`;
      const meets =
        border.meets_C === null
          ? null
          : (falls.get(key) ?? borderInterval(model, drawn, border, contacts, settings));
      if (meets !== null) falls.set(key, meets);
      return wayAcross(model, drawn, use, contacts, border, meets, settings);
    };
    const rubbery: Border = {
      name: "rubbery",
      peak: "tanDeltaPeak_C",
      above_K: settings.leatheryBorder_K,
      meets_C: cold.lowestRubbery_C ?? null,
    };
    const glassy: Border = {
      name: "above glassy",
      peak: "lossModulusPeak_C",
      above_K: settings.glassyBorder_K,
      meets_C: cold.lowestAboveGlassy_C ?? null,
    };
    const toBeRubbery = across(rubbery);
    const toLeaveGlassy = cold.verdict.includes("glassy") ? across(glassy) : null;
    const reasons = [...new Set([...toBeRubbery.reasons, ...(toLeaveGlassy?.reasons ?? [])])];
    if (reasons.length > 0) {
      const message = `What it would take at ${signed(use.temperature_C)} °C ("${use.name}") is not wholly determined: ${reasons.join("; ")}.`;
      notices.push(predictionNotice("predict.what-it-takes-outside-range", message));
    }
    const found = {
      use: use.name,
      temperature_C: use.temperature_C,
      verdict: cold.verdict,
      toBeRubbery,
      toLeaveGlassy,
    };
    return {
      ...found,
      sentence: whatItTakesSentence(material, found, cold),
      caution: whatItTakesCaution(material),
    };
  });
  return { answers, notices };
}

/** A contact's frequency is needed here to a per cent only. */
const coarseImpactSteps = 16;

/** border(f(T)) − T, which is zero where the border meets the temperature; null where there is no border. */
function distanceToBorder_K(
  model: RelaxationModel,
  temperature_C: number,
  contacts: Contacts,
  border: Border,
  settings: PredictionSettings,
): number | null {
  const coarse = { ...settings, impactSteps: coarseImpactSteps };
  const { governing } = contactState(model, temperature_C, contacts, coarse);
  const glass = governing === null ? null : glassAtFrequency(model, governing.frequency_Hz);
  const peak_C = glass === null || "absent" in glass ? null : glass[border.peak];
  return peak_C === null ? null : peak_C + border.above_K - temperature_C;
}

const slopeStep_K = 2;

/** Where the border meets the temperature, with the draws' interval. */
function borderInterval(
  model: RelaxationModel,
  drawn: DrawnContacts[],
  border: Border,
  contacts: Contacts,
  settings: PredictionSettings,
): ValueInterval {
  const meets_C = border.meets_C!;
  const above = distanceToBorder_K(model, meets_C + slopeStep_K, contacts, border, settings);
  const below = distanceToBorder_K(model, meets_C - slopeStep_K, contacts, border, settings);
  // Colder is stiffer, so quicker: the distance falls by a little more than a kelvin a kelvin.
  const slope = above === null || below === null ? -1 : Math.min(-1, (above - below) / (2 * slopeStep_K));
  const meetings = drawn.map((draw) => {
    const distance_K = distanceToBorder_K(
      draw.model,
      meets_C - draw.warmer_K,
      draw.contacts,
      border,
      settings,
    );
    return distance_K === null ? Number.NaN : meets_C - distance_K / slope;
  });
  return drawnInterval(meets_C, meetings);
}

function wayAcross(
  model: RelaxationModel,
  drawn: DrawnContacts[],
  use: Use,
  contacts: Contacts,
  border: Border,
  meets_C: ValueInterval | null,
  settings: PredictionSettings,
): WayAcross {
  const T = use.temperature_C;
  const reasons: string[] = [];
  const above = (value: number | null) => (value === null ? null : value - T);
  const fall =
    meets_C === null
      ? null
      : { value: meets_C.value - T, low: above(meets_C.low), high: above(meets_C.high) };
  if (fall === null) {
    reasons.push(
      `where the compound becomes ${border.name} in this contact lies outside what was measured, so the fall of Tg is not known`,
    );
  }
  const needed = frequencyAtBorder(model, T, border, settings);
  if (typeof needed === "string")
    return { glassTransitionFall_K: fall, contacts: [], reasons: [...reasons, needed] };
  const coarse = { ...settings, impactSteps: coarseImpactSteps };
  const present = contactState(model, T, contacts, settings);
  const states = drawn.map((draw) => {
    const drawnNeeded = frequencyAtBorder(draw.model, T - draw.warmer_K, border, settings);
    return {
      needed_Hz: typeof drawnNeeded === "string" ? Number.NaN : drawnNeeded,
      state: contactState(draw.model, T - draw.warmer_K, draw.contacts, coarse),
    };
  });
  const slower = (["sliding", "impact"] as const).flatMap((contact): SlowerContact[] => {
    const frequency_Hz = frequencyOf(present, contact);
    if (frequency_Hz === null) return [];
    const factors = states.map(
      ({ needed_Hz, state }) => needed_Hz / (frequencyOf(state, contact) ?? Number.NaN),
    );
    const factor = drawnInterval(needed / frequency_Hz, factors);
    const speed = contact === "sliding" ? contacts.sliding : null;
    const neededSpeed = speed === null ? null : slidingSpeedAt(model, T, speed, needed, factor, settings);
    return [
      {
        contact,
        frequency_Hz,
        neededFrequency_Hz: drawnInterval(
          needed,
          states.map(({ needed_Hz }) => needed_Hz),
        ),
        frequencyFactor: factor,
        speed_m_s: speed?.speed_m_s ?? null,
        neededSpeed_m_s: neededSpeed,
      },
    ];
  });
  return { glassTransitionFall_K: fall, contacts: slower, reasons };
}

function frequencyOf(state: ContactState, contact: SlowerContact["contact"]): number | null {
  if (contact === "sliding") return state.friction?.contactFrequency_Hz ?? null;
  return state.rebound === null ? null : 1 / (2 * state.rebound.contactTime_s);
}
