import { existsSync } from "node:fs";
import { mkdir, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { bytesOfFile } from "../inputs/regular-file.js";
import { whyNotWritten } from "../outputs/write-outputs.js";
import { assessCommand } from "../run/assess-command.js";
import { reportProblems } from "../run/report-problems.js";
import { demoFolder } from "./demo-folder.js";

const mostKept_bytes = 100_000_000;

/** `frostline demo`: writes the invented exports, then assesses them. @returns the exit code */
export async function demoCommand(options: {
  out: string;
  workers?: number;
  quiet?: boolean;
  open?: boolean;
  version: string;
}): Promise<number> {
  const exports = join(options.out, "exports");
  const files = demoFolder();
  for (const { path, bytes } of files) {
    const file = join(exports, path);
    // What somebody changed in a demo folder is theirs.
    const there = existsSync(file) ? bytesOfFile(file, mostKept_bytes) : null;
    if (there !== null && (typeof there === "string" || !there.equals(bytes))) {
      process.stderr.write(
        `frostline: [study.demo-changed] ${file} was changed since the demo wrote it and is kept as it is. Give --out another folder for a fresh demo.\n`,
      );
      continue;
    }
    try {
      await mkdir(dirname(file), { recursive: true });
      await writeFile(file, bytes);
    } catch (error) {
      const why = whyNotWritten(error as NodeJS.ErrnoException);
      return reportProblems(
        [{ code: "study.cannot-write", message: `${file}: cannot be written: ${why}.` }],
        false,
      );
    }
  }
  process.stderr.write(`wrote ${files.length} invented files to ${exports}\n`);
  // The folder shows what an assessment gives, and no more.
  return assessCommand([exports], { ...options, out: join(options.out, "report"), cache: false });
}
