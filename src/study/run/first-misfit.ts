import type { z } from "zod";

/** The first thing a schema did not accept, as messages say it: which key, and why. */
export function firstMisfit({ issues: [{ path, message }] }: z.ZodError): string {
  return `${path.length === 0 ? "its content" : `its key ${path.join(".")}`} does not fit (${message})`;
}
