import { chmodSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { openFile } from "../../src/study/run/open-file.js";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-open-"));
});
afterEach(() => {
  vi.unstubAllEnvs();
  rmSync(folder, { recursive: true, force: true });
});

/** A program of that name that notes what it was given. */
function fake(name: string): () => string {
  writeFileSync(
    join(folder, name),
    `#!/bin/sh\nprintf '%s|' "$@" > "${folder}/given.part"\nmv "${folder}/given.part" "${folder}/given"\n`,
  );
  chmodSync(join(folder, name), 0o755);
  vi.stubEnv("PATH", `${folder}${delimiter}${process.env.PATH}`);
  return () => readFileSync(join(folder, "given"), "utf8");
}

it.each([
  ["linux", "xdg-open", "a report.html|"],
  ["darwin", "open", "a report.html|"],
  ["win32", "cmd", "/c|start||a report.html|"],
] as const)("on %s a file is shown by %s", async (platform, name, expected) => {
  const given = fake(name);
  expect(await openFile("a report.html", platform)).toBeNull();
  await vi.waitFor(() => expect(existsSync(join(folder, "given"))).toBe(true), { timeout: 30_000 });
  expect(given()).toBe(expected);
});

it("where the system has no such program that is said", async () => {
  vi.stubEnv("PATH", folder);
  expect(await openFile("report.html", "linux")).toBe("there is no xdg-open on this system");
});
