// Format, lint (the import arrows among its rules), types, and that the pure folders run in a browser.
import { spawnSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const root = join(dirname(fileURLToPath(import.meta.url)), "..");
// Installs the packages first, the bundler among them.
spawnSync(process.execPath, [join(root, "scripts", "setup.mjs"), "build"], { stdio: "inherit" });
const { build } = await import("esbuild");
const { forPage } = await import("./bundler.mjs");

const pureFolders = ["numeric", "words", "io", "fit", "predict"];
let failed = false;

step("format, lint and import arrows", () =>
  node("node_modules/@biomejs/biome/bin/biome", "ci", "--error-on-warnings", "."),
);
step("types", () => node("node_modules/typescript/bin/tsc", "-p", "."));
step("no dead code and no unused dependency", () => node("node_modules/knip/bin/knip.js", "--no-progress"));
step("no clock and no unseeded random number in numeric, words, io, fit and predict", () => {
  const found = [];
  for (const folder of pureFolders) {
    for (const name of readdirSync(join(root, "src", folder), { recursive: true })) {
      if (!String(name).endsWith(".ts")) continue;
      const lines = readFileSync(join(root, "src", folder, String(name)), "utf8").split("\n");
      lines.forEach((line, i) => {
        if (
          /Math\.random|Date\.now|new Date\(\)|performance\.now|\bprocess\.|\bglobalThis\.crypto/.test(line)
        ) {
          found.push(`src/${folder}/${name}:${i + 1}: ${line.trim()}`);
        }
      });
    }
  }
  for (const line of found) console.error(line);
  return found.length === 0;
});
step("every number from elementary functions that give the same bits on every engine", () => {
  const found = [];
  for (const name of readdirSync(join(root, "src"), { recursive: true })) {
    if (!String(name).endsWith(".ts")) continue;
    const lines = readFileSync(join(root, "src", String(name)), "utf8").split("\n");
    lines.forEach((line, i) => {
      if (/^\s*(\/\/|\*|\/\*)/.test(line)) return;
      if (
        /\bMath\.(exp|expm1|log|log10|log1p|log2|pow|cbrt|hypot|a?(sin|cos|tan)h?|atan2)\b|\w\)? \*\* /.test(
          line,
        )
      ) {
        found.push(`src/${name}:${i + 1}: ${line.trim()} (use src/numeric/elementary)`);
      }
    });
  }
  for (const line of found) console.error(line);
  return found.length === 0;
});
await stepAsync(
  "numeric, words, io, fit and predict bundle for the browser without a Node module",
  async () => {
    const entries = pureFolders.flatMap((folder) =>
      readdirSync(join(root, "src", folder), { recursive: true })
        .filter((name) => String(name).endsWith(".ts"))
        .map((name) => join(root, "src", folder, String(name))),
    );
    // esbuild refuses a Node module when the platform is the browser.
    const result = await build({
      ...forPage,
      entryPoints: entries,
      outdir: join(root, "dist", "check"),
      format: "esm",
      logLevel: "error",
    }).catch(() => null);
    return result !== null;
  },
);
process.exit(failed ? 1 : 0);

function node(script, ...args) {
  return (
    spawnSync(process.execPath, [join(root, script), ...args], { cwd: root, stdio: "inherit" }).status === 0
  );
}

function step(name, check) {
  report(name, check());
}

async function stepAsync(name, check) {
  report(name, await check());
}

function report(name, ok) {
  console.log(`${ok ? "ok     " : "FAILED "} ${name}`);
  if (!ok) failed = true;
}
