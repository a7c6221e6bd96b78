import {
  chmodSync,
  chownSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { folderCache, hashOf } from "../../src/study/run/cache.js";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-cache-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const value = { name: "Birch 60", column: Float64Array.of(1, 2, Number.NaN), none: null };
const entry = () => join(folder, "readings", readdirSync(join(folder, "readings"))[0]);

it("gives back what was put, typed arrays among it, also to a later run", async () => {
  await folderCache(folder, "1").put("readings", "key", value);
  expect(await folderCache(folder, "1").get("readings", "key")).toEqual(value);
  expect(await folderCache(folder, "1").get("readings", "other key")).toBeUndefined();
});

it("an entry of another version of the program is not found", async () => {
  await folderCache(folder, "1").put("readings", "key", value);
  expect(await folderCache(folder, "2").get("readings", "key")).toBeUndefined();
});

it.each([
  ["cut short", (bytes: Buffer) => bytes.subarray(0, bytes.length - 3)],
  ["empty", () => Buffer.alloc(0)],
  ["of another kind", () => Buffer.from("{}")],
  [
    "with one byte changed",
    (bytes: Buffer) => Buffer.from(bytes.map((b, i) => (i === bytes.length - 1 ? b ^ 1 : b))),
  ],
])("an entry %s is ignored", async (_, damage) => {
  const cache = folderCache(folder, "1");
  await cache.put("readings", "key", value);
  writeFileSync(entry(), damage(readFileSync(entry())));
  expect(await cache.get("readings", "key")).toBeUndefined();
});

it("a cache that cannot be written is no failure", async () => {
  writeFileSync(join(folder, "file"), "");
  const cache = folderCache(join(folder, "file"), "1");
  await cache.put("readings", "key", value);
  expect(await cache.get("readings", "key")).toBeUndefined();
});

it("hashOf tells arrays apart that differ in one number", () => {
  expect(hashOf(Float64Array.of(1, 2))).toBe(hashOf(Float64Array.of(1, 2)));
  expect(hashOf(Float64Array.of(1, 2))).not.toBe(hashOf(Float64Array.of(1, 2.0000001)));
});

it("entries and their folders are private to the user", async () => {
  await folderCache(folder, "1").put("readings", "key", value);
  expect(statSync(entry()).mode & 0o777).toBe(0o600);
  expect(statSync(join(folder, "readings")).mode & 0o777).toBe(0o700);
});

it.each([
  ["that others may write to", () => chmodSync(entry(), 0o666)],
  ["in a folder that others may write to", () => chmodSync(join(folder, "readings"), 0o777)],
  [
    "that is a link",
    () => {
      const place = entry();
      renameSync(place, join(folder, "planted"));
      symlinkSync(join(folder, "planted"), place);
    },
  ],
])("an entry %s is not unpacked", async (_, plant) => {
  const cache = folderCache(folder, "1");
  await cache.put("readings", "key", value);
  plant();
  expect(await cache.get("readings", "key")).toBeUndefined();
});

it.skipIf(process.getuid?.() !== 0)("an entry that another user planted is not unpacked", async () => {
  const cache = folderCache(folder, "1");
  await cache.put("readings", "key", value);
  chownSync(entry(), 65534, 65534);
  expect(await cache.get("readings", "key")).toBeUndefined();
});

it("a cache that is a link to another folder has nothing written or removed there", async () => {
  const other = join(folder, "other");
  mkdirSync(join(other, "readings"), { recursive: true });
  writeFileSync(join(other, "readings", "mine.bin"), "mine");
  symlinkSync(other, join(folder, ".cache"));
  const cache = folderCache(join(folder, ".cache"), "1");
  await cache.put("readings", "key", value);
  await cache.prune();
  expect(readdirSync(join(other, "readings"))).toEqual(["mine.bin"]);
});
