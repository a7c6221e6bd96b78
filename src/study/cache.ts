import { createHash } from "node:crypto";
import { mkdir, readFile, rename, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { deserialize, serialize } from "node:v8";

/**
 * Results kept between runs, each under the hash of all that it was computed from. An entry carries the hash
 * of its own content; one that is damaged, cut short or from another version of the program is ignored and
 * computed again. Losing the folder loses nothing but time.
 */
export interface Cache {
  get(kind: string, key: string): Promise<unknown>;
  put(kind: string, key: string, value: unknown): Promise<void>;
}

export const noCache: Cache = { get: async () => undefined, put: async () => undefined };

const magic = "frostline-cache/1\n";

export function folderCache(folder: string, version: string): Cache {
  const fileOf = (kind: string, key: string) => join(folder, kind, `${hashOf([version, key])}.bin`);
  return {
    async get(kind, key) {
      try {
        const bytes = await readFile(fileOf(kind, key));
        const head = magic.length + 64;
        if (bytes.subarray(0, magic.length).toString("latin1") !== magic) return undefined;
        const content = bytes.subarray(head);
        if (bytes.subarray(magic.length, head).toString("latin1") !== sha256(content)) return undefined;
        return deserialize(content);
      } catch {
        return undefined;
      }
    },
    async put(kind, key, value) {
      // The cache is a convenience: that it cannot be written is no reason to fail.
      try {
        const file = fileOf(kind, key);
        const content = serialize(value);
        await mkdir(dirname(file), { recursive: true });
        const unfinished = `${file}.${process.pid}.part`;
        await writeFile(unfinished, Buffer.concat([Buffer.from(magic + sha256(content), "latin1"), content]));
        await rename(unfinished, file);
      } catch {
        return;
      }
    },
  };
}

/** SHA-256 of any plain data, typed arrays among it. */
export function hashOf(value: unknown): string {
  return sha256(serialize(value));
}

function sha256(bytes: Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}
