import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, sep } from "node:path";
import { build } from "esbuild";
import type { Plugin } from "vitest/config";
import { forNode, root } from "../../scripts/bundler.mjs";

/** The rooms that reach for no file: bundled, they are the same as from their sources. */
const rooms = ["numeric", "words", "io", "fit", "predict"];
const src = join(root, "src");

/**
 * Has Node.js run the rooms that compute as the modules that they are. Vitest's own runner turns each imported name
 * into a look-up in an object, also in the innermost loops: fits then take a quarter more processor time. Bundled
 * anew for every run, a file for a file, so that all tests share what these modules keep. While vitest watches the
 * sources it runs them itself, for Node.js loads a module only once.
 */
export function nativeRooms(): Plugin {
  let folder: string | null = null;
  return {
    name: "frostline-native-rooms",
    enforce: "pre",
    config: () => ({ test: { server: { deps: { external: [/frostline-native-/] } } } }),
    async configureVitest({ vitest }) {
      if (vitest.config.watch) return;
      const made = mkdtempSync(join(tmpdir(), "frostline-native-"));
      process.once("exit", () => rmSync(made, { recursive: true, force: true }));
      await build({
        ...forNode,
        entryPoints: rooms.flatMap((room) =>
          readdirSync(join(src, room), { recursive: true, encoding: "utf8" })
            .filter((path) => path.endsWith(".ts"))
            .map((path) => join(src, room, path)),
        ),
        outbase: src,
        outdir: made,
        outExtension: { ".js": ".mjs" },
        splitting: true,
        sourcemap: "inline",
      });
      folder = made;
    },
    resolveId(source, importer) {
      if (folder === null || importer === undefined || !source.startsWith(".")) return null;
      const path = join(dirname(importer), source);
      const isIn = rooms.some((room) => path.startsWith(join(src, room) + sep));
      return isIn && path.endsWith(".js") ? path.replace(src, folder).replace(/js$/, "mjs") : null;
    },
  };
}
