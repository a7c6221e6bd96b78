// @ts-check
// The bundler's settings, for all that is bundled: the program, the pages' scripts, and the TypeScript that scripts run.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

export const root = join(dirname(fileURLToPath(import.meta.url)), "..");

/** @type {string} */
export const version = JSON.parse(readFileSync(join(root, "package.json"), "utf8")).version;

const define = { FROSTLINE_VERSION: JSON.stringify(version) };

/**
 * For Node.js.
 * @satisfies {import("esbuild").BuildOptions}
 */
export const forNode = {
  absWorkingDir: root,
  bundle: true,
  platform: /** @type {const} */ ("node"),
  target: "node20.19",
  format: /** @type {const} */ ("esm"),
  external: ["tinypool"],
  define,
  // Packages that still speak CommonJS ask for require when bundled into a module.
  banner: {
    js: 'import { createRequire as frostlineRequire } from "node:module"; const require = frostlineRequire(import.meta.url);',
  },
  logLevel: /** @type {const} */ ("warning"),
};

/**
 * The commands, the library and the worker.
 * @satisfies {import("esbuild").BuildOptions}
 */
export const program = {
  ...forNode,
  entryPoints: {
    cli: "src/cli.ts",
    index: "src/index.ts",
    "compound-worker": "src/study/run/compound-worker.ts",
  },
  outdir: "dist",
  splitting: true,
};

/** The oldest that unpack gzip by themselves and know what the style sheet uses. */
export const browsers = ["chrome105", "firefox113", "safari16.4"];

/**
 * For a script or a style sheet that stands inside a page.
 * @satisfies {import("esbuild").BuildOptions}
 */
export const forPage = {
  absWorkingDir: root,
  bundle: true,
  write: /** @type {const} */ (false),
  minify: true,
  platform: /** @type {const} */ ("browser"),
  target: browsers,
  format: /** @type {const} */ ("iife"),
  charset: /** @type {const} */ ("ascii"),
  legalComments: /** @type {const} */ ("none"),
  define,
  logLevel: /** @type {const} */ ("warning"),
};

/**
 * Bundles for a page.
 * @param {string} entry script or style sheet, from the project's folder
 * @returns {Promise<string>} the bundle's text
 */
export async function bundleForPage(entry) {
  return (await pageBundle(entry)).text;
}

/**
 * The same with what the bundler tells of it.
 * @param {string} entry
 */
export async function pageBundle(entry) {
  const { outputFiles, metafile } = await build({
    ...forPage,
    entryPoints: [entry],
    outdir: "dist/page",
    metafile: true,
  });
  return { text: outputFiles[0].text.trim(), metafile };
}

/**
 * Bundles a TypeScript file of the project with all that it imports, so that a plain script can run it.
 * @param {string} entry from the project's folder
 * @param {string} [folder] for the bundle; else it has one of its own, which is there until the process ends
 * @returns {Promise<string>} the address of the bundle
 */
export async function bundleOf(entry, folder = folderUntilTheEnd()) {
  const outfile = join(folder, "bundle.mjs");
  await build({ ...forNode, entryPoints: [entry], outfile });
  return pathToFileURL(outfile).href;
}

function folderUntilTheEnd() {
  const folder = mkdtempSync(join(tmpdir(), "frostline-bundle-"));
  process.on("exit", () => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/**
 * Bundles lines of TypeScript that import files of the project.
 * @param {string} contents
 * @param {string} outfile
 * @param {import("esbuild").BuildOptions} [more]
 */
export async function bundleText(contents, outfile, more = {}) {
  await build({ ...forNode, stdin: { contents, resolveDir: root, loader: "ts" }, outfile, ...more });
}

/**
 * Bundles lines of TypeScript that export parts of the project, and imports what they export.
 * @param {string} contents
 */
export async function importText(contents) {
  const folder = mkdtempSync(join(tmpdir(), "frostline-bundle-"));
  try {
    const outfile = join(folder, "bundle.mjs");
    await bundleText(contents, outfile);
    return await import(pathToFileURL(outfile).href);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
