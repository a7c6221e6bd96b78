import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { TestProject } from "vitest/node";
import type {} from "./kept-fits.js";
import { type CliRun, runCli } from "./run-cli.js";

declare module "vitest" {
  interface ProvidedContext {
    /** One run of `frostline demo --out folder`, for every test that looks at it; null where none asked for it. */
    demo: { folder: string; run: CliRun } | null;
  }
}

/** Makes once what many test files use: the program as it is built now, and a run of the demo. */
export default async function makeOnce(project: TestProject): Promise<() => void> {
  build();
  project.onTestsRerun(async () => build());
  // The filters of the command line; without them every file is asked.
  const { filenamePattern } = project.vitest as { filenamePattern?: string[] };
  const { testFiles } = await project.globTestFiles(filenamePattern);
  const isAsked = testFiles.some((file) => readFileSync(file, "utf8").includes('inject("demo")'));
  const folder = mkdtempSync(join(tmpdir(), "frostline-shared-"));
  project.provide("keptFits", join(folder, "kept fits"));
  const demo = join(folder, "demo");
  project.provide("demo", isAsked ? { folder: demo, run: runCli(["demo", "--out", demo]) } : null);
  return () => rmSync(folder, { recursive: true, force: true });
}

/** Nothing happens where the build is newer than the sources. */
function build(): void {
  const { status } = spawnSync(process.execPath, ["scripts/setup.mjs", "build"], { stdio: ["ignore", 2, 2] });
  if (status !== 0) throw new Error("The build failed; what it said stands above.");
}
