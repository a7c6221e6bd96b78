import { execFile } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { promisify } from "node:util";
import { type BuildOptions, build } from "esbuild";
import { makeDropPageAssets } from "../../scripts/build-drop-page.mjs";
import { makePageAssets } from "../../scripts/build-page.mjs";
import { dropPageHtml } from "../../src/study/drop-page/drop-page-html.js";

const { version } = JSON.parse(readFileSync("package.json", "utf8"));
const sameMath = readFileSync(new URL("./same-math.js", import.meta.url), "utf8");

export interface PageAndCli {
  /** The page as it is built, and the page with the functions of same-math.js. */
  url: string;
  sameMathUrl: string;
  bytes: number;
  /** Runs the command line with the functions of same-math.js. */
  runCli(...words: string[]): Promise<void>;
}

/** Builds the page, and the page and the command line once more with the same elementary functions, into a folder. */
export async function buildPageAndCli(folder: string): Promise<PageAndCli> {
  const pageAssets = await makePageAssets();
  // The operator ** is the engine's own; written as a call it is one that can be replaced.
  const supported = { "exponent-operator": false };
  mkdirSync(join(folder, "page"), { recursive: true });
  writeFileSync(join(folder, "page", "page-assets.json"), JSON.stringify(pageAssets));
  const write = async (name: string, options: BuildOptions) => {
    const assets = await makeDropPageAssets(pageAssets, options);
    writeFileSync(join(folder, "page", "drop-page-assets.json"), JSON.stringify(assets));
    const text = dropPageHtml(assets, version);
    writeFileSync(join(folder, name), text);
    return { url: pathToFileURL(join(folder, name)).href, bytes: Buffer.byteLength(text) };
  };
  const { url, bytes } = await write("frostline.html", {});
  const { url: sameMathUrl } = await write("same-math.html", { supported, banner: { js: sameMath } });
  const cli = join(folder, "cli.mjs");
  await build({
    entryPoints: ["src/cli.ts"],
    outfile: cli,
    bundle: true,
    platform: "node",
    target: "node20.19",
    format: "esm",
    external: ["tinypool"],
    supported,
    define: { FROSTLINE_VERSION: JSON.stringify(version) },
    banner: {
      js: `import { createRequire as requireFrom } from "node:module"; const require = requireFrom(import.meta.url);\n${sameMath}`,
    },
    logLevel: "warning",
  });
  return {
    url,
    sameMathUrl,
    bytes,
    runCli: async (...words) => {
      await promisify(execFile)(process.execPath, [cli, ...words]);
    },
  };
}
