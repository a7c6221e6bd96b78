import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { leftBehind, makeTestsFolder } from "../scripts/tests-folder.mjs";

let place: string;
beforeEach(() => {
  place = mkdtempSync(join(tmpdir(), "frostline-places-of-tests-"));
  vi.stubEnv("TMPDIR", place);
  vi.stubEnv("TEMP", place);
});
afterEach(() => {
  vi.unstubAllEnvs();
  rmSync(place, { recursive: true, force: true });
});

it("a run of the tests removes what a run left that was broken off, and nothing of one that goes on", () => {
  const { pid: ended } = spawnSync(process.execPath, ["--version"]);
  const [dead, alive, other] = [
    `frostline-tests-${ended}-a`,
    `frostline-tests-${process.ppid}-b`,
    "frostline-c",
  ];
  for (const name of [dead, alive, other]) mkdirSync(join(place, name, "x"), { recursive: true });
  const own = makeTestsFolder();
  expect(dirname(own)).toBe(place);
  expect(basename(own)).toContain(`-${process.pid}-`);
  expect([dead, alive, other].map((name) => existsSync(join(place, name)))).toEqual([false, true, true]);
  // Some tests act as a user without rights.
  if (process.platform !== "win32") expect(statSync(own).mode & 0o777).toBe(0o755);
});

it("what is ours and still there at the end is named", () => {
  const own = makeTestsFolder();
  for (const name of ["frostline-report-a", "org.chromium.a", "report.json"]) mkdirSync(join(own, name));
  expect(leftBehind(own)).toEqual(["frostline-report-a"]);
});
