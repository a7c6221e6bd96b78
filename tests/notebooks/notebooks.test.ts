import { spawnSync } from "node:child_process";
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";

const folder = join(process.cwd(), "notebooks");
const names = readdirSync(folder).filter((name) => name.endsWith(".ipynb"));
/** What scripts/run-notebooks.mjs ends with where a tool is missing that it cannot install. */
const missingTool = 3;

interface Cell {
  cell_type: string;
  source: string | string[];
  execution_count?: number | null;
  outputs?: { output_type: string; data?: Record<string, unknown> }[];
}
const cellsOf = (name: string): Cell[] => JSON.parse(readFileSync(join(folder, name), "utf8")).cells;

describe("the stored notebooks", () => {
  it("are at least four, each in the README", () => {
    expect(names.length).toBeGreaterThanOrEqual(4);
    const readme = readFileSync(join(folder, "README.md"), "utf8");
    for (const name of names) expect(readme).toContain(`(${name})`);
  });

  it.each(names)("%s was run from top to bottom without an error, shows plots and stays small", (name) => {
    const code = cellsOf(name).filter(({ cell_type }) => cell_type === "code");
    expect(code.map(({ execution_count }) => execution_count)).toEqual(code.map((_, i) => i + 1));
    const outputs = code.flatMap(({ outputs }) => outputs ?? []);
    expect(outputs.filter(({ output_type }) => output_type === "error")).toEqual([]);
    expect(outputs.some(({ data }) => data !== undefined && "image/svg+xml" in data)).toBe(true);
    expect(statSync(join(folder, name)).size).toBeLessThan(300_000);
  });

  it.each([
    "choosing-a-winter-tread.ipynb",
    "which-compound-and-how-sure.ipynb",
    "why-the-textbook-rebound-misses.ipynb",
  ])("%s carries its caution", (name) => {
    const text = cellsOf(name)
      .map(({ source }) => [source].flat().join(""))
      .join("\n");
    expect(text).toMatch(/screening/);
    expect(text).toMatch(/qualified person/);
  });
});

it("every cell runs, and the stored texts are those of this run", (context) => {
  const run = spawnSync(process.execPath, ["scripts/run-notebooks.mjs", "--check"], { encoding: "utf8" });
  if (run.status === missingTool) context.skip(run.stderr);
  expect(run.status, run.stdout + run.stderr).toBe(0);
  for (const name of names) expect(run.stdout).toContain(name);
}, 300_000);
