import type { PageAssets } from "../src/report/page-assets.js";
import type { DropPageAssets } from "../src/study/drop-page/drop-page-assets.js";

export function makeDropPageAssets(pageAssets?: PageAssets): Promise<DropPageAssets>;
export function buildDropPage(pageAssets?: PageAssets): Promise<{ script: number; reportAssets: number }>;
