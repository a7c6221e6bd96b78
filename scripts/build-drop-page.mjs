// Makes dist/page/drop-page-assets.json: the program for the browser, its style sheet, and what the reports that it
// writes are made of. The command `frostline page` puts them into one file.
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";
import { build } from "esbuild";
import { browsers, insideScript, makePageAssets, sha256 } from "./build-page.mjs";

const root = join(dirname(fileURLToPath(import.meta.url)), "..");

async function bundled(entry, options) {
  const result = await build({
    entryPoints: [join(root, entry)],
    bundle: true,
    write: false,
    minify: true,
    platform: "browser",
    target: browsers,
    legalComments: "none",
    logLevel: "warning",
    ...options,
  });
  return result.outputFiles[0].text.trim();
}

/** All parts of the drop page, as src/study/drop-page/drop-page-assets.ts describes them. */
export async function makeDropPageAssets(pageAssets) {
  const { version } = JSON.parse(await readFile(join(root, "package.json"), "utf8"));
  const [css, code, reportAssets] = await Promise.all([
    bundled("src/study/drop-page/drop-page.css", {}),
    bundled("src/study/drop-page/drop-page.ts", {
      format: "iife",
      charset: "ascii",
      define: { FROSTLINE_VERSION: JSON.stringify(version) },
    }),
    pageAssets ?? makePageAssets(),
  ]);
  const script = insideScript(code);
  const { pageScriptSha256, plotScriptSha256 } = reportAssets;
  return {
    css,
    script,
    scriptSha256: sha256(script),
    reportAssetsGzipBase64: gzipSync(JSON.stringify(reportAssets), { level: 9 }).toString("base64"),
    reportScriptHashes: { pageScriptSha256, plotScriptSha256 },
  };
}

export async function buildDropPage(pageAssets) {
  const assets = await makeDropPageAssets(pageAssets);
  const folder = join(root, "dist/page");
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, "drop-page-assets.json"), JSON.stringify(assets));
  return { script: assets.script.length, reportAssets: assets.reportAssetsGzipBase64.length };
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  console.log(await buildDropPage());
}
