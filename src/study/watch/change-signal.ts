import { join, resolve, sep } from "node:path";

/** Wakes the one who watches: at a change, at the end, or after a while. */
export interface ChangeSignal {
  /** Resolves at the next change, at the end, or after so long; at once where one came since the last call. */
  wait(longest_ms: number): Promise<void>;
  isEnded(): boolean;
  close(): Promise<void>;
}

export interface ChangeSignalOptions {
  /** What is written there is no change. */
  out: string;
  /** True where the system announces nothing, as on many network shares. */
  poll: boolean;
  onTrouble(message: string): void;
}

/** Listens to the folder's changes and to SIGINT and SIGTERM. A second signal ends the program at once. */
export async function changeSignal(folder: string, options: ChangeSignalOptions): Promise<ChangeSignal> {
  let isEnded = false;
  let isRaised = false;
  let wake: () => void = () => {};
  const raise = () => {
    isRaised = true;
    wake();
  };
  const end = () => {
    isEnded = true;
    wake();
  };
  process.once("SIGINT", end);
  process.once("SIGTERM", end);
  const stopWatching = options.poll ? async () => {} : await watched(folder, options, raise);
  return {
    isEnded: () => isEnded,
    async wait(longest_ms) {
      if (isEnded) return;
      if (!isRaised) {
        await new Promise<void>((done) => {
          const timer = setTimeout(done, longest_ms);
          wake = () => {
            clearTimeout(timer);
            done();
          };
        });
      }
      isRaised = false;
    },
    async close() {
      process.off("SIGINT", end);
      process.off("SIGTERM", end);
      await stopWatching();
    },
  };
}

/** Resolves once changes are announced, so that none falls between the first look and the first event. */
async function watched(
  folder: string,
  { out, onTrouble }: ChangeSignalOptions,
  raise: () => void,
): Promise<() => Promise<void>> {
  const output = resolve(out);
  const isAround = resolve(folder) === output || resolve(folder).startsWith(output + sep);
  const own = isAround ? [join(output, "tables"), join(output, ".cache")] : [output];
  const { watch } = await import("chokidar");
  const watcher = watch(folder, {
    ignoreInitial: true,
    followSymlinks: false,
    ignored: (path) => {
      const absolute = resolve(path);
      return (
        own.some((place) => absolute === place || absolute.startsWith(place + sep)) ||
        absolute.startsWith(join(output, ".frostline-"))
      );
    },
  });
  await new Promise<void>((ready) => {
    watcher.on("ready", ready);
    watcher.on("error", (error) => {
      onTrouble(`changes are not announced here (${(error as Error).message}); use --poll`);
      ready();
    });
  });
  watcher.on("all", raise);
  return () => watcher.close();
}
