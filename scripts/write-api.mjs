// Writes the library's pages from its docstrings into docs/api (not kept in the repository), or into the folder
// after --out.
import { spawnSync } from "node:child_process";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const root = join(dirname(fileURLToPath(import.meta.url)), "..");
const at = process.argv.indexOf("--out");
const out = at > 0 ? process.argv[at + 1] : join(root, "docs", "api");
/** Shapes that the types are inferred from; the types themselves are public. */
const schemas =
  "batchComparison fillerSeries glassTransition measuredState outlook payneEffect quickIndicators reboundCalibration network softening stiffening superposition whatItTakes".split(
    " ",
  );
const { status } = spawnSync(
  process.execPath,
  [
    join(root, "node_modules/typedoc/bin/typedoc"),
    ...["--entryPoints", "src/index.ts", "--tsconfig", "tsconfig.types.json", "--out", out],
    ...["--name", "Frostline", "--readme", "none", "--disableSources", "--excludeInternal"],
    ...["--intentionallyNotExported", "FrictionSettings", "--intentionallyNotExported", "ReboundSettings"],
    ...schemas.flatMap((name) => ["--intentionallyNotExported", `${name}Schema`]),
    // npm run check finds errors of types.
    ...["--skipErrorChecking", "--treatWarningsAsErrors", "--logLevel", "Warn"],
  ],
  { cwd: root, stdio: "inherit" },
);
process.exit(status ?? 1);
