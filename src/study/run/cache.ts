import { createHash, type Hash, randomBytes } from "node:crypto";
import { constants, lstatSync, type Stats } from "node:fs";
import { mkdir, open, readdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { deserialize, serialize } from "node:v8";

/**
 * Results kept between runs, each under the hash of all that it was computed from. An entry carries its own
 * key and the hash of its content; one that is damaged, cut short, under another's name or from another
 * version of the program is ignored and computed again. Losing the folder loses nothing but time.
 */
export interface Cache {
  get(kind: string, key: string): Promise<unknown>;
  put(kind: string, key: string, value: unknown): Promise<void>;
}

export interface FolderCache extends Cache {
  /** Removes what was neither found nor put since the cache was opened, of the kinds that were asked for. */
  prune(): Promise<void>;
}

export const noCache: Cache = { get: async () => undefined, put: async () => undefined };

const magic = "frostline-cache/2\n";

/** @param program tells one build of the program from another */
export function folderCache(folder: string, program: string): FolderCache {
  const nameOf = (key: string) => `${hashOf([program, key])}.bin`;
  const used = new Set<string>();
  const kinds = new Set<string>();
  return {
    async get(kind, key) {
      const name = nameOf(key);
      kinds.add(kind);
      const value = await entryOf(join(folder, kind, name), name);
      if (value !== undefined) used.add(join(kind, name));
      return value;
    },
    async put(kind, key, value) {
      // The cache is a convenience: that it cannot be written is no reason to fail.
      const name = nameOf(key);
      const file = join(folder, kind, name);
      const unfinished = `${file}.${randomBytes(8).toString("hex")}.part`;
      try {
        const content = serialize(value);
        await mkdir(dirname(file), { recursive: true, mode: 0o700 });
        if (!liesInPrivate(file)) return;
        const head = Buffer.from(`${magic}${sha256(content)}${name}\n`, "latin1");
        await writeFile(unfinished, Buffer.concat([head, content]), { mode: 0o600, flag: "wx" });
        await rename(unfinished, file);
        used.add(join(kind, name));
      } catch {
        await rm(unfinished, { force: true }).catch(() => undefined);
      }
    },
    async prune() {
      for (const kind of kinds) {
        if (!liesInPrivate(join(folder, kind, "any"))) continue;
        for (const name of await readdir(join(folder, kind)).catch(() => [])) {
          if (used.has(join(kind, name)) || !/\.(bin|part)$/.test(name)) continue;
          await rm(join(folder, kind, name), { force: true }).catch(() => undefined);
        }
      }
    },
  };
}

/** The cache of an output folder, which `assess` and `watch` share. */
export async function cacheOfOutput(out: string, version: string): Promise<FolderCache> {
  return folderCache(join(resolve(out), ".cache"), await programOf(version));
}

/** Version and build: what another build computed is not taken from the cache. */
async function programOf(version: string): Promise<string> {
  // The bundle's entry names its parts by their content, so its own content stands for all of them.
  const entry = await readFile(new URL("./cli.js", import.meta.url)).catch(() => null);
  return entry === null ? version : `${version} ${createHash("sha256").update(entry).digest("hex")}`;
}

/**
 * An entry is unpacked only where nobody but the user who runs this can have written it: unpacking somebody's bytes is
 * running them, nearly. The hash in it guards against damage, not against people.
 */
async function entryOf(file: string, name: string): Promise<unknown> {
  try {
    if (!liesInPrivate(file)) return undefined;
    const handle = await open(
      file,
      constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0),
    );
    let bytes: Buffer;
    try {
      const state = await handle.stat();
      if (!state.isFile() || !isPrivate(state)) return undefined;
      bytes = await handle.readFile();
    } finally {
      await handle.close();
    }
    const head = magic.length + 64 + name.length + 1;
    const content = bytes.subarray(head);
    const expected = `${magic}${sha256(content)}${name}\n`;
    return bytes.toString("latin1", 0, head) === expected ? deserialize(content) : undefined;
  } catch {
    return undefined;
  }
}

/** The cache's folder and the entry's own; false where a file is in their way. */
function liesInPrivate(file: string): boolean {
  try {
    return [dirname(dirname(file)), dirname(file)].every((folder) => isPrivate(lstatSync(folder)));
  } catch {
    return false;
  }
}

/** Owned by the user who runs this, and written by no other; where the system has no owners it is not known, and trusted. */
function isPrivate(state: Stats): boolean {
  if (state.isSymbolicLink()) return false;
  return process.geteuid === undefined || (state.uid === process.geteuid() && (state.mode & 0o022) === 0);
}

/**
 * SHA-256 of any plain data, typed arrays among it. It depends on the values alone, and not on how the engine
 * happens to hold a number or a text.
 */
export function hashOf(value: unknown): string {
  const hash = createHash("sha256");
  addTo(hash, value);
  return hash.digest("hex");
}

function addTo(hash: Hash, value: unknown): void {
  if (ArrayBuffer.isView(value)) {
    hash.update(`v${value.constructor.name}${value.byteLength}:`);
    hash.update(new Uint8Array(value.buffer, value.byteOffset, value.byteLength));
  } else if (Array.isArray(value)) {
    hash.update(`a${value.length}:`);
    for (const each of value) addTo(hash, each);
  } else if (typeof value === "object" && value !== null) {
    const entries = Object.entries(value).filter(([, each]) => each !== undefined);
    hash.update(`o${entries.length}:`);
    for (const [key, each] of entries) {
      addTo(hash, key);
      addTo(hash, each);
    }
  } else if (typeof value === "string") hash.update(`s${value.length}:${value}`);
  else hash.update(`${typeof value}${Object.is(value, -0) ? "-0" : String(value)};`);
}

function sha256(bytes: Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}
