import { execFile, spawnSync } from "node:child_process";
import { promisify } from "node:util";

const cli = new URL("../../dist/cli.js", import.meta.url).pathname;

export interface CliRun {
  status: number | null;
  stdout: string;
  stderr: string;
}

/** Runs the built program as a user would. */
export function runCli(args: string[], options: { cwd?: string } = {}): CliRun {
  const { status, stdout, stderr } = spawnSync(process.execPath, [cli, ...args], {
    encoding: "utf8",
    cwd: options.cwd,
    maxBuffer: 64e6,
  });
  return { status, stdout, stderr };
}

/** The same beside other work. Throws where the program ends with another code than 0. */
export async function runCliBeside(...args: string[]): Promise<void> {
  await promisify(execFile)(process.execPath, [cli, ...args]);
}
