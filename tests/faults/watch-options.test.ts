import { existsSync, mkdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { runCli } from "../make/run-cli.js";
import { cli, ownPlace } from "./make/own-place.js";
import { quickExport } from "./make/quick-export.js";
import { startWatcher, until, type Watcher } from "./make/watcher.js";

const place = ownPlace("watch");
const { put } = place;
let watcher: Watcher | null = null;
afterEach(async () => {
  await watcher?.end("SIGKILL");
  watcher = null;
});

function watch(...more: string[]): Watcher {
  watcher = startWatcher(cli, place.inputs, place.out, { more });
  return watcher;
}
const letter = "Dear all,\nplease find the data attached.\n";
const inputsOfReport = (): { path: string; status: string }[] => {
  const file = join(place.out, "results.json");
  return existsSync(file) ? JSON.parse(readFileSync(file, "utf8")).inputs : [];
};

describe("watch --quiet", () => {
  it("tells only what is wrong, and that it is over", async () => {
    put("a.csv", quickExport(1));
    const watching = watch("--quiet");
    await until("the first report", () => inputsOfReport().length === 1);
    put("letter.txt", letter);
    await watching.line(/^✗ letter\.txt.* rejected /);
    put("study.yaml", "uses: [\n");
    await watching.line(/^\[study\.not-yaml\]/);
    rmSync(join(place.inputs, "study.yaml"));
    put("b.csv", quickExport(2));
    await until("the third file", () => inputsOfReport().length === 3);
    rmSync(place.inputs, { recursive: true });
    await watching.line(/Waiting for it to come back/);
    mkdirSync(place.inputs);
    await watching.line(/^the folder is back$/);
    await watching.line(/^nothing usable yet/);
    expect((await watching.end("SIGINT")).code).toBe(0);
    expect(watching.lines.map((line) => line.slice(0, 12))).toEqual([
      "✗ letter.txt",
      "[study.not-y",
      expect.stringMatching(/^\[study\./),
      "the folder i",
      "nothing usab",
    ]);
    expect(watching.errors).toEqual([]);
  });
});

describe("watch --fail-on", () => {
  it("ends with 1 once it occurs in a report, which is written whole; before, it goes on", async () => {
    put("a.csv", quickExport(1));
    const watching = watch("--fail-on", "rejected");
    await watching.line(/^report written: 1 compound from 1 file$/);
    put("letter.txt", letter);
    expect(await watching.ended).toEqual({ code: 1, signal: null });
    expect(watching.lines.slice(-3)).toEqual([
      "report written: 1 compound from 2 files, 1 rejected",
      "--fail-on rejected: this is so in the report just written, and the watch ends.",
      "ended",
    ]);
    expect(inputsOfReport().map(({ status }) => status)).toEqual(["read", "rejected"]);
  });

  it("says what could not be judged, also when quiet", async () => {
    put("a.csv", quickExport(1, "Hazel"));
    const watching = watch("--quiet", "--fail-on", "glassy", "--fail-on", "undetermined");
    expect((await watching.ended).code).toBe(1);
    expect(watching.lines).toEqual([
      expect.stringMatching(/^--fail-on glassy: 1 of 1 compound could not be judged .*: Hazel \(/),
      "--fail-on glassy and --fail-on undetermined: this is so in the report just written, and the watch ends.",
    ]);
  });

  it("knows its words", () => {
    const { status, stderr } = runCli(["watch", place.inputs, "--fail-on", "cold"]);
    expect(status).toBe(2);
    expect(stderr).toContain("Expected glassy, undetermined, rejected or requirement.");
  });
});
