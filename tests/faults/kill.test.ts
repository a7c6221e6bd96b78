import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, expect, it } from "vitest";
import { killRounds } from "./make/kill-rounds.js";

const cli = fileURLToPath(new URL("../../dist/cli.js", import.meta.url));
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-kill-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

it("after each of 10 kills while files arrive, the output is whole and what a clean assessment gives", async () => {
  const figures = await killRounds(cli, folder, 10, 6);
  expect(figures.kills).toBe(10);
  expect(figures.equal).toBe(10);
  expect(figures.filesWritten + figures.filesChanged + figures.filesRemoved).toBeGreaterThanOrEqual(10);
});
