import type { Decision } from "../../../predict/decision/decision.js";
import { decisionOf } from "../../../predict/decision/decision-of.js";
import type { Requirement } from "../../../predict/decision/requirement.js";
import { drawnKinds } from "../../drawn-kinds.js";
import type { Answer, AnsweredCompound } from "../../html/answer/answer.js";
import type { PageState } from "../page-state.js";
import { afterPaint, nextFrame } from "../paint.js";
import type { PredictionBatch, PredictionPool } from "./prediction-pool.js";
import type { Moment, Predicted } from "./predictions.js";
import { isContactOfStudy, type Setting, useOf, withContact } from "./predictions.js";
import { type PredictedUses, usePredictions } from "./use-predictions.js";
import { areLimitsMoved, type View } from "./view.js";

/** In which order the pool works: what the reader sees first comes first. Curves rank behind. */
const ranks = { values: 0, usesValues: 1, intervals: 2, usesIntervals: 3 };

const mostPredictedHere = 24;

/** What is predicted: in the use that is set, and in each use of the study in the contact that is set. */
interface Known {
  setting: Setting;
  outlooks: Predicted[];
  isComplete: boolean;
  perUse: Predicted[][];
  /** The contact that `perUse` holds for. */
  contact: string;
  areUsesComplete: boolean;
  /** Which draws of the uses `perUse` has, in words. */
  drawn: string;
}

/**
 * One state of the page: what the reader has set, and what follows from it. A change is announced before anything is
 * predicted, so that no part shows the old as the new; then the values come with the next frame, their intervals as soon
 * as they are there, and where the contact was changed the uses of the study likewise. A newer change calls off what an
 * older one still has to do.
 *
 * @param show writes all parts of the page, whenever more is known
 * @param announce says that a setting is being predicted
 */
