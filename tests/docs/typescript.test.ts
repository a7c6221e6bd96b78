import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { fencesOf, pages } from "./fences.js";

/** The notebooks' kernel and the snippets' bundler drop types without a look; this holds them to strict TypeScript. */
it("the cells of every notebook and the ts blocks of every page compile in strict mode", () => {
  const root = process.cwd();
  const folder = mkdtempSync(join(tmpdir(), "frostline-types-"));
  try {
    const written: string[] = [];
    const write = (name: string, text: string) => {
      written.push(name);
      writeFileSync(join(folder, `${name}.ts`), `${text}\nexport {};\n`);
    };
    for (const name of readdirSync(join(root, "notebooks")).filter((name) => name.endsWith(".ipynb"))) {
      const { cells } = JSON.parse(readFileSync(join(root, "notebooks", name), "utf8"));
      const code = cells.filter(({ cell_type }: { cell_type: string }) => cell_type === "code");
      write(
        name.replace(".ipynb", ""),
        code.map(({ source }: { source: string | string[] }) => [source].flat().join("")).join("\n;\n"),
      );
    }
    for (const page of pages()) {
      for (const { language, line, text } of fencesOf(page)) {
        if (language === "ts") write(`${page.replaceAll(/\W/g, "-")}-${line}`, text);
      }
    }
    expect(written.length).toBeGreaterThanOrEqual(7);
    symlinkSync(join(root, "node_modules"), join(folder, "node_modules"));
    writeFileSync(join(folder, "package.json"), '{ "type": "module" }\n');
    writeFileSync(
      join(folder, "tsconfig.json"),
      JSON.stringify({
        extends: join(root, "tsconfig.json"),
        compilerOptions: {
          paths: { frostline: [join(root, "src/index.ts")], plot: [join(root, "notebooks/plot.ts")] },
          typeRoots: [join(root, "node_modules/@types")],
        },
        include: ["*.ts"],
      }),
    );
    const { stdout } = spawnSync(
      process.execPath,
      [join(root, "node_modules/typescript/bin/tsc"), "-p", folder],
      { encoding: "utf8", cwd: folder },
    );
    expect(stdout).toBe("");
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
