import type { Material } from "../../../fit/material.js";
import type { Outlook } from "../../../predict/outlook.js";
import { outlookOf, type PredictedOutlook } from "../../../predict/outlook-of.js";
import type { PredictionSettings } from "../../../predict/prediction-settings.js";
import { besideReference } from "../../../predict/relative-to-reference.js";
import type { Texture, Use } from "../../../predict/use.js";
import type { Answer } from "../../html/answer/answer.js";
import type { LiveCompound, PageState } from "../page-state.js";

/** What is set and predicted at the moment. */
export interface Moment {
  setting: Setting;
  answer: Answer;
  /** False while the intervals in the use that is set are still to come. */
  isComplete: boolean;
  /** False while the uses of the study are still to be predicted in the contact that is set. */
  isJudged: boolean;
  /** Names the contact of the outlooks in those uses; empty while they are still those of another. */
  contact: string;
  /** The last outlooks that were complete before these: the axes keep room for them. */
  before: (Outlook | undefined)[];
}

/** Value and draws in each use; the notices stand in the report already. */
export type Predicted = Pick<PredictedOutlook, "outlook" | "draws">;

/** What the reader has set: a use of the study, and what is changed of it. */
export interface Setting {
  base: Use;
  temperature_C: number;
  speed_m_s: number | null;
  pressure_Pa: number | null;
  texture: Texture | null;
}

/** What is set on the page where a use of the study is chosen. */
export function settingOf(base: Use): Setting {
  return {
    base,
    temperature_C: base.temperature_C,
    speed_m_s: base.sliding?.speed_m_s ?? null,
    pressure_Pa: base.sliding?.pressure_Pa ?? null,
    texture: base.sliding?.texture ?? null,
  };
}

/** Whether the contact, apart from the temperature, is the study's own. */
export function isContactOfStudy({ base, speed_m_s, pressure_Pa, texture }: Setting): boolean {
  return (
    base.sliding === null ||
    (base.sliding.speed_m_s === speed_m_s &&
      base.sliding.pressure_Pa === pressure_Pa &&
      base.sliding.texture.name === texture?.name)
  );
}

/** Whether nothing was changed of the use. */
export function isOfStudy(setting: Setting): boolean {
  return setting.temperature_C === setting.base.temperature_C && isContactOfStudy(setting);
}

/** The use as set, at the set or another temperature. */
export function useOf(setting: Setting, temperature_C = setting.temperature_C): Use {
  return { ...withContact(setting.base, setting), temperature_C };
}

/** A use of the study with the contact the reader has set. */
export function withContact(use: Use, { speed_m_s, pressure_Pa, texture }: Setting): Use {
  if (use.sliding === null || speed_m_s === null || pressure_Pa === null || texture === null) return use;
  return { ...use, sliding: { speed_m_s, pressure_Pa, texture } };
}

/** What a prediction needs of a compound. */
export type Predictable = Pick<
  LiveCompound,
  | "name"
  | "glassTransitions"
  | "superposition"
  | "calibration"
  | "strainSoftening"
  | "softening"
  | "measuredStates"
  | "hasNoSweep"
  | "live"
  | "liveDraws"
  | "liveSpectraAt"
>;

/** The material as the command line predicts from it; without draws the intervals shrink to the value. */
function liveMaterial(compound: Predictable, withDraws: boolean): Material {
  return {
    compound: compound.name,
    glassTransitions: compound.glassTransitions,
    superposition: compound.superposition && { ...compound.superposition, masterCurve: null },
    model: compound.live,
    draws: withDraws ? compound.liveDraws() : [],
    spectraAt: compound.liveSpectraAt().map((one) => (withDraws ? one : { ...one, draws: [] })),
    notices: [],
    measuredStates: compound.measuredStates,
    hasNoSweep: compound.hasNoSweep,
    network: null,
    payneEffects: [],
    strainSoftening: compound.strainSoftening,
    softening: compound.softening,
  };
}

/** What is predicted: the values alone, with their intervals, or without a verdict, as for a point of a curve. */
export interface Wanted {
  withDraws: boolean;
  withVerdict: boolean;
}

/** One compound in one use, by the same function as the command line. */
export function predictOne(
  settings: PredictionSettings,
  compound: Predictable,
  use: Use,
  { withDraws, withVerdict }: Wanted,
): PredictedOutlook {
  return outlookOf(liveMaterial(compound, withDraws), use, settings, compound.calibration, {
    verdict: withVerdict,
    otherSurface: false,
  });
}

/** Grip and rebound of each compound relative to the reference compound's; as they are where there is none. */
export function relateToReference(state: PageState, predicted: Predicted[]): Predicted[] {
  const reference = predicted[state.compounds.findIndex((compound) => compound.isReference)];
  return reference === undefined ? predicted : predicted.map((one) => besideReference(one, reference));
}
