// @ts-check
// Bundles the program into dist/: the commands, the library, the worker and the report page's own script.
import { spawnSync } from "node:child_process";
import { chmodSync, rmSync } from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";
import { buildDropPage } from "./build-drop-page.mjs";
import { buildPage, makePageAssets } from "./build-page.mjs";
import { program, root } from "./bundler.mjs";

rmSync(join(root, "dist"), { recursive: true, force: true });
await build({ ...program, sourcemap: "linked", sourcesContent: false });
chmodSync(join(root, "dist", "cli.js"), 0o755);

const pageAssets = await makePageAssets();
await buildPage(pageAssets);
await buildDropPage(pageAssets);

if (process.argv.includes("--types")) {
  const { status } = spawnSync(
    process.execPath,
    [join(root, "node_modules/typescript/bin/tsc"), "-p", "tsconfig.types.json"],
    { cwd: root, stdio: "inherit" },
  );
  process.exit(status ?? 1);
}
