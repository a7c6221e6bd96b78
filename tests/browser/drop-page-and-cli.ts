import { execFile } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { promisify } from "node:util";
import { build } from "esbuild";
import { makeDropPageAssets } from "../../scripts/build-drop-page.mjs";
import { makePageAssets } from "../../scripts/build-page.mjs";
import { dropPageHtml } from "../../src/study/drop-page/drop-page-html.js";

const { version } = JSON.parse(readFileSync("package.json", "utf8"));

export interface PageAndCli {
  url: string;
  bytes: number;
  runCli(...words: string[]): Promise<void>;
}

/** Builds the page and the command line from the sources into a folder. */
export async function buildPageAndCli(folder: string): Promise<PageAndCli> {
  const pageAssets = await makePageAssets();
  const assets = await makeDropPageAssets(pageAssets);
  mkdirSync(join(folder, "page"), { recursive: true });
  writeFileSync(join(folder, "page", "page-assets.json"), JSON.stringify(pageAssets));
  writeFileSync(join(folder, "page", "drop-page-assets.json"), JSON.stringify(assets));
  const page = join(folder, "frostline.html");
  const text = dropPageHtml(assets, version);
  writeFileSync(page, text);
  const cli = join(folder, "cli.mjs");
  await build({
    entryPoints: ["src/cli.ts"],
    outfile: cli,
    bundle: true,
    platform: "node",
    target: "node20.19",
    format: "esm",
    external: ["tinypool"],
    define: { FROSTLINE_VERSION: JSON.stringify(version) },
    banner: {
      js: 'import { createRequire as requireFrom } from "node:module"; const require = requireFrom(import.meta.url);',
    },
    logLevel: "warning",
  });
  return {
    url: pathToFileURL(page).href,
    bytes: Buffer.byteLength(text),
    runCli: async (...words) => {
      await promisify(execFile)(process.execPath, [cli, ...words]);
    },
  };
}
