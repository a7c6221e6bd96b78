// Publishes the shape of results.json as JSON Schema, from the zod schema that validates it.
import { writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const root = join(dirname(fileURLToPath(import.meta.url)), "..");
const bundled = await build({
  stdin: {
    contents: 'export { resultsJsonSchema } from "./src/report/results/results-json-schema.js";',
    resolveDir: root,
  },
  bundle: true,
  write: false,
  platform: "node",
  format: "esm",
});
const { resultsJsonSchema } = await import(
  `data:text/javascript;base64,${Buffer.from(bundled.outputFiles[0].contents).toString("base64")}`
);
writeFileSync(
  join(root, "schema", "results.schema.json"),
  `${JSON.stringify(resultsJsonSchema(), null, 2)}\n`,
);
