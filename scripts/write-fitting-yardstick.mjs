// Writes docs/fitting-yardstick.md from a run of the yardstick: node scripts/write-fitting-yardstick.mjs
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

const root = fileURLToPath(new URL("..", import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "yardstick-"));
try {
  const outfile = join(folder, "page.mjs");
  await build({
    entryPoints: [join(root, "tests/outside/fitting-yardstick-page.ts")],
    bundle: true,
    platform: "node",
    format: "esm",
    outfile,
    logLevel: "error",
  });
  const { fittingYardstickPage } = await import(pathToFileURL(outfile).href);
  writeFileSync(join(root, "docs/fitting-yardstick.md"), fittingYardstickPage());
} finally {
  rmSync(folder, { recursive: true });
}
