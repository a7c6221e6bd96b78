// @ts-check
// Which packages a bundle holds, and their licences in full, for whatever is given away with them in it.
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "./bundler.mjs";

/**
 * @param {import("esbuild").Metafile} metafile
 * @returns {string[]} names of the packages of which something is in the bundle, sorted
 */
export function packagesIn({ outputs }) {
  const names = Object.values(outputs).flatMap(({ inputs }) =>
    Object.entries(inputs).flatMap(([path, { bytesInOutput }]) => {
      const name = /(?:^|\/)node_modules\/((?:@[^/]+\/)?[^/]+)\/(?!.*node_modules\/)/.exec(path)?.[1];
      return name === undefined || bytesInOutput === 0 ? [] : [name];
    }),
  );
  return [...new Set(names)].sort();
}

/**
 * The licences of packages, each with its name and version before it.
 * @param {string[]} names
 * @param {string} [project] where their node_modules lie
 * @returns {string}
 * @throws where a package comes without the text of its licence
 */
export function licencesOf(names, project = root) {
  return names
    .map((name) => {
      const folder = join(project, "node_modules", name);
      const { version, license } = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
      const own = readdirSync(folder).find((each) => /^licen[cs]e(\.\w+)?$/i.test(each));
      const file = own === undefined ? join(root, "scripts/licences", `${name}.txt`) : join(folder, own);
      if (!existsSync(file)) {
        throw new Error(
          `${name} ${version} (${license}) is bundled and has no licence file: put its notice into scripts/licences/${name}.txt, or do without it.`,
        );
      }
      const text = readFileSync(file, "utf8").replaceAll("\r\n", "\n").trim();
      return `${name} ${version} (${license})\n${"-".repeat(40)}\n${text}\n`;
    })
    .join("\n\n");
}
