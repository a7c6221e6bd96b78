import type { Use } from "../../../predict/use.js";
import type { PageState } from "../page-state.js";
import {
  type PackedPredictable,
  type PredictionTask,
  predictionServer,
  type ServerAnswer,
  type ServerRequest,
} from "./prediction-server.js";
import type { Predicted, Wanted } from "./predictions.js";

/** Tasks that are called off together. */
export interface PredictionBatch {
  /** A compound in each of the uses; null where the batch was called off before. Lower ranks go first. */
  ask(compound: number, uses: Use[], wanted: Wanted, rank: number): Promise<Predicted[] | null>;
  callOff(): void;
}

export interface PredictionPool {
  batch(): PredictionBatch;
  /** Whether workers can be at work without taking the page's own time. */
  hasCoresToSpare: boolean;
  /** Starts the workers before the first question, and lets each compile what it will run. */
  warmUp(use: Use): void;
}

/** More share out a dozen compounds hardly better. */
const mostWorkers = 6;

/** How long the first worker may take to say that it is there; after that the page does the work itself. */
const start_ms = 5000;

const cores = () => navigator.hardwareConcurrency || 2;

interface Waiting {
  task: PredictionTask;
  resolve(predicted: Predicted[] | null): void;
  reject(error: Error): void;
}

type Send = (compound: number | null, request: ServerRequest) => void;

/**
 * Predictions by workers that run the page's own script; each keeps its share of the compounds. A page opened
 * from disk may start them from a blob: URL only. Where a browser forbids that too, the page does the same
 * work itself, one task at a time, with a pause after each for what the reader does.
 */
export function predictionPool(state: PageState, script: string): PredictionPool {
  const waiting = new Map<number, Waiting>();
  let id = 0;
  let batches = 0;
  let send: Send | null = null;

  const take = (answer: ServerAnswer) => {
    if (answer.kind === "ready") return;
    const asked = waiting.get(answer.id);
    if (asked === undefined) return;
    waiting.delete(answer.id);
    if (answer.kind === "predicted") asked.resolve(answer.predicted);
    else asked.reject(new Error(`A prediction failed: ${answer.message}`));
  };
  const workHere = () => {
    const receive = predictionServer(take, (step) => setTimeout(step, 0));
    receive(compoundsOf(state, 0, 1));
    for (const { task } of waiting.values()) receive({ kind: "task", task });
    send = (_, request) => receive(request);
  };
  const started = (): Send => {
    if (send !== null) return send;
    const workers = startWorkers(state, script, take, workHere);
    if (workers === null) workHere();
    else {
      send = (compound, request) => {
        const asked = compound === null ? workers : [workers[compound % workers.length]];
        for (const worker of asked) worker.postMessage(request);
      };
    }
    return send!;
  };

  return {
    hasCoresToSpare: cores() > 2,
    batch() {
      const batch = batches++;
      return {
        ask: (compound, uses, wanted, rank) =>
          new Promise((resolve, reject) => {
            const ask = started();
            const task = { id: id++, batch, rank, compound, uses, wanted };
            waiting.set(task.id, { task, resolve, reject });
            ask(compound, { kind: "task", task });
          }),
        callOff() {
          const own = [...waiting.values()].filter(({ task }) => task.batch === batch);
          if (own.length === 0) return;
          send?.(null, { kind: "call off", batch });
          for (const { task, resolve } of own) {
            waiting.delete(task.id);
            resolve(null);
          }
        },
      };
    },
    warmUp(use) {
      const batch = this.batch();
      for (const { index, live } of state.compounds.slice(0, mostWorkers)) {
        if (live !== null)
          void batch.ask(index, [use], { withDraws: true, withVerdict: true }, Number.POSITIVE_INFINITY);
      }
    },
  };
}

function startWorkers(
  state: PageState,
  script: string,
  take: (answer: ServerAnswer) => void,
  giveUp: () => void,
): Worker[] | null {
  const count = Math.min(mostWorkers, cores(), state.compounds.length);
  const url = URL.createObjectURL(new Blob([script], { type: "text/javascript" }));
  const workers: Worker[] = [];
  try {
    for (let k = 0; k < count; k++) workers.push(new Worker(url));
  } catch {
    for (const worker of workers) worker.terminate();
    return null;
  }
  let isGivenUp = false;
  const endAll = () => {
    if (isGivenUp) return;
    isGivenUp = true;
    for (const worker of workers) worker.terminate();
    giveUp();
  };
  const silent = setTimeout(endAll, start_ms);
  let ready = 0;
  workers.forEach((worker, k) => {
    worker.onerror = (event) => {
      event.preventDefault();
      endAll();
    };
    worker.onmessage = ({ data }: MessageEvent<ServerAnswer>) => {
      if (data.kind === "ready" && ++ready === count) {
        clearTimeout(silent);
        URL.revokeObjectURL(url);
      }
      if (!isGivenUp) take(data);
    };
    worker.postMessage(compoundsOf(state, k, count));
  });
  return workers;
}

/** What worker k of so many has to know. */
function compoundsOf({ data, compounds }: PageState, k: number, of: number): ServerRequest {
  return {
    kind: "compounds",
    settings: data.predictionSettings,
    compounds: compounds
      .filter(({ index }) => index % of === k)
      .map(
        ({
          index,
          name,
          glassTransitions,
          superposition,
          model,
          draws,
          spectraAt,
          calibration,
          strainSoftening,
          softening,
          measuredStates,
          hasNoSweep,
        }) => [
          index,
          {
            name,
            glassTransitions,
            superposition,
            model,
            draws,
            spectraAt,
            calibration,
            strainSoftening,
            softening,
            measuredStates,
            hasNoSweep,
          } satisfies PackedPredictable,
        ],
      ),
  };
}
