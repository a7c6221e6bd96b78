import { createHash, randomBytes } from "node:crypto";
import { readFileSync } from "node:fs";
import { hostname, uptime } from "node:os";

const pattern = /^\.frostline-writing-[0-9a-f]{8}-[0-9a-f]{8}-[0-9a-f]{16}$/;

/**
 * A name for an output that is being written, that no other process on any host or in any container has: the host and
 * its start, for whoever wonders whose it is, and a random token. A process number would mean another process elsewhere.
 */
export function stagingName(): string {
  const short = (text: string) => createHash("sha256").update(text).digest("hex").slice(0, 8);
  return `.frostline-writing-${short(hostname())}-${short(bootOf())}-${randomBytes(8).toString("hex")}`;
}

export const isStaging = (name: string) => pattern.test(name);

/** What changes with every start of the machine. */
function bootOf(): string {
  try {
    return readFileSync("/proc/sys/kernel/random/boot_id", "utf8");
  } catch {
    return String(Math.round(Date.now() / 1000 - uptime()));
  }
}
