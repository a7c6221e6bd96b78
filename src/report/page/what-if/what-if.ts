import type { Outlook } from "../../../predict/outlook.js";
import type { Use } from "../../../predict/use.js";
import type { JudgedCompound } from "../../results/results.js";
import type { PageState } from "../page-state.js";
import type { PredictionBatch, PredictionPool } from "./prediction-pool.js";
import type { Moment } from "./predictions.js";
import { isContactOfStudy, type Setting, settingOf, useOf, withContact } from "./predictions.js";
import { shownMap } from "./shown-map.js";
import { shownVerdicts } from "./shown-verdicts.js";
import { type OutlooksOfUses, usePredictions } from "./use-predictions.js";

/** In which order the pool works: what the reader sees first comes first. Curves rank behind. */
const ranks = { mapValues: 0, verdictValues: 1, mapIntervals: 2, verdictIntervals: 3 };

const mostPredictedHere = 24;

/**
 * Predicts again when the reader changes the setting: the values with the next frame, their intervals as soon
 * as they are there, and where the contact was changed, the verdicts of all uses likewise. A newer change
 * calls off what an older one still has to do, but the values of a change under way are shown, so that the
 * page follows a hand that does not rest.
 */
export function whatIf(state: PageState, pool: PredictionPool, redraw: (what: "map" | "curves") => void) {
  const predictions = usePredictions(state);
  const map = shownMap(state);
  const verdicts = shownVerdicts(state);
  const { start } = state.data;
  let moment: Moment | null = null;
  let wanted: Setting | null = null;
  let isSettling = false;
  let intervals: PredictionBatch = pool.batch();
  let judged = { contact: "own", isComplete: true };

  const showMap = (setting: Setting, outlooks: Outlook[], isComplete: boolean) => {
    const before = moment === null ? [] : moment.isComplete ? moment.outlooks : moment.before;
    moment = { setting, outlooks, isComplete, before };
    // The plot first: it measures, and would measure anew all that was written before it.
    redraw("map");
    map.show(setting, outlooks);
    map.markPending(!isComplete || wanted !== null);
  };
  const showVerdicts = (perUse: Outlook[][], isComplete: boolean, contact: string) => {
    verdicts.show(asResults(state, perUse), isComplete);
    judged = { contact, isComplete };
    if (isComplete) redraw("curves");
  };

  /** One setting: what is remembered of it at once, else its values; the intervals are left to `follow`. */
  const settle = async (setting: Setting): Promise<void> => {
    const use = useOf(setting);
    const contact = contactOf(setting);
    const uses = state.data.uses.map((ofStudy) => withContact(ofStudy, setting));
    const isBack = contact === "own" && judged.contact !== "own";
    const isNew = contact !== "own" && (judged.contact !== contact || !judged.isComplete);
    intervals = pool.batch();
    const batch = intervals;
    const mapKnown = predictions.known([use]);
    const verdictsKnown = isNew ? predictions.known(uses) : null;
    const askRest = () => {
      const areValuesShown = judged.contact === contact || verdictsKnown !== null;
      return {
        verdictValues:
          isNew && !areValuesShown ? predictions.values(batch, uses, ranks.verdictValues) : verdictsKnown,
        mapWhole: mapKnown === null ? predictions.whole(batch, [use], ranks.mapIntervals) : null,
        verdictsWhole:
          isNew && verdictsKnown === null ? predictions.whole(batch, uses, ranks.verdictIntervals) : null,
      };
    };

    const early = pool.hasCoresToSpare ? askRest() : null;
    const mapValues = mapKnown ?? (await mapValuesOf(use));
    await nextFrame();
    if (mapValues !== null) showMap(setting, mapValues[0], mapKnown !== null);
    if (isBack) {
      verdicts.restore();
      judged = { contact, isComplete: true };
      redraw("curves");
    }
    // Where two threads share two cores, what is drawn first should not wait for what comes later.
    if (early === null) await afterPaint();
    if (wanted !== null) return;
    const { verdictValues, mapWhole, verdictsWhole } = early ?? askRest();
    void follow(batch, mapWhole, ([whole]) => showMap(setting, whole, true));
    if (verdictValues !== null) {
      const isComplete = verdictsKnown !== null;
      await follow(batch, verdictValues, (perUse) => showVerdicts(perUse, isComplete, contact));
    }
    void follow(batch, verdictsWhole, (perUse) => showVerdicts(perUse, true, contact));
  };
  /** A dozen compounds are predicted here in less time than it takes to draw them. */
  const mapValuesOf = async (use: Use) =>
    pool.hasCoresToSpare || state.compounds.length > mostPredictedHere
      ? predictions.values(pool.batch(), [use], ranks.mapValues)
      : [predictions.valuesHere(use)];
  const follow = async (
    batch: PredictionBatch,
    coming: Promise<OutlooksOfUses> | OutlooksOfUses,
    show: (perUse: Outlook[][]) => void,
  ) => {
    const perUse = await coming;
    if (perUse === null) return;
    await nextFrame();
    if (batch === intervals && wanted === null) show(perUse);
  };

  return {
    start: start === null ? startWithoutMap(state) : settingOf(start.use),
    hasMap: start !== null,
    moment: () => moment,
    showSection: verdicts.showSection,
    /** Predicts for a new setting and shows it. */
    async set(setting: Setting): Promise<void> {
      if (moment === null) {
        // What the report was written with; its table stands there already.
        const outlooks = state.data.startOutlooks.map((outlook) => outlook ?? nothing(setting));
        moment = { setting, outlooks, isComplete: true, before: [] };
        map.markPending(false);
        return;
      }
      intervals.callOff();
      map.markPending(true);
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
    },
  };
}

/** The page's compounds with the outlooks of the moment's contact. */
function asResults(state: PageState, perUse: Outlook[][]): JudgedCompound[] {
  return state.compounds.map(({ name, inputs, glassTransitions, superposition, flags, index }) => ({
    name,
    inputs,
    glassTransitions,
    superposition,
    flags,
    outlooks: perUse.map((ofUse) => ofUse[index]),
  }));
}

/** Names the contact; without a speed each use keeps the one it has in the study. */
function contactOf(setting: Setting): string {
  if (isContactOfStudy(setting)) return "own";
  return JSON.stringify([setting.speed_m_s, setting.pressure_Pa, setting.texture?.name]);
}

/** Where grip and rebound are never known together the curves still need a contact. */
function startWithoutMap(state: PageState): Setting | null {
  const use = state.data.uses.find((candidate) => candidate.sliding !== null) ?? state.data.uses[0];
  return use === undefined ? null : settingOf(use);
}

function nothing({ base, temperature_C }: Setting): Outlook {
  return {
    use: base.name,
    temperature_C,
    rebound: null,
    grip: null,
    cushioning: null,
    cold: null,
    nearestMeasurement: null,
    flags: [],
  };
}

/** Right before the page is next drawn; in a tab out of sight, which is not drawn, without delay. */
export function nextFrame(): Promise<void> {
  return new Promise((resolve) => {
    if (document.hidden) setTimeout(resolve, 0);
    else requestAnimationFrame(() => resolve());
  });
}

/** When what was written in this frame has been drawn. */
export function afterPaint(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve();
    };
    port2.postMessage(null);
  });
}
