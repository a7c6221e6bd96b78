// @ts-check
// Makes dist/page/drop-page-assets.json: the program for the browser, its style sheet, and what the reports that it
// writes are made of. The command `frostline page` puts them into one file.
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { insideScript, sha256 } from "./build-page.mjs";
import { bundleForPage, pageBundle, root } from "./bundler.mjs";
import { licencesOf, packagesIn } from "./third-party.mjs";

/** @typedef {import("../src/report/page-assets.js").PageAssets} PageAssets */

/** @param {PageAssets} reportAssets of the reports that the page writes */
export async function buildDropPage(reportAssets) {
  const folder = join(root, "dist/page");
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, "drop-page-assets.json"), JSON.stringify(await dropPageAssets(reportAssets)));
}

/**
 * @param {PageAssets} reportAssets
 * @returns {Promise<import("../src/study/drop-page/drop-page-assets.js").DropPageAssets>} all parts of the drop page
 */
async function dropPageAssets(reportAssets) {
  const [css, code] = await Promise.all([
    bundleForPage("src/study/drop-page/drop-page.css"),
    pageBundle("src/study/drop-page/drop-page.ts"),
  ]);
  const script = insideScript(code.text);
  const { pageScriptSha256, plotScriptSha256 } = reportAssets;
  return {
    css,
    licences: licencesOf(packagesIn(code.metafile)),
    script,
    scriptSha256: sha256(script),
    reportAssetsGzipBase64: gzipSync(JSON.stringify(reportAssets), { level: 9 }).toString("base64"),
    reportScriptHashes: { pageScriptSha256, plotScriptSha256 },
  };
}
