// @ts-check
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";

/** Whether packages can be installed here without asking anyone: as root on Debian. */
export const installsDebianPackages =
  typeof process.getuid === "function" && process.getuid() === 0 && existsSync("/etc/debian_version");

/**
 * Installs these with apt-get, quietly; what it wrote is shown on stderr where it failed.
 * @param {string[]} names
 */
export function installDebianPackages(names) {
  for (const args of [
    ["update", "-qq"],
    ["install", "-y", "-qq", "--no-install-recommends", ...names],
  ]) {
    const { status, stdout, stderr } = spawnSync("apt-get", args, {
      stdio: ["ignore", "pipe", "pipe"],
      encoding: "utf8",
      maxBuffer: 256 * 1024 * 1024,
      env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
    });
    if (status !== 0) process.stderr.write(`${stdout ?? ""}${stderr ?? ""}apt-get ${args[0]} failed.\n`);
  }
}
