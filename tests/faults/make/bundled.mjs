// Lets the long runs, which are plain scripts, use the same TypeScript as the tests.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";

/** Bundles a TypeScript file with all that it imports. @returns the address of the bundle */
export async function bundled(entry) {
  const folder = mkdtempSync(join(tmpdir(), "frostline-bundle-"));
  process.on("exit", () => rmSync(folder, { recursive: true, force: true }));
  const file = join(folder, "bundle.mjs");
  await build({
    entryPoints: [entry],
    outfile: file,
    bundle: true,
    platform: "node",
    target: "node20.19",
    format: "esm",
    banner: {
      js: 'import { createRequire as bundleRequire } from "node:module"; const require = bundleRequire(import.meta.url);',
    },
    logLevel: "warning",
  });
  return pathToFileURL(file).href;
}
