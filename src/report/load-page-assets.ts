import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { PageAssets } from "./page-assets.js";

let loaded: PageAssets | undefined;

/**
 * Reads what scripts/build-page.mjs made, once: a program that runs for months keeps the page of its own version
 * when another one is installed over it. It lies in dist/page/, which is beside the bundle once this file is
 * part of one, and two folders up from the sources.
 *
 * @throws where the page was not built
 */
export function loadPageAssets(): PageAssets {
  loaded ??= readPageAssets();
  return loaded;
}

function readPageAssets(): PageAssets {
  const places = ["./page/page-assets.json", "../../dist/page/page-assets.json", "../page/page-assets.json"];
  for (const place of places) {
    try {
      return JSON.parse(readFileSync(fileURLToPath(new URL(place, import.meta.url)), "utf8")) as PageAssets;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== "ENOENT") throw error;
    }
  }
  throw new Error(
    "The page's parts are missing: run `npm run build` once, it makes dist/page/page-assets.json.",
  );
}
