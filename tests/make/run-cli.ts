import { spawnSync } from "node:child_process";

/** Runs the built program as a user would. `npm test` builds it first. */
export function runCli(args: string[], options: { cwd?: string } = {}) {
  const cli = new URL("../../dist/cli.js", import.meta.url).pathname;
  const { status, stdout, stderr } = spawnSync(process.execPath, [cli, ...args], {
    encoding: "utf8",
    cwd: options.cwd,
    maxBuffer: 64e6,
  });
  return { status, stdout, stderr };
}
