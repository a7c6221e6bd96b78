// Writes docs/fitting-yardstick.md from a run of the yardstick: node scripts/write-fitting-yardstick.mjs
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { importText, root } from "./bundler.mjs";

const { fittingYardstickPage } = await importText(
  'export { fittingYardstickPage } from "./tests/outside/fitting-yardstick-page.js";',
);
writeFileSync(join(root, "docs/fitting-yardstick.md"), fittingYardstickPage());
