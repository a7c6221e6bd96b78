import { type JobKind, type Jobs, runJob } from "./jobs.js";

export interface JobPool {
  run<Kind extends JobKind>(kind: Kind, asked: Jobs[Kind]["asked"]): Promise<Jobs[Kind]["answer"]>;
  /** Ends the workers; what is under way is never answered. */
  close(): void;
}

export interface WorkerRequest {
  id: number;
  kind: JobKind;
  asked: Jobs[JobKind]["asked"];
}

export type WorkerAnswer =
  | { id: number; answer: Jobs[JobKind]["answer"] }
  | { id: number; failure: string }
  | { ready: true; readsFiles: boolean };

interface Waiting {
  request: WorkerRequest;
  resolve(answer: never): void;
  reject(error: Error): void;
}

/** How long a worker may take to say that it is there; after that the page does the work itself. */
const start_ms = 10_000;

/**
 * Workers that run the page's own script, so that the page stays quick while it computes. A page opened from
 * disk may start them from a blob: URL only; where a browser forbids that too, the jobs run in the page, one
 * after the other, with a pause after each for the page to draw.
 */
export async function jobPool(script: string, size: number): Promise<JobPool> {
  const url = URL.createObjectURL(new Blob([script], { type: "text/javascript" }));
  const first = await startWorker(url);
  if (first === null) {
    URL.revokeObjectURL(url);
    return poolInPage();
  }
  const others = await Promise.all(Array.from({ length: size - 1 }, () => startWorker(url)));
  URL.revokeObjectURL(url);
  return poolOf([first, ...others].filter((worker) => worker !== null));
}

interface StartedWorker {
  worker: Worker;
  /** False in browsers that keep files from a worker whose page was opened from disk (WebKit). */
  readsFiles: boolean;
}

function startWorker(url: string): Promise<StartedWorker | null> {
  return new Promise((resolve) => {
    let worker: Worker;
    try {
      worker = new Worker(url);
    } catch {
      return resolve(null);
    }
    const giveUp = () => {
      worker.terminate();
      resolve(null);
    };
    const timer = setTimeout(giveUp, start_ms);
    worker.onerror = () => {
      clearTimeout(timer);
      giveUp();
    };
    worker.onmessage = ({ data }: MessageEvent<WorkerAnswer>) => {
      clearTimeout(timer);
      resolve({ worker, readsFiles: "readsFiles" in data && data.readsFiles });
    };
  });
}

function poolOf(workers: StartedWorker[]): JobPool {
  const idle = [...workers];
  const queue: Waiting[] = [];
  let id = 0;
  const next = () => {
    while (idle.length > 0 && queue.length > 0) void work(idle.pop()!, queue.shift()!);
  };
  const work = async (started: StartedWorker, { request, resolve, reject }: Waiting) => {
    const { worker, readsFiles } = started;
    const done = () => {
      idle.push(started);
      next();
    };
    worker.onmessage = ({ data }: MessageEvent<WorkerAnswer>) => {
      if ("answer" in data) resolve(data.answer as never);
      else reject(new Error("failure" in data ? data.failure : "no answer"));
      done();
    };
    worker.onerror = ({ message }) => {
      reject(new Error(message));
      done();
    };
    worker.postMessage(readsFiles ? request : await withBytes(request));
  };
  return {
    run: (kind, asked) =>
      new Promise((resolve, reject) => {
        queue.push({ request: { id: id++, kind, asked }, resolve, reject });
        next();
      }),
    close() {
      queue.length = 0;
      for (const { worker } of workers) worker.terminate();
    },
  };
}

/** The request with the bytes of its file, read in the page; without any where that fails. */
async function withBytes(request: WorkerRequest): Promise<WorkerRequest> {
  if (request.kind !== "read") return request;
  const asked = request.asked as Jobs["read"]["asked"];
  const { content } = asked.input;
  if (!(content instanceof Blob)) return request;
  const bytes = await content.arrayBuffer().catch(() => null);
  return { ...request, asked: { ...asked, input: { ...asked.input, content: bytes } } };
}

function poolInPage(): JobPool {
  let last: Promise<unknown> = Promise.resolve();
  let isClosed = false;
  return {
    run(kind, asked) {
      const answer = last.then(async () => {
        await new Promise((resolve) => setTimeout(resolve));
        return isClosed ? new Promise<never>(() => undefined) : runJob(kind, asked);
      });
      last = answer.catch(() => undefined);
      return answer;
    },
    close() {
      isClosed = true;
    },
  };
}

/** What the page's script does where it finds itself in a worker. */
export function serveJobs(): void {
  const answer = (message: WorkerAnswer) => postMessage(message);
  addEventListener("message", async ({ data }: MessageEvent<WorkerRequest>) => {
    const { id, kind, asked } = data;
    try {
      answer({ id, answer: await runJob(kind, asked) });
    } catch (error) {
      answer({ id, failure: error instanceof Error ? error.message : String(error) });
    }
  });
  void new Blob(["?"])
    .arrayBuffer()
    .then(
      () => true,
      () => false,
    )
    .then((readsFiles) => answer({ ready: true, readsFiles }));
}
