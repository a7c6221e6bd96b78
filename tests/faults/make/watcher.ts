import { type ChildProcess, spawn } from "node:child_process";

export interface Watcher {
  readonly pid: number;
  /** Lines of standard output so far. */
  readonly lines: string[];
  readonly errors: string[];
  /** The next line, from the given one on, that matches. Rejects where the program ends before. */
  line(pattern: RegExp, from?: number): Promise<string>;
  /** Resolves once it has ended by itself, with exit code and signal. */
  readonly ended: Promise<{ code: number | null; signal: NodeJS.Signals | null }>;
  /** Ends it with a signal; resolves with exit code and signal. */
  end(signal: NodeJS.Signals): Promise<{ code: number | null; signal: NodeJS.Signals | null }>;
}

/** However busy the machine is: a limit for a program that hangs, not a measure of speed. */
const patience_ms = 60_000;

/** Starts `frostline watch` as a program of its own. */
export function startWatcher(
  cli: string,
  folder: string,
  out: string,
  options: { settle_ms?: number; more?: string[] } = {},
): Watcher {
  const args = [cli, "watch", folder, "--out", out, "--settle", String(options.settle_ms ?? 60)];
  const child: ChildProcess = spawn(process.execPath, [...args, "--workers", "1", ...(options.more ?? [])], {
    stdio: ["ignore", "pipe", "pipe"],
  });
  const lines: string[] = [];
  const errors: string[] = [];
  const listeners = new Set<() => void>();
  let ended: { code: number | null; signal: NodeJS.Signals | null } | null = null;
  const tell = () => {
    for (const listener of listeners) listener();
  };
  gather(child.stdout!, lines, tell);
  gather(child.stderr!, errors, tell);
  const end = new Promise<{ code: number | null; signal: NodeJS.Signals | null }>((done) => {
    child.on("close", (code, signal) => {
      ended = { code, signal };
      tell();
      done(ended);
    });
  });
  return {
    pid: child.pid!,
    lines,
    errors,
    ended: end,
    line(pattern, from = 0) {
      return new Promise((found, fail) => {
        const look = () => {
          const line = lines.slice(from).find((each) => pattern.test(each));
          if (line === undefined && ended === null) return;
          listeners.delete(look);
          clearTimeout(timer);
          if (line !== undefined) found(line);
          else
            fail(
              new Error(
                `ended (${JSON.stringify(ended)}) without ${pattern}:\n${[...lines, ...errors].join("\n")}`,
              ),
            );
        };
        const timer = setTimeout(() => {
          listeners.delete(look);
          fail(
            new Error(
              `no line ${pattern} within ${patience_ms / 1000} s:\n${[...lines, ...errors].join("\n")}`,
            ),
          );
        }, patience_ms);
        listeners.add(look);
        look();
      });
    },
    async end(signal) {
      child.kill(signal);
      return end;
    },
  };
}

function gather(stream: NodeJS.ReadableStream, lines: string[], tell: () => void): void {
  let rest = "";
  stream.setEncoding("utf8");
  stream.on("data", (piece: string) => {
    const parts = (rest + piece).split("\n");
    rest = parts.pop()!;
    lines.push(...parts);
    tell();
  });
}

/** Resolves once a condition holds. */
export async function until(what: string, holds: () => boolean): Promise<void> {
  const end = performance.now() + patience_ms;
  while (!holds()) {
    if (performance.now() > end) throw new Error(`not within ${patience_ms / 1000} s: ${what}`);
    await new Promise((done) => setTimeout(done, 20));
  }
}

/** A clean assessment of a folder by a program of its own. @returns its exit code and what it said */
export async function assessCleanly(cli: string, folder: string, out: string) {
  const args = [cli, "assess", folder, "--out", out, "--quiet", "--workers", "1"];
  const child = spawn(process.execPath, args, { stdio: ["ignore", "ignore", "pipe"] });
  const errors: string[] = [];
  gather(child.stderr, errors, () => {});
  const status = await new Promise<number | null>((done) => child.on("close", done));
  return { status, stderr: errors.join("\n") };
}