export function whatIf(
  state: PageState,
  view: View,
  pool: PredictionPool,
  show: (moment: Moment) => void,
  announce: (setting: Setting) => void,
) {
  const predictions = usePredictions(state);
  const { uses, start } = state.data;
  const first = view.setting;
  let known: Known | null = null;
  let before: Moment["before"] = [];
  let wanted: Setting | null = null;
  let isSettling = false;
  let batch: PredictionBatch = pool.batch();
  let decided: { key: unknown[]; decision: Decision | null } | null = null;

  const askedNow = () => view.asked.filter(({ isOn }) => isOn).map(({ requirement }) => requirement);
  const drawnFor = (asked: Requirement[]) => JSON.stringify(uses.map(({ name }) => drawnKinds(asked, name)));

  /** Judged anew only where the uses' outlooks or the limits have changed. */
  const decisionNow = (perUse: Predicted[][]): Decision | null => {
    const on = askedNow();
    const key = [perUse, JSON.stringify(on)];
    if (decided === null || decided.key.some((part, k) => part !== key[k])) {
      const decision = decisionOf(
        on,
        state.compounds.map(({ name, isReference, properties, softening, superposition, index }) => ({
          name,
          isReference,
          properties,
          softening,
          isAssumed: superposition?.source === "assumed",
          outlooks: perUse.map((ofUse) => ofUse[index]),
        })),
      );
      decided = { key, decision };
    }
    return decided.decision;
  };
  const answerNow = ({ setting, outlooks, perUse, areUsesComplete }: Known): Answer => ({
    use: start === null ? null : useOf(setting),
    compounds: answeredCompounds(state, perUse),
    outlooks: outlooks.map(({ outlook }) => outlook),
    decision: areUsesComplete ? decisionNow(perUse) : (decided?.decision ?? null),
    areLimitsMoved: areLimitsMoved(state.data, view),
  });
  const momentNow = (now: Known): Moment => ({
    setting: now.setting,
    answer: answerNow(now),
    isComplete: now.isComplete,
    isJudged: now.areUsesComplete,
    contact: now.contact,
    before,
  });
  const showNow = (next: Known) => {
    if (known?.isComplete) before = known.outlooks.map(({ outlook }) => outlook);
    known = next;
    show(momentNow(next));
  };

  const settle = async (setting: Setting): Promise<void> => {
    const use = useOf(setting);
    const contact = contactOf(setting);
    const inContact = uses.map((ofStudy) => withContact(ofStudy, setting));
    batch = pool.batch();
    const own = batch;
    const isCurrent = () => batch === own && wanted === null;
    const asked = askedNow();
    const drawn = drawnFor(asked);
    const storedUses =
      known?.contact === contact && known.areUsesComplete && known.drawn === drawn
        ? known.perUse
        : predictions.known(inContact, asked);
    // A requirement that was added may need draws that the report does not hold; the numbers themselves stand.
    const shownUses = storedUses ?? predictions.known(inContact);
    const usesNow = shownUses ?? known?.perUse ?? [];
    const storedHere = predictions.known([use]);
    if (storedHere !== null && storedUses !== null) {
      await nextFrame();
      const [outlooks] = storedHere;
      if (wanted === null)
        showNow({
          setting,
          outlooks,
          isComplete: true,
          perUse: storedUses,
          contact,
          areUsesComplete: true,
          drawn,
        });
      return;
    }
    const ask = () => ({
      here: storedHere ?? predictions.whole(own, [use], ranks.intervals),
      usesValues: shownUses ?? predictions.values(own, inContact, ranks.usesValues),
      uses: storedUses ?? predictions.whole(own, inContact, ranks.usesIntervals, asked),
    });
    const early = pool.hasCoresToSpare ? ask() : null;
    const values = storedHere ?? (await valuesOf(use));
    await nextFrame();
    if (values === null) return;
    const areUsesComplete = storedUses !== null;
    showNow({
      setting,
      outlooks: values[0],
      isComplete: storedHere !== null,
      perUse: usesNow,
      contact: shownUses === null ? "" : contact,
      areUsesComplete,
      drawn,
    });
    // Where two threads share two cores, what is drawn first should not wait for what comes later.
    if (early === null) await afterPaint();
    if (wanted !== null) return;
    const coming = early ?? ask();
    const follow = async (
      predicted: PredictedUses | Promise<PredictedUses>,
      take: (found: Predicted[][]) => Known,
    ) => {
      const found = await predicted;
      if (found === null) return;
      await nextFrame();
      if (isCurrent()) showNow(take(found));
    };
    if (storedHere === null)
      void follow(coming.here, ([outlooks]) => ({ ...known!, outlooks, isComplete: true }));
    if (storedUses === null) {
      if (shownUses === null)
        await follow(coming.usesValues, (perUse) =>
          known!.areUsesComplete ? known! : { ...known!, perUse, contact },
        );
      void follow(coming.uses, (perUse) => ({ ...known!, perUse, contact, areUsesComplete: true }));
    }
  };
  /** A dozen compounds are predicted here in less time than it takes to draw them. */
  const valuesOf = async (use: ReturnType<typeof useOf>): Promise<PredictedUses> =>
    pool.hasCoresToSpare || state.compounds.length > mostPredictedHere
      ? predictions.values(pool.batch(), [use], ranks.values)
      : [predictions.valuesHere(use)];

  if (first !== null) {
    const stored = predictions.known([useOf(first)]);
    known = {
      setting: first,
      outlooks: stored?.[0] ?? [],
      isComplete: true,
      perUse: predictions.known(uses) ?? [],
      contact: contactOf(first),
      areUsesComplete: true,
      drawn: drawnFor(askedNow()),
    };
  }

  /** Predicts for a new setting and shows it. */
  const set = async (setting: Setting): Promise<void> => {
    view.setting = setting;
    batch.callOff();
    announce(setting);
    wanted = setting;
    if (isSettling) return;
    isSettling = true;
    try {
      while (wanted !== null) {
        const next: Setting = wanted;
        wanted = null;
        await settle(next);
      }
    } finally {
      isSettling = false;
    }
  };

  return {
    moment: (): Moment | null => (known === null ? null : momentNow(known)),
    /** Shows anew what follows from limits, axes or pins; predicts what a requirement needs that was added. */
    refresh(): void {
      if (known === null) return;
      const asked = askedNow();
      const drawn = drawnFor(asked);
      if (known.drawn !== drawn) {
        const { setting, areUsesComplete } = known;
        const perUse = predictions.known(
          uses.map((use) => withContact(use, setting)),
          asked,
        );
        if (perUse === null || !areUsesComplete) return void set(view.setting ?? setting);
        known = { ...known, perUse, drawn };
      }
      show(momentNow(known));
    },
    set,
  };
}

/** The page's compounds with the outlooks of the study's uses in the contact that is set. */
function answeredCompounds(state: PageState, perUse: Predicted[][]): AnsweredCompound[] {
  return state.compounds.map((compound) => ({
    name: compound.name,
    inputs: compound.inputs,
    glassTransitions: [...compound.glassTransitions, ...compound.unmovedTransitions],
    superposition: compound.superposition,
    flags: compound.flags,
    isReference: compound.isReference,
    properties: compound.properties,
    outlooks: perUse.map((ofUse) => ofUse[compound.index].outlook),
  }));
}

/** Names the contact; without a speed each use keeps the one it has in the study. */
export function contactOf(setting: Setting): string {
  if (isContactOfStudy(setting)) return "own";
  return JSON.stringify([setting.speed_m_s, setting.pressure_Pa, setting.texture?.name]);
}
