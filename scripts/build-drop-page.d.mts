import type { BuildOptions } from "esbuild";
import type { PageAssets } from "../src/report/page-assets.js";
import type { DropPageAssets } from "../src/study/drop-page/drop-page-assets.js";

export function makeDropPageAssets(pageAssets?: PageAssets, options?: BuildOptions): Promise<DropPageAssets>;
export function buildDropPage(pageAssets?: PageAssets): Promise<{ script: number; reportAssets: number }>;
