import type { PageAssets } from "../src/report/page-assets.js";

export function makePageAssets(): Promise<PageAssets>;
export function buildPage(): Promise<{ css: number; pageScript: number; plotScriptPacked: number }>;
