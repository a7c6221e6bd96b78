import type { z } from "zod";
import { glassAtFrequency } from "../../fit/glass/glass-at-frequency.js";
import type { Material } from "../../fit/material.js";
import type { RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import { pushTo } from "../../numeric/push-to.js";
import { drawnInterval, type ValueInterval } from "../../numeric/statistics/value-interval.js";
import { noticeIn } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { fixed, frequencyText, statedTemperature, temperatureText } from "../../words/quantity-text.js";
import { type Contacts, contactState } from "../contact/contact-state.js";
import { type DrawnContacts, drawnContacts } from "../contact/drawn-contacts.js";
import type { ColdOutlook } from "../outlook.js";
import { contactsOf, type PredictedOutlook } from "../outlook-of.js";
import type { whatItTakesSchema } from "../outlook-schema.js";
import { coarser, type PredictionSettings } from "../prediction-settings.js";
import type { ReboundCalibration } from "../rebound/calibrate-rebound.js";
import type { Use } from "../use.js";
import { type Border, frequencyAtBorder, type NotKnown, slidingSpeedAt } from "./slower-contact.js";

/** How much slower one contact would have to be. */
export type SlowerContact = WayAcross["contacts"][number];

/** What would bring a compound across one border at the use temperature. */
export type WayAcross = WhatItTakes["toBeRubbery"];

/** What a compound that is not rubbery in a use would need. */
export type WhatItTakes = z.infer<typeof whatItTakesSchema>;

/** A use of the compound with what was predicted for it. */
export interface JudgedUse extends Pick<PredictedOutlook, "outlook" | "contactFrequencies"> {
  use: Use;
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
 * @param uses with their outlooks from `outlookOf`, same settings and calibration
 * @returns one entry a use: null where it is rubbery or has no verdict
 * @example whatItTakes(exampleMaterial(), [{ use: defaultUses()[0], ...outlookOf(exampleMaterial(), defaultUses()[0], defaultPredictionSettings, null) }], defaultPredictionSettings, null).answers // [null]
 */
export function whatItTakes(
  material: Material,
  uses: JudgedUse[],
  settings: PredictionSettings,
  calibration: ReboundCalibration | null,
): { answers: (WhatItTakes | null)[]; notices: Notice[] } {
  // Each reason is told once, with the uses that it holds in.
  const statesOf = new Map<string, string[]>();
  const { model } = material;
  // Uses that differ in temperature only share where their borders lie.
  const falls = new Map<string, ValueInterval>();
  const answers = uses.map((judged) => {
    const { use } = judged;
    const { cold } = judged.outlook;
    if (model === null || cold === null || cold.verdict === "rubbery") return null;
    const { contacts } = contactsOf(use, settings, calibration?.stiffnessFactor ?? 1);
    const drawn = drawnContacts(material, contacts, settings, calibration);
    const across = (border: Border) => {
      const key = `${border.name} ${border.meets_C} ${JSON.stringify([use.sliding, use.impact])}`;
      const meets =
        border.meets_C === null
          ? null
          : (falls.get(key) ?? borderInterval(model, drawn, border, contacts, settings));
      if (meets !== null) falls.set(key, meets);
      return wayAcross(model, drawn, judged, contacts.sliding, border, meets, settings);
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
    const ways = [across(rubbery), ...(cold.verdict.includes("glassy") ? [across(glassy)] : [])];
    const [toBeRubbery, toLeaveGlassy = null] = ways.map(({ way }) => way);
    const ownOf = new Map<string, string[]>();
    for (const { fact, own } of ways.flatMap(({ notKnown }) => notKnown)) {
      ownOf.set(fact, [...(ownOf.get(fact) ?? []), ...(own === null ? [] : [own])]);
    }
    for (const [fact, own] of ownOf) {
      const differs = own.length === 0 ? "" : ` (${[...new Set(own)].join(" and ")})`;
      pushTo(statesOf, fact, `${useWords(use)}${differs}`);
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
      sentence: `${whatItTakesSentence(material, found, cold)}${ofWarmerPhase(cold, use.temperature_C, settings)}`,
      caution: whatItTakesCaution(material),
    };
  });
  return {
    answers,
    notices: [...statesOf].map(([fact, states]) =>
      noticeIn("predict.what-it-takes-outside-range", fact, states),
    ),
  };
}

/** A use by its name, which mostly holds its temperature. */
function useWords({ name, temperature_C }: Use): string {
  const at = statedTemperature(temperature_C);
  return name.includes(at) ? `"${name}"` : `"${name}" at ${at}`;
}

/** That a warmer phase keeps a compound from being rubbery whose governing one is; nothing where none does. */
function ofWarmerPhase(
  { verdict, glassTemperatureAtUse }: ColdOutlook,
  temperature_C: number,
  { leatheryBorder_K }: PredictionSettings,
): string {
  const high_C = glassTemperatureAtUse?.tanDeltaPeak.high_C ?? null;
  if (high_C === null || verdict !== "leathery or rubbery" || temperature_C < high_C + leatheryBorder_K)
    return "";
  return " That is the phase that governs: a part of the compound has its transition warmer, and what that would take is not determined.";
}

/** border(f(T)) − T, which is zero where the border meets the temperature; null where there is no border. */
function distanceToBorder_K(
  model: RelaxationModel,
  temperature_C: number,
  contacts: Contacts,
  border: Border,
  settings: PredictionSettings,
): number | null {
  const { governing } = contactState(model, temperature_C, contacts, coarser(settings));
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
  { use, contactFrequencies }: JudgedUse,
  sliding: Contacts["sliding"],
  border: Border,
  meets_C: ValueInterval | null,
  settings: PredictionSettings,
): { way: WayAcross; notKnown: NotKnown[] } {
  const T = use.temperature_C;
  const notKnown: NotKnown[] = [];
  const above = (value: number | null) => (value === null ? null : value - T);
  const fall =
    meets_C === null
      ? null
      : { value: meets_C.value - T, low: above(meets_C.low), high: above(meets_C.high) };
  if (fall === null) {
    const where = `the compound ${border.name === "rubbery" ? "becomes rubbery" : "leaves the glassy state"} in this contact`;
    notKnown.push({
      reason: `where ${where} lies outside what was measured, so the fall of Tg is not known`,
      fact: "By how much Tg would have to fall is not known where the border that is to be crossed lies outside what was measured",
      own: null,
    });
  }
  const needed = frequencyAtBorder(model, T, border, settings);
  const wayBy = (slower: SlowerContact[]) => ({
    way: { glassTransitionFall_K: fall, contacts: slower, reasons: notKnown.map(({ reason }) => reason) },
    notKnown,
  });
  if (typeof needed !== "number") {
    notKnown.push(needed);
    return wayBy([]);
  }
  const drawnNeeded_Hz = drawn.map((draw) => {
    const found = frequencyAtBorder(draw.model, T - draw.warmer_K, border, settings);
    return typeof found === "number" ? found : Number.NaN;
  });
  const slower = (["sliding", "impact"] as const).flatMap((contact): SlowerContact[] => {
    const present = contactFrequencies[contact];
    if (present === null) return [];
    const { frequency_Hz } = present;
    const factors = drawnNeeded_Hz.map((needed_Hz, i) => needed_Hz / present.draws_Hz[i]);
    const factor = drawnInterval(needed / frequency_Hz, factors);
    const speed = contact === "sliding" ? sliding : null;
    const neededSpeed = speed === null ? null : slidingSpeedAt(model, T, speed, needed, factor, settings);
    return [
      {
        contact,
        frequency_Hz,
        neededFrequency_Hz: drawnInterval(needed, drawnNeeded_Hz),
        frequencyFactor: factor,
        speed_m_s: speed?.speed_m_s ?? null,
        neededSpeed_m_s: neededSpeed,
      },
    ];
  });
  return wayBy(slower);
}

/** What must stand beside the numbers. */
function whatItTakesCaution(material: Material): string {
  const assumed =
    material.superposition?.source === "assumed"
      ? " They rest on assumed shift constants: measure at several frequencies before acting on them."
      : "";
  return `Screening numbers, all else equal: a real change of polymer, plasticiser or speed changes stiffness, loss and the contact too.${assumed} They prove neither grip, rebound nor safety in the cold; that takes tests of the product by its own standard, the limits of local codes and a qualified person.`;
}

/** The answer in plain words. */
function whatItTakesSentence(
  { compound }: Material,
  found: Omit<WhatItTakes, "sentence" | "caution">,
  cold: ColdOutlook,
): string {
  const at = statedTemperature(found.temperature_C);
  const start = `${compound} is ${found.verdict} at ${at} in "${found.use}".`;
  const rubbery = wayWords(found.toBeRubbery, `To be rubbery at ${at}`, measuredPeak(cold));
  const above =
    found.toLeaveGlassy === null
      ? ""
      : ` ${wayWords(found.toLeaveGlassy, "To leave the glassy state", null)}`;
  return `${start} ${rubbery}${above}`;
}

/** A contact slower by less is the same. */
const leastTimes = 1.005;

function wayWords(
  way: WayAcross,
  aim: string,
  peak: { frequency_Hz: number; temperature_C: number } | null,
): string {
  const fall = way.glassTransitionFall_K;
  const slower = way.contacts.filter(({ frequencyFactor }) => frequencyFactor.value < 1 / leastTimes);
  if (fall === null && way.contacts.length === 0)
    return `${aim}, what it would take is not determined: ${way.reasons.join("; ")}.`;
  const parts: string[] = [];
  if (fall !== null) {
    if (fall.value <= 0) {
      const sure =
        fall.high === null || fall.high <= 0
          ? ""
          : `; to be sure of it Tg would have to fall by ${kelvin(fall.high)}`;
      parts.push(`by the best estimate it is there already, with ${kelvin(-fall.value)} to spare${sure}`);
    } else {
      const from =
        peak === null
          ? ""
          : `, from ${fixed(peak.temperature_C, 1)} to about ${temperatureText(peak.temperature_C - fall.value, 1)} (tan δ peak at ${frequencyText(peak.frequency_Hz)})`;
      parts.push(
        `its Tg would have to fall by ${kelvin(fall.value)}${spread(fall, (value) => fixed(value, 1), " K")}${from}`,
      );
    }
  }
  if (slower.length > 0) parts.push(slower.map(slowerWords).join(" and "));
  if (parts.length === 0) parts.push("by the best estimate the contact is slow enough already");
  const missing = way.reasons.length > 0 ? ` Not determined: ${way.reasons.join("; ")}.` : "";
  return `${aim}, ${parts.join(", or ")}.${missing}`;
}

function slowerWords({ contact, frequencyFactor, speed_m_s, neededSpeed_m_s }: SlowerContact): string {
  const times = 1 / frequencyFactor.value;
  const interval = spread(
    {
      value: times,
      low: frequencyFactor.high === null ? null : 1 / frequencyFactor.high,
      high: frequencyFactor.low === null ? null : 1 / frequencyFactor.low,
    },
    significant,
    "",
  );
  const hopeless = times > 1e4 ? ", which no speed of use brings" : "";
  if (contact === "impact")
    return `the impact would have to last ${significant(times)} times as long${interval}${hopeless}`;
  const speed =
    neededSpeed_m_s === null
      ? ""
      : `, at ${significant(neededSpeed_m_s.value)} m/s instead of ${significant(speed_m_s ?? Number.NaN)} m/s`;
  return `the sliding would have to be ${significant(times)} times slower${interval}${speed}${hopeless}`;
}

function measuredPeak({ glassTemperatureMeasured }: ColdOutlook) {
  const temperature_C = glassTemperatureMeasured?.tanDeltaPeak_C ?? null;
  if (temperature_C === null || !glassTemperatureMeasured) return null;
  return { frequency_Hz: glassTemperatureMeasured.frequency_Hz, temperature_C };
}

/** " (5 to 9 K)", or nothing where there is no interval. */
function spread({ low, high }: ValueInterval, write: (value: number) => string, unit: string): string {
  return low === null || high === null ? "" : ` (${write(low)} to ${write(high)}${unit})`;
}

const kelvin = (value: number) => (value < 0.05 ? "less than 0.1 K" : `${fixed(value, 1)} K`);

/** Two digits, and three beside one: "0.045", "310", "1.02", "1.3×10⁻⁶". */
function significant(value: number): string {
  if (value < 1e6 && value >= 1e-4)
    return Number(value.toPrecision(value > 0.95 && value < 1.05 ? 3 : 2)).toString();
  const [digits, power] = value.toExponential(1).split("e");
  const raised = Array.from(String(Number(power)), (sign) =>
    sign === "-" ? "⁻" : "⁰¹²³⁴⁵⁶⁷⁸⁹"[Number(sign)],
  );
  return `${Number(digits)}×10${raised.join("")}`;
}
