import type { Outlook } from "../../../predict/outlook.js";
import type { Texture, Use } from "../../../predict/use.js";
import type { PageState } from "../page-state.js";
import type { PredictionBatch } from "./prediction-pool.js";
import type { Predicted } from "./predictions.js";
import { predictOne, relateToReference } from "./predictions.js";

/** Outlooks of each use, of each compound in it; null where the batch was called off. */
export type OutlooksOfUses = Outlook[][] | null;

/** A few thousand outlooks take some megabytes. */
const mostKnown = 4000;

/** All compounds in some uses, by the pool; with their intervals each use is predicted once and remembered. */
export function usePredictions(state: PageState) {
  const known = new Map<string, Outlook[]>();
  const textures = new Map<Texture, number>();
  /** What is under way, so that the map and the verdicts do not both ask for the same use. */
  let underWay = {
    batch: null as PredictionBatch | null,
    uses: new Map<string, Promise<Outlook[] | null>>(),
  };

  const keyOf = ({ temperature_C, sliding, impact }: Use) => {
    if (sliding !== null && !textures.has(sliding.texture)) textures.set(sliding.texture, textures.size);
    const { speed_m_s, pressure_Pa, texture } = sliding ?? {};
    return JSON.stringify([temperature_C, speed_m_s, pressure_Pa, texture && textures.get(texture), impact]);
  };
  const named = (outlooks: Outlook[] | null, { name }: Use) =>
    outlooks?.map((outlook) => ({ ...outlook, use: name })) ?? null;
  const recall = (use: Use) => named(known.get(keyOf(use)) ?? null, use);
  const remember = (use: Use, outlooks: Outlook[]) => {
    const key = keyOf(use);
    known.delete(key);
    known.set(key, outlooks);
    const most = Math.max(1, Math.floor(mostKnown / state.compounds.length));
    for (const oldest of known.keys()) {
      if (known.size <= most) break;
      known.delete(oldest);
    }
  };
  const related = (predicted: Predicted[]) =>
    relateToReference(state, predicted).map(({ outlook }) => outlook);

  /** One use with its intervals, compound by compound. */
  const predict = async (batch: PredictionBatch, use: Use, rank: number): Promise<Outlook[] | null> => {
    const answers = await Promise.all(
      state.compounds.map(({ index }) => batch.ask(index, [use], true, rank)),
    );
    const predicted = answers.flatMap((answer) => answer ?? []);
    if (predicted.length < answers.length) return null;
    const outlooks = related(predicted);
    remember(use, outlooks);
    return outlooks;
  };
  const whole = async (batch: PredictionBatch, use: Use, rank: number): Promise<Outlook[] | null> => {
    if (underWay.batch !== batch) underWay = { batch, uses: new Map() };
    const key = keyOf(use);
    const coming = recall(use) ?? underWay.uses.get(key) ?? predict(batch, use, rank);
    if (coming instanceof Promise) underWay.uses.set(key, coming);
    return named(await coming, use);
  };

  return {
    /** What is remembered of the uses, where that is all of them. */
    known(uses: Use[]): OutlooksOfUses {
      const outlooks = uses.map(recall);
      return outlooks.every((ofUse) => ofUse !== null) ? outlooks : null;
    },
    /** The values alone; low and high repeat them. */
    async values(batch: PredictionBatch, uses: Use[], rank: number): Promise<OutlooksOfUses> {
      const answers = await Promise.all(
        state.compounds.map(({ index }) => batch.ask(index, uses, false, rank)),
      );
      if (answers.some((answer) => answer === null)) return null;
      return uses.map((_, k) => related(answers.map((answer) => answer![k])));
    },
    /** The values alone, in the page itself and at once. */
    valuesHere: (use: Use): Outlook[] =>
      related(
        state.compounds.map((compound) => predictOne(state.data.predictionSettings, compound, use, false)),
      ),
    /** Values and intervals. */
    async whole(batch: PredictionBatch, uses: Use[], rank: number): Promise<OutlooksOfUses> {
      const outlooks = await Promise.all(uses.map((use) => whole(batch, use, rank)));
      return outlooks.every((ofUse) => ofUse !== null) ? outlooks : null;
    },
  };
}
