import type { PredictionSettings } from "../../../predict/prediction-settings.js";
import type { Use } from "../../../predict/use.js";
import type { PageCompound } from "../../page-data.js";
import { liveModel } from "../page-state.js";
import type { Predicted, Wanted } from "./predictions.js";
import { type Predictable, predictOne } from "./predictions.js";

/** What a prediction needs of a compound, as it travels to a worker: packed. */
export type PackedPredictable = Pick<
  PageCompound,
  | "name"
  | "glassTransitions"
  | "superposition"
  | "model"
  | "draws"
  | "spectraAt"
  | "calibration"
  | "strainSoftening"
  | "softening"
  | "measuredStates"
  | "hasNoSweep"
>;

/** One compound in some uses. The lowest rank goes first; a batch can be called off as a whole. */
export interface PredictionTask {
  id: number;
  batch: number;
  rank: number;
  compound: number;
  uses: Use[];
  wanted: Wanted;
}

export type ServerRequest =
  | { kind: "compounds"; settings: PredictionSettings; compounds: [number, PackedPredictable][] }
  | { kind: "task"; task: PredictionTask }
  | { kind: "call off"; batch: number };

export type ServerAnswer =
  | { kind: "ready" }
  | { kind: "predicted"; id: number; predicted: Predicted[] }
  | { kind: "failed"; id: number; message: string };

/**
 * Works off predictions one task at a time and looks for new requests after each, so that a newer change
 * never waits for an older one. The same in a worker and in the page itself.
 *
 * @param later calls back when waiting requests have been taken in
 */
export function predictionServer(
  answer: (answer: ServerAnswer) => void,
  later: (step: () => void) => void,
): (request: ServerRequest) => void {
  const compounds = new Map<number, Predictable>();
  let settings: PredictionSettings | null = null;
  let queue: PredictionTask[] = [];
  let isRunning = false;

  const work = ({ id, compound, uses, wanted }: PredictionTask): ServerAnswer => {
    try {
      const predictable = compounds.get(compound);
      if (predictable === undefined || settings === null) throw new Error(`no compound ${compound}`);
      const predicted = uses.map((use) => {
        const { outlook, draws } = predictOne(settings!, predictable, use, wanted);
        return { outlook, draws };
      });
      return { kind: "predicted", id, predicted };
    } catch (error) {
      return { kind: "failed", id, message: error instanceof Error ? error.message : String(error) };
    }
  };
  const step = () => {
    const next = queue.reduce<PredictionTask | null>(
      (first, task) => (first === null || task.rank < first.rank ? task : first),
      null,
    );
    if (next === null) {
      isRunning = false;
      return;
    }
    queue = queue.filter((task) => task !== next);
    answer(work(next));
    later(step);
  };
  return (request) => {
    if (request.kind === "compounds") {
      settings = request.settings;
      for (const [index, packed] of request.compounds) {
        compounds.set(index, { ...packed, ...liveModel(packed) });
      }
    } else if (request.kind === "call off") {
      queue = queue.filter(({ batch }) => batch !== request.batch);
    } else {
      queue.push(request.task);
      if (isRunning) return;
      isRunning = true;
      later(step);
    }
  };
}

/** What the page's script does where it finds itself in a worker. */
export function servePredictions(): void {
  const answer = (message: ServerAnswer) => postMessage(message);
  // A message to itself queues behind those that wait already; a timer would be held back by some milliseconds.
  const { port1, port2 } = new MessageChannel();
  let next: (() => void) | null = null;
  port1.onmessage = () => next?.();
  const receive = predictionServer(answer, (step) => {
    next = step;
    port2.postMessage(null);
  });
  addEventListener("message", ({ data }: MessageEvent<ServerRequest>) => receive(data));
  answer({ kind: "ready" });
}
