import { expect, it } from "vitest";
import { type FileState, SettledFiles } from "../../src/study/watch/settled-files.js";

const state = (size: number, modified_ms = 0, inode = 1): FileState => ({ size, modified_ms, inode });
const files = (entries: Record<string, FileState>) => new Map(Object.entries(entries));

it("a file that grows is left alone until it has been still long enough", () => {
  const settled = new SettledFiles(1000);
  expect(settled.observe(files({ a: state(1) }), 0)).toEqual({ changed: [], gone: [], growing: 1 });
  expect(settled.observe(files({ a: state(2) }), 900).changed).toEqual([]);
  expect(settled.observe(files({ a: state(3) }), 1800).changed).toEqual([]);
  expect(settled.observe(files({ a: state(3) }), 2700).changed).toEqual([]);
  expect(settled.observe(files({ a: state(3) }), 2800)).toEqual({ changed: ["a"], gone: [], growing: 0 });
  expect(settled.observe(files({ a: state(3) }), 9000).changed).toEqual([]);
});

it("a settled file that changes settles again; same size but newer is a change, and so is a replaced file", () => {
  const settled = new SettledFiles(10);
  settled.observe(files({ a: state(5) }), 0);
  expect(settled.observe(files({ a: state(5) }), 10).changed).toEqual(["a"]);
  settled.observe(files({ a: state(5, 77) }), 20);
  expect(settled.observe(files({ a: state(5, 77) }), 30).changed).toEqual(["a"]);
  settled.observe(files({ a: state(5, 77, 2) }), 40);
  expect(settled.observe(files({ a: state(5, 77, 2) }), 50).changed).toEqual(["a"]);
});

it("tells of files that leave, and of a growing one that leaves before it settled it does not", () => {
  const settled = new SettledFiles(10);
  settled.observe(files({ a: state(1), b: state(1) }), 0);
  settled.observe(files({ a: state(1), b: state(2) }), 10);
  expect(settled.observe(files({}), 20)).toEqual({ changed: [], gone: ["a"], growing: 0 });
});
