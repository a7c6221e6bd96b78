import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";

/** A fenced block of a page: its language, and what stands after it in the opening line. */
export interface Fence {
  page: string;
  line: number;
  language: string;
  /** "file=NAME", "not-run: why", "study", "output", … */
  info: string;
  text: string;
}

/** Pages that other tests hold to what they say. */
const elsewhere = ["fitting-yardstick.md", "speed.md", "faults.md"];

/** Every Markdown page that is held to its word here, relative to the project. */
export function pages(): string[] {
  const root = process.cwd();
  const docs = readdirSync(join(root, "docs"), { recursive: true })
    .map((name) => String(name).replaceAll("\\", "/"))
    .filter((name) => name.endsWith(".md") && !name.startsWith("api/") && !elsewhere.includes(name))
    .sort();
  return [
    "README.md",
    ...docs.map((name) => relative(root, join(root, "docs", name)).replaceAll("\\", "/")),
    "notebooks/README.md",
  ];
}

export function fencesOf(page: string): Fence[] {
  const lines = readFileSync(page, "utf8").split("\n");
  const fences: Fence[] = [];
  for (let i = 0; i < lines.length; i++) {
    const opening = /^(\s*)(```+)\s*(\S*)\s*(.*)$/.exec(lines[i]);
    if (opening === null) continue;
    const [, indent, ticks, language, info] = opening;
    const start = i + 1;
    do i++;
    while (i < lines.length && lines[i].trim() !== ticks);
    if (i === lines.length) throw new Error(`${page}:${start}: the block has no end`);
    const text = lines
      .slice(start, i)
      .map((line) => (line.startsWith(indent) ? line.slice(indent.length) : line))
      .join("\n");
    fences.push({ page, line: start, language, info: info.trim(), text });
  }
  return fences;
}
