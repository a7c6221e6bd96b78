import { spawn } from "node:child_process";
import { existsSync, readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { runCli } from "../make/run-cli.js";
import { differences } from "./make/output-set.js";
import { cli, ownPlace } from "./make/own-place.js";
import { quickExport, quickSweep } from "./make/quick-export.js";
import { until } from "./make/watcher.js";

const place = ownPlace("assess-cache");
const put = (name: string, compound: string, seed: number) => place.put(name, quickExport(seed, compound));
const assess = (to: string, ...more: string[]) => runCli(["assess", place.inputs, "--out", to, ...more]);
/** The kept fits and when each was written. */
function kept(): Record<string, number> {
  const entries = join(place.out, ".cache", "compounds");
  if (!existsSync(entries)) return {};
  return Object.fromEntries(
    readdirSync(entries)
      .filter((name) => name.endsWith(".bin"))
      .map((name) => [name, statSync(join(entries, name)).mtimeMs]),
  );
}

it("a second run fits only the compound whose file changed, and says the same as a run without a cache", () => {
  put("a.csv", "Birch 60", 1);
  put("b.csv", "Alder 45", 2);
  expect(assess(place.out).status).toBe(0);
  const before = kept();
  expect(Object.keys(before)).toHaveLength(2);

  put("b.csv", "Alder 45", 3);
  const second = assess(place.out);
  expect(second.stderr).toContain("Alder 45");
  expect(second.stderr).not.toMatch(/fitting.*Birch 60/);
  const after = kept();
  expect(Object.keys(after)).toHaveLength(2);
  const same = Object.keys(after).filter((name) => before[name] === after[name]);
  expect(same).toHaveLength(1);

  const plain = join(place.folder, "plain");
  expect(assess(plain, "--no-cache").status).toBe(0);
  expect(existsSync(join(plain, ".cache"))).toBe(false);
  expect(differences(place.out, plain)).toEqual([]);
});

it("a run that was killed goes on with what it had fitted", async () => {
  for (let k = 0; k < 12; k++) place.put(`${k}.csv`, quickSweep(`Spruce ${k}`, -60 + 3 * k));
  const run = spawn(process.execPath, [cli, "assess", place.inputs, "--out", place.out, "--workers", "1"], {
    stdio: "ignore",
  });
  const ended = new Promise((resolve) => run.on("exit", resolve));
  await until("two fits are kept", () => Object.keys(kept()).length >= 2);
  run.kill("SIGKILL");
  await ended;
  const before = kept();
  expect(assess(place.out).status).toBe(0);
  const after = kept();
  expect(Object.keys(after)).toHaveLength(12);
  for (const [name, written] of Object.entries(before)) expect(after[name]).toBe(written);
});
