// @ts-check
// Bundles the program into dist/: the commands, the library, the worker and the report page's own script.
import { spawnSync } from "node:child_process";
import { chmodSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { build } from "esbuild";
import { buildDropPage } from "./build-drop-page.mjs";
import { buildOf } from "./build-of.mjs";
import { buildPage, makePageAssets } from "./build-page.mjs";
import { program, root } from "./bundler.mjs";
import { reachableTypes } from "./reachable-types.mjs";
import { licencesOf, packagesIn } from "./third-party.mjs";

rmSync(join(root, "dist"), { recursive: true, force: true });
const { metafile } = await build({ ...program, sourcemap: "linked", sourcesContent: false, metafile: true });
chmodSync(join(root, "dist", "cli.js"), 0o755);

writeFileSync(
  join(root, "dist", "THIRD-PARTY-NOTICES.txt"),
  `Frostline's programs and pages hold parts of these packages.\n\n${licencesOf([...new Set([...packagesIn(metafile), "plotly.js-dist"])].sort())}`,
);

const pageAssets = await makePageAssets();
await buildPage(pageAssets);
await buildDropPage(pageAssets);

writeFileSync(join(root, "dist", "build.txt"), `${buildOf(join(root, "dist"))}\n`);

if (process.argv.includes("--types")) {
  const { status } = spawnSync(
    process.execPath,
    [join(root, "node_modules/typescript/bin/tsc"), "-p", "tsconfig.types.json"],
    { cwd: root, stdio: "inherit" },
  );
  if (status !== 0) process.exit(status ?? 1);
  // The compiler declares all that the library is made of; given away is what its users can meet.
  const types = join(root, "dist", "types");
  const own = reachableTypes(join(types, "src", "index.d.ts"));
  for (const entry of readdirSync(types, { recursive: true, withFileTypes: true })) {
    const file = join(entry.parentPath, entry.name);
    if (entry.isFile() && !own.has(file)) rmSync(file);
  }
}
