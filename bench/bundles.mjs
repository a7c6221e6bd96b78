import { gzipSync } from "node:zlib";
import { build } from "esbuild";
import { makePageAssets } from "../scripts/build-page.mjs";
import { forPage, program } from "../scripts/bundler.mjs";
import { kibibytes, table } from "./table.mjs";

/** Sizes of what is built, and what makes them up, by the bundler's own account. */
export async function bundles() {
  const node = await build({ ...program, metafile: true, write: false });
  const page = await build({
    ...forPage,
    entryPoints: ["src/report/page/page.ts"],
    outdir: "dist/page",
    metafile: true,
  });
  const assets = await makePageAssets();
  const rows = [
    rowOf("start-up of any command (cli.js)", node, startOf(node.metafile, "dist/cli.js")),
    rowOf("frostline assess, all of it", node, reachOf(node.metafile, "assess-command")),
    rowOf("the library (index.js)", node, startOf(node.metafile, "dist/index.js")),
    rowOf("one worker (compound-worker.js)", node, startOf(node.metafile, "dist/compound-worker.js")),
    rowOf("the page's script, minified", page, Object.keys(page.metafile.outputs)),
    [
      "the page's plots, packed",
      kibibytes(assets.plotScriptGzipBase64.length),
      kibibytes(assets.plotScriptGzipBase64.length * 0.75),
      "plotly.js-dist, scatter traces only; in each report as gzip in base64",
    ],
  ];
  const shared = sharedSources(node.metafile, page.metafile);
  console.log(`Bundles.\n${table(["", "size", "gzip", "made up of"], rows)}`);
  console.log(
    `The page's script and the command line share ${shared.length} source files (${kibibytes(shared.reduce((sum, { bytes }) => sum + bytes, 0))} of sources in io, fit and predict).\n`,
  );
}

/** The output and all that it imports at once. */
function startOf({ outputs }, entry) {
  const reached = new Set();
  const visit = (path) => {
    if (reached.has(path) || outputs[path] === undefined) return;
    reached.add(path);
    for (const { path: next, kind } of outputs[path].imports) if (kind === "import-statement") visit(next);
  };
  visit(entry);
  return [...reached];
}

/** The same from the chunk whose name begins so, with the start-up's own. */
function reachOf(metafile, stem) {
  const entry = Object.keys(metafile.outputs).find(
    (path) => path.startsWith(`dist/${stem}`) && path.endsWith(".js"),
  );
  return [...new Set([...startOf(metafile, "dist/cli.js"), ...startOf(metafile, entry)])];
}

function rowOf(title, { metafile, outputFiles }, paths) {
  const bytes = new Map();
  let size = 0;
  let packed = 0;
  for (const path of paths) {
    size += metafile.outputs[path].bytes;
    packed += gzipSync(outputFiles.find((file) => file.path.endsWith(path)).contents).length;
    for (const [source, { bytesInOutput }] of Object.entries(metafile.outputs[path].inputs)) {
      const name = groupOf(source);
      bytes.set(name, (bytes.get(name) ?? 0) + bytesInOutput);
    }
  }
  const parts = [...bytes].sort((a, b) => b[1] - a[1]).filter(([, count]) => count >= 0.02 * size);
  const words = parts.map(([name, count]) => `${name} ${((100 * count) / size).toFixed(0)} %`).join(", ");
  return [title, kibibytes(size), kibibytes(packed), words];
}

/** "src/fit" for our own sources, the package's name for others. */
function groupOf(source) {
  const inPackage = /node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(source);
  if (inPackage) return inPackage[1];
  const [top, second] = source.split("/");
  return top === "src" ? `src/${second}` : top;
}

function sharedSources(nodeMeta, pageMeta) {
  const pure = (path) => /^src\/(?:io|fit|predict)\//.test(path);
  return Object.entries(pageMeta.inputs)
    .filter(([path]) => pure(path) && nodeMeta.inputs[path] !== undefined)
    .map(([path, { bytes }]) => ({ path, bytes }));
}
