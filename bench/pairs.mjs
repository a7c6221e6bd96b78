// Two processes that stay, run in turns: what disturbs one disturbs the other as well.
import { spawn } from "node:child_process";
import { createInterface } from "node:readline";

/** A process that answers each line of its input with a line of JSON. */
export class LineProcess {
  constructor(command, args, options = {}) {
    this.name = [command, ...args].join(" ");
    this.child = spawn(command, args, { stdio: ["pipe", "pipe", "inherit"], ...options });
    // A process that ended early shows in the missing answer.
    this.child.stdin.on("error", () => undefined);
    this.lines = createInterface({ input: this.child.stdout })[Symbol.asyncIterator]();
  }

  async ask(line) {
    this.child.stdin.write(`${line}\n`);
    const { value, done } = await this.lines.next();
    if (done) throw new Error(`${this.name} ended without an answer.`);
    return JSON.parse(value);
  }

  end() {
    if (this.child.exitCode !== null || this.child.signalCode !== null) return Promise.resolve();
    return new Promise((resolve) => {
      this.child.on("exit", resolve);
      this.child.stdin.end();
    });
  }
}

/**
 * Runs two processes in turns, after two runs that warm them up.
 * @returns for each side { first, runs }, each run { ms, cpu_ms, maxRss_MB }
 */
export async function alternate(one, other, runs) {
  const sides = [one, other].map(() => ({ first: null, runs: [] }));
  for (let run = -2; run < runs; run++) {
    for (const [i, side] of [one, other].entries()) {
      const measured = await side.ask("run");
      sides[i].first ??= measured;
      if (run >= 0) sides[i].runs.push(measured);
    }
  }
  return sides;
}

/** One process from start to end. @returns its time by the clock and what it printed */
export function runOnce(command, args, options = {}) {
  return new Promise((resolve, reject) => {
    const started = performance.now();
    const child = spawn(command, args, { stdio: ["ignore", "pipe", "inherit"], ...options });
    let text = "";
    child.stdout.on("data", (chunk) => {
      text += chunk;
    });
    child.on("error", reject);
    child.on("close", (code) => {
      const ms = performance.now() - started;
      if (code === 0) resolve({ ms, text });
      else reject(new Error(`${[command, ...args].join(" ")} ended with ${code}.`));
    });
  });
}
