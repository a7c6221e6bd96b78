// @ts-check
// Makes dist/page/page-assets.json: the style sheet, the page's own script, and the plot library cut down to
// what the page draws. The report writer puts them into each report.
import { createHash } from "node:crypto";
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { gzipSync } from "node:zlib";
import { transform } from "esbuild";
import { bundleForPage, pageBundle, root } from "./bundler.mjs";
import { licencesOf, packagesIn } from "./third-party.mjs";

/** @typedef {import("../src/report/page-assets.js").PageAssets} PageAssets */

/** Base64, as a content security policy wants it. @param {string} text */
export const sha256 = (text) => createHash("sha256").update(text, "utf8").digest("base64");

/**
 * Text that closes no script element, for it is written into one.
 * @param {string} code
 */
export function insideScript(code) {
  if (/<\/script|<!--/i.test(code)) {
    throw new Error("A page script contains </script or <!--, which would end its element early.");
  }
  return code;
}

/**
 * The plot library draws scatter traces with its core alone. The published bundle registers all its trace
 * types in one call; without that call, and with its module wrappers marked free of side effects, the bundler
 * drops the other trace types, among them those that build functions from text (which a content security
 * policy without 'unsafe-eval' forbids).
 */
async function plotScript() {
  const path = createRequire(import.meta.url).resolve("plotly.js-dist");
  let source = await readFile(path, "utf8");
  /** @param {string | RegExp} from @param {string} to */
  const replaceOnce = (from, to) => {
    const parts = source.split(from);
    if (parts.length !== 2) {
      throw new Error(
        `plotly.js-dist no longer looks as this script expects: ${from} occurs ${parts.length - 1} times.`,
      );
    }
    source = parts.join(to);
  };
  replaceOnce(/Plotly\.register\(\[\s*\/\/ traces[^\]]*\]\);/, "");
  replaceOnce("var Plotly = (() => {", "");
  replaceOnce(/return require_index\(\);\s*\}\)\(\);/, "window.Plotly = require_index();");
  const start = source.indexOf('"use strict";');
  const end = source.lastIndexOf("window.Plotly = Plotly;");
  source = source
    .slice(start, end)
    .replace(/^( {2}var \w+ = )(__(?:commonJS|esm)\()/gm, "$1/* @__PURE__ */ $2");
  const { code } = await transform(source, {
    minify: true,
    treeShaking: true,
    format: "iife",
    target: "es2020",
    legalComments: "none",
    charset: "ascii",
  });
  if (/\bnew Function\b|[^.\w]Function\(|[^.\w]eval\(/.test(code)) {
    throw new Error("The plot library evaluates text, which the report's content security policy forbids.");
  }
  const licence = await readFile(join(dirname(path), "LICENSE"), "utf8");
  const notice = `/*! plotly.js, cut down to scatter traces.\n${licence.replaceAll("*/", "* /").trim()}\n*/\n`;
  return insideScript(notice + code.trim());
}

/** @returns {Promise<PageAssets>} all parts of the page */
export async function makePageAssets() {
  const [css, script, plot] = await Promise.all([
    bundleForPage("src/report/page/page.css"),
    pageBundle("src/report/page/page.ts"),
    plotScript(),
  ]);
  const page = insideScript(script.text);
  return {
    css,
    pageScript: page,
    pageScriptSha256: sha256(page),
    // Level 9 with no time in the header: the same library gives the same bytes.
    plotScriptGzipBase64: gzipSync(plot, { level: 9 }).toString("base64"),
    plotScriptSha256: sha256(plot),
    licences: licencesOf([...packagesIn(script.metafile), "plotly.js-dist"]),
  };
}

/** @param {PageAssets} assets */
export async function buildPage(assets) {
  const folder = join(root, "dist/page");
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, "page-assets.json"), JSON.stringify(assets));
}
