import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { publicFunctions } from "./public-functions.js";

it("the API pages are made without a warning and have every public function", () => {
  const folder = mkdtempSync(join(tmpdir(), "frostline-api-"));
  try {
    const { status, stderr, stdout } = spawnSync(
      process.execPath,
      ["scripts/write-api.mjs", "--out", join(folder, "api")],
      { encoding: "utf8" },
    );
    expect(stdout + stderr).toBe("");
    expect(status).toBe(0);
    const pages = readdirSync(join(folder, "api/functions"));
    for (const { name } of publicFunctions()) expect(pages).toContain(`${name}.html`);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
