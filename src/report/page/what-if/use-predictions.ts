import type { Requirement } from "../../../predict/decision/requirement.js";
import type { OutlookDraws } from "../../../predict/outlook-of.js";
import type { Use } from "../../../predict/use.js";
import { drawnKinds } from "../../drawn-kinds.js";
import { composedOutlook, composedUses } from "../../html/answer/composed-use.js";
import { drawBytes, unpackNumbers } from "../../packed-numbers.js";
import type { LiveCompound, PageState } from "../page-state.js";
import type { PredictionBatch } from "./prediction-pool.js";
import type { Predicted } from "./predictions.js";
import { predictOne, relateToReference } from "./predictions.js";

/** Of each use, of each compound in it; null where the batch was called off. */
export type PredictedUses = Predicted[][] | null;

/** A few thousand outlooks take some megabytes. */
const mostKnown = 4000;

type Kinds = (keyof OutlookDraws)[];

const valuesOnly = { withDraws: false, withVerdict: true };

const noDraws: OutlookDraws = { rebound: null, grip: null, peakForce_N: null, indentation_m: null };

/** All compounds in some uses, by the pool; with their intervals each use is predicted once and remembered. */
export function usePredictions(state: PageState) {
  const known = new Map<string, Predicted[]>();
  /** What results.json says: it never has to be predicted again. */
  const stored = new Map<string, { predicted: Predicted[]; kinds: Kinds }>();
  /** What is under way, so that the map and the verdicts do not both ask for the same use. */
  let underWay = {
    batch: null as PredictionBatch | null,
    uses: new Map<string, Promise<Predicted[] | null>>(),
  };

  const keyOf = ({ temperature_C, sliding, impact }: Use) => {
    const { speed_m_s, pressure_Pa, texture } = sliding ?? {};
    // A texture is known by its name and parameters; a measured spectrum would make a long key.
    const surface = texture && { ...texture, measured: texture.measured !== null };
    return JSON.stringify([temperature_C, speed_m_s, pressure_Pa, surface, impact]);
  };
  for (const composed of composedUses(state.data.uses)) {
    const outlooks = state.compounds.map((compound) => composedOutlook(compound, composed));
    if (outlooks.every((outlook) => outlook !== undefined))
      stored.set(keyOf(composed.use), {
        predicted: outlooks.map((outlook) => ({ outlook, draws: noDraws })),
        kinds: [],
      });
  }
  for (const [u, use] of state.data.uses.entries())
    if (state.compounds.every(({ outlooks }) => outlooks[u] !== undefined))
      stored.set(keyOf(use), {
        predicted: state.compounds.map((compound) => storedPrediction(compound, u)),
        kinds: drawnKinds(state.data.requirements, use.name),
      });

  const named = (predicted: Predicted[] | null, { name }: Use) =>
    predicted?.map((one) => ({ ...one, outlook: { ...one.outlook, use: name } })) ?? null;
  /** What is there of a use, with the draws that are needed; the report's own numbers go before those predicted here. */
  const recall = (use: Use, kinds: Kinds): Predicted[] | null => {
    const kept = stored.get(keyOf(use));
    const made = known.get(keyOf(use)) ?? null;
    if (kept === undefined) return named(made, use);
    if (kinds.every((kind) => kept.kinds.includes(kind))) return named(kept.predicted, use);
    const withDraws = made?.map(({ draws }, index) => ({ ...kept.predicted[index], draws })) ?? null;
    return named(withDraws, use);
  };
  const remember = (use: Use, predicted: Predicted[]) => {
    const key = keyOf(use);
    known.delete(key);
    known.set(key, predicted);
    const most = Math.max(1, Math.floor(mostKnown / state.compounds.length));
    for (const oldest of known.keys()) {
      if (known.size <= most) break;
      known.delete(oldest);
    }
  };
  const related = (predicted: Predicted[]) => relateToReference(state, predicted);

  /** One use with its intervals, compound by compound. */
  const predict = async (batch: PredictionBatch, use: Use, rank: number): Promise<Predicted[] | null> => {
    const answers = await Promise.all(
      state.compounds.map(({ index }) =>
        batch.ask(index, [use], { withDraws: true, withVerdict: true }, rank),
      ),
    );
    const predicted = answers.flatMap((answer) => answer ?? []);
    if (predicted.length < answers.length) return null;
    const whole = related(predicted);
    remember(use, whole);
    return whole;
  };
  const whole = async (
    batch: PredictionBatch,
    use: Use,
    rank: number,
    kinds: Kinds,
  ): Promise<Predicted[] | null> => {
    if (underWay.batch !== batch) underWay = { batch, uses: new Map() };
    const key = keyOf(use);
    const coming = recall(use, kinds) ?? underWay.uses.get(key) ?? predict(batch, use, rank);
    if (coming instanceof Promise) underWay.uses.set(key, coming);
    const found = await coming;
    return found === null ? null : (recall(use, kinds) ?? named(found, use));
  };

  return {
    /** What is remembered of the uses, where that is all of them and has the draws that requirements are judged by. */
    known(uses: Use[], asked: Requirement[] = []): PredictedUses {
      const predicted = uses.map((use) => recall(use, drawnKinds(asked, use.name)));
      return predicted.every((ofUse) => ofUse !== null) ? predicted : null;
    },
    /** The values alone; low and high repeat them. */
    async values(batch: PredictionBatch, uses: Use[], rank: number): Promise<PredictedUses> {
      const answers = await Promise.all(
        state.compounds.map(({ index }) => batch.ask(index, uses, valuesOnly, rank)),
      );
      if (answers.some((answer) => answer === null)) return null;
      return uses.map((_, k) => related(answers.map((answer) => answer![k])));
    },
    /** The values alone, in the page itself and at once. */
    valuesHere: (use: Use): Predicted[] =>
      related(
        state.compounds.map((compound) =>
          predictOne(state.data.predictionSettings, compound, use, valuesOnly),
        ),
      ),
    /** Values and intervals, with the draws that requirements are judged by. */
    async whole(
      batch: PredictionBatch,
      uses: Use[],
      rank: number,
      asked: Requirement[] = [],
    ): Promise<PredictedUses> {
      const predicted = await Promise.all(
        uses.map((use) => whole(batch, use, rank, drawnKinds(asked, use.name))),
      );
      return predicted.every((ofUse) => ofUse !== null) ? predicted : null;
    },
  };
}

/** What results.json says of a compound in a use of the study, with the draws that requirements are judged by. */
function storedPrediction({ outlooks, drawsOfUses }: LiveCompound, use: number): Predicted {
  const draws = { ...noDraws };
  for (const [kind, packed] of Object.entries(drawsOfUses[use] ?? {}) as [keyof OutlookDraws, string][])
    draws[kind] = unpackNumbers(packed, drawBytes);
  return { outlook: outlooks[use], draws };
}
