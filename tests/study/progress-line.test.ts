import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { gatherInputs } from "../../src/study/run/assess.js";
import type { Progress } from "../../src/study/run/assess-from.js";
import { progressLine } from "../../src/study/run/progress/progress-line.js";
import { timeLeft } from "../../src/study/run/progress/time-left.js";
import { writeLargeExport } from "../faults/make/large-export.js";

function streamOf(isTTY: boolean) {
  const written: string[] = [];
  const stream = { isTTY, columns: 80, write: (text: string) => written.push(text) };
  return { written, stream: stream as unknown as NodeJS.WriteStream };
}

/** What a terminal shows of a line that was drawn over the one before. */
const drawn = (text: string) => text.slice(text.lastIndexOf("K") + 1);
const large: Progress = { stage: "reading", done: 1, total: 4, name: "sweeps/large.csv" };

describe("the line of progress", () => {
  it("on a terminal grows within a large file, and names the share that is read", () => {
    const { written, stream } = streamOf(true);
    const line = progressLine(stream, false);
    for (const share of [0, 0.25, 0.5, 1]) line.show({ ...large, share });
    expect(written.map(drawn).map((text) => text.trimStart())).toEqual([
      `reading ${"█".repeat(6)}${"░".repeat(18)} 2/4 sweeps/large.csv`,
      `reading ${"█".repeat(8)}${"░".repeat(16)} 2/4 25 % of sweeps/large.csv`,
      `reading ${"█".repeat(9)}${"░".repeat(15)} 2/4 50 % of sweeps/large.csv`,
      `reading ${"█".repeat(12)}${"░".repeat(12)} 2/4 100 % of sweeps/large.csv`,
    ]);
    expect(written.every((text) => text.startsWith("\r"))).toBe(true);
  });

  it("never grows beyond the terminal, and shows no control characters of a name", () => {
    const { written, stream } = streamOf(true);
    const name = `\u001b[2J${"long/".repeat(40)}large.csv`;
    progressLine(stream, false).show({ ...large, done: 999, total: 1000, name, share: 0.99 });
    expect(drawn(written[0]).length).toBeLessThanOrEqual(80);
    expect(written[0]).not.toContain("\u001b[2J");
  });

  it("in a pipe has one line a file, whatever its size, and none when quiet", () => {
    const { written, stream } = streamOf(false);
    const line = progressLine(stream, false);
    for (const share of [0, 0.3, 0.6, 1]) line.show({ ...large, done: 3, share });
    expect(written).toEqual(["reading 4/4 sweeps/large.csv\n"]);
    const quiet = streamOf(true);
    progressLine(quiet.stream, true).show({ ...large, share: 0.5 });
    expect(quiet.written).toEqual([]);
  });
});

describe("the time left", () => {
  /** A clock that is set by hand. */
  function clock() {
    let now = 0;
    return { now: () => now, to: (ms: number) => (now = ms) };
  }
  const fitted = (done: number, total = 10): Progress => ({ stage: "fitting", done, total, name: "Birch" });

  it("is told by the rate so far, once there is one, and not for a last moment", () => {
    const { now, to } = clock();
    const left = timeLeft(now);
    expect(left(fitted(0))).toBe("");
    to(1000);
    expect(left(fitted(0))).toBe("");
    // Two of ten in 6 s: eight more in 24 s.
    to(6000);
    expect(left(fitted(1))).toBe("about 24 s left");
    to(30_000);
    expect(left(fitted(9))).toBe("");
    // Another stage starts anew: 200 files, one in 10 s.
    expect(left({ stage: "reading", done: 0, total: 200, name: "a.csv", share: 0 })).toBe("");
    to(40_000);
    expect(left({ stage: "reading", done: 1, total: 200, name: "b.csv", share: 0 })).toBe(
      "about 33 min left",
    );
  });

  it("stands on the bar, and a pipe is never silent for long", () => {
    const { now, to } = clock();
    const terminal = streamOf(true);
    const bar = progressLine(terminal.stream, false, now);
    const piped = streamOf(false);
    const line = progressLine(piped.stream, false, now);
    // 1,000 compounds of 0.1 s: a tenth lasts 10 s.
    for (let done = 0; done < 150; done++) {
      to(100 * (done + 1));
      bar.show(fitted(done, 1000));
      line.show(fitted(done, 1000));
    }
    expect(drawn(terminal.written.at(-1)!)).toMatch(/ 150\/1000, about \d+ (s|min) left, Birch$/);
    expect(Math.max(...terminal.written.map((text) => drawn(text).length))).toBeLessThanOrEqual(80);
    expect(piped.written.map((text) => Number(/ (\d+)\//.exec(text)![1]))).toEqual([1, 41, 81, 100, 140]);
  });
});

describe("while inputs are read", () => {
  let folder: string;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "frostline-progress-"));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  it("a large file tells at each hundredth of its bytes, a small one at its start only", async () => {
    writeLargeExport(join(folder, "a-large.csv"), 200_000);
    writeFileSync(join(folder, "b-small.csv"), "T (°C);f (Hz);E' (MPa);tan δ\n-20;1;50;0.1\n-10;1;40;0.2\n");
    const told: Progress[] = [];
    const outcome = await gatherInputs([folder], {
      outputFolder: join(folder, "out"),
      studyFile: null,
      workers: 1,
      version: "test",
      onProgress: (progress) => told.push(progress),
    });
    expect(outcome.ok).toBe(true);
    const shares = told.filter(({ done }) => done === 0).map(({ share }) => share!);
    // Six million bytes, three times, a megabyte or less at a time.
    expect(shares.length).toBeGreaterThan(15);
    expect(shares.length).toBeLessThanOrEqual(101);
    expect(shares).toEqual([...new Set(shares)].sort((a, b) => a - b));
    expect([shares[0], shares.at(-1)]).toEqual([0, 1]);
    expect(told.filter(({ done }) => done === 1).map(({ share }) => share)).toEqual([0]);
  });
});
