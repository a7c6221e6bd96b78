// Publishes the shape of results.json as JSON Schema, from the zod schema that validates it.
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { importText, root } from "./bundler.mjs";

const { resultsJsonSchema } = await importText(
  'export { resultsJsonSchema } from "./src/report/results/results-json-schema.js";',
);
writeFileSync(
  join(root, "schema", "results.schema.json"),
  `${JSON.stringify(resultsJsonSchema(), null, 2)}\n`,
);
