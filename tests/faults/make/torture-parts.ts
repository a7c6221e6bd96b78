export { killRounds } from "./kill-rounds.js";
export { writeLargeExport } from "./large-export.js";
export { differences } from "./output-set.js";
export { quickExport } from "./quick-export.js";
export { assessCleanly, startWatcher } from "./watcher.js";
