// Bundles the program into dist/: the commands, the library, the worker and the report page's own script.
import { spawnSync } from "node:child_process";
import { chmodSync, existsSync, readFileSync, rmSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const root = join(dirname(fileURLToPath(import.meta.url)), "..");
const { version } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));

rmSync(join(root, "dist"), { recursive: true, force: true });
await build({
  absWorkingDir: root,
  entryPoints: {
    cli: "src/cli.ts",
    index: "src/index.ts",
    "compound-worker": "src/study/run/compound-worker.ts",
  },
  outdir: "dist",
  bundle: true,
  splitting: true,
  platform: "node",
  target: "node20.19",
  format: "esm",
  sourcemap: "linked",
  sourcesContent: false,
  external: ["tinypool"],
  define: { FROSTLINE_VERSION: JSON.stringify(version) },
  // Packages that still speak CommonJS ask for require when bundled into a module.
  banner: {
    js: 'import { createRequire as frostlineRequire } from "node:module"; const require = frostlineRequire(import.meta.url);',
  },
  logLevel: "warning",
});
chmodSync(join(root, "dist", "cli.js"), 0o755);

if (existsSync(join(root, "scripts", "build-page.mjs"))) {
  const { buildPage, makePageAssets } = await import("./build-page.mjs");
  const pageAssets = await makePageAssets();
  await buildPage(pageAssets);
  const { buildDropPage } = await import("./build-drop-page.mjs");
  await buildDropPage(pageAssets);
}

if (process.argv.includes("--types")) {
  const { status } = spawnSync(
    process.execPath,
    [join(root, "node_modules/typescript/bin/tsc"), "-p", "tsconfig.types.json"],
    { cwd: root, stdio: "inherit" },
  );
  process.exit(status ?? 1);
}
