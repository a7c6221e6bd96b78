import type { PageAssets } from "../src/report/page-assets.js";

export function makePageAssets(): Promise<PageAssets>;
export function buildPage(
  made?: PageAssets,
): Promise<{ css: number; pageScript: number; plotScriptPacked: number }>;
