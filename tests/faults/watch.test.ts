import {
  appendFileSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { afterEach, expect, it } from "vitest";
import { differences, differing, filesOf, isOneSet, leftovers } from "./make/output-set.js";
import { cli, ownPlace } from "./make/own-place.js";
import { quickExport, quickSweep } from "./make/quick-export.js";
import { assessCleanly, startWatcher, until, type Watcher } from "./make/watcher.js";

const place = ownPlace("watch");
let watchers: Watcher[] = [];
afterEach(async () => {
  await Promise.all(watchers.map((watcher) => watcher.end("SIGKILL")));
  watchers = [];
});

function watch(more: string[] = [], to = place.out): Watcher {
  const watcher = startWatcher(cli, place.inputs, to, { more });
  watchers.push(watcher);
  return watcher;
}
const { put } = place;

/** The output is what a clean assessment of the folder gives, byte for byte. */
async function expectClean(to = place.out) {
  const clean = join(place.folder, "clean");
  rmSync(clean, { recursive: true, force: true });
  const { status, stderr } = await assessCleanly(cli, place.inputs, clean);
  expect(status, stderr).toBe(0);
  expect(differences(to, clean)).toEqual([]);
  expect(isOneSet(filesOf(to))).toBe(true);
  expect(leftovers(to)).toEqual([]);
}

/** When each kept entry was written, by name. */
function entriesOf(kind: "readings" | "compounds"): Map<string, number> {
  const kept = join(place.out, ".cache", kind);
  const entries = new Map<string, number>();
  for (const name of readdirSync(kept)) {
    // The watcher removes what is no longer needed right after its first report.
    const state = statSync(join(kept, name), { throwIfNoEntry: false });
    if (state !== undefined) entries.set(name, state.mtimeMs);
  }
  return entries;
}
const written = (before: Map<string, number>, after: Map<string, number>) =>
  [...after].filter(([name, at]) => before.get(name) !== at).length;

it("tells of each file that arrives, changes and leaves, and the output follows, byte for byte", async () => {
  put("a.csv", quickExport(1));
  put("broken.txt", "Dear all,\nplease find the data attached.\n");
  const watcher = watch();
  await watcher.line(/^report written: 1 compound from 2 files, 1 rejected$/);
  expect(watcher.lines[0]).toMatch(/^watching .*Ctrl-C ends it\.$/);
  expect(watcher.lines.slice(1, 3)).toEqual([
    expect.stringMatching(/^\+ a\.csv {2}rebound$/),
    expect.stringMatching(/^✗ broken\.txt.* {2}rejected \[io\.[a-z-]+\] /),
  ]);
  await expectClean();

  let from = watcher.lines.length;
  mkdirSync(join(place.inputs, "later"));
  put("later/b.csv", quickExport(2));
  expect(await watcher.line(/b\.csv/, from)).toBe("+ later/b.csv  rebound");
  await watcher.line(/^report written: 2 compounds from 3 files/, from);
  await expectClean();

  from = watcher.lines.length;
  put("a.csv", quickExport(1, "Alder 45"));
  expect(await watcher.line(/a\.csv/, from)).toBe("~ a.csv  rebound");
  await watcher.line(/^report written/, from);
  await expectClean();

  from = watcher.lines.length;
  rmSync(join(place.inputs, "broken.txt"));
  expect(await watcher.line(/broken/, from)).toBe("− broken.txt  left");
  await watcher.line(/^report written: 2 compounds from 2 files$/, from);
  await expectClean();

  // One line an event, and one a report: nothing was said twice.
  const news = watcher.lines.filter((line) => /^[+~−✗]/.test(line));
  expect(news.length).toBe(5);
  expect(await watcher.end("SIGINT")).toEqual({ code: 0, signal: null });
  expect(watcher.lines.at(-1)).toBe("ended");
  expect(watcher.errors).toEqual([]);
});

it("computes only what changed, and after a restart nothing at all", async () => {
  put("a.csv", quickSweep("Birch 60", -35));
  put("b.csv", quickExport(2, "Alder 45"));
  const watcher = watch();
  await watcher.line(/^report written: 2 compounds/);
  const readings = entriesOf("readings");
  const compounds = entriesOf("compounds");
  expect([readings.size, compounds.size]).toEqual([2, 2]);

  put("b.csv", quickExport(3, "Alder 45"));
  await watcher.line(/^~ b\.csv/);
  await until(
    "a second report",
    () => watcher.lines.filter((line) => line.startsWith("report")).length === 2,
  );
  expect(written(readings, entriesOf("readings"))).toBe(1);
  expect(written(compounds, entriesOf("compounds"))).toBe(1);
  await watcher.end("SIGTERM");

  // Ending removes what the current folder does not need.
  const kept = [entriesOf("readings"), entriesOf("compounds")];
  const again = watch();
  await again.line(/^report written: 2 compounds/);
  expect(written(kept[0], entriesOf("readings"))).toBe(0);
  expect(written(kept[1], entriesOf("compounds"))).toBe(0);
  await expectClean();
});

it("a damaged, foreign or old cache is not trusted", async () => {
  put("a.csv", quickExport(1, "Birch 60"));
  put("b.csv", quickExport(2, "Alder 45"));
  const first = watch();
  await first.line(/^report written/);
  await first.end("SIGINT");
  const [a, b] = readdirSync(join(place.out, ".cache", "compounds")).map((name) =>
    join(place.out, ".cache", "compounds", name),
  );
  // One entry under the other's name is sound in itself, and still wrong.
  const content = readFileSync(a);
  writeFileSync(b, content);
  for (const name of readdirSync(join(place.out, ".cache", "readings"))) {
    const file = join(place.out, ".cache", "readings", name);
    const bytes = readFileSync(file);
    bytes[bytes.length - 9] ^= 4;
    writeFileSync(file, bytes);
  }
  const second = watch();
  await second.line(/^report written: 2 compounds/);
  await expectClean();
});

it("needs no events with --poll", async () => {
  put("a.csv", quickExport(1));
  const watcher = watch(["--poll"]);
  await watcher.line(/^report written: 1 compound/);
  put("b.csv", quickExport(2));
  await watcher.line(/^report written: 2 compounds/);
  await expectClean();
});

it("an output inside the watched folder, or the folder itself, is not taken for input", async () => {
  put("a.csv", quickExport(1));
  const inside = watch([], join(place.inputs, "report here"));
  await inside.line(/^report written: 1 compound from 1 file$/);
  await inside.end("SIGINT");
  expect(inside.lines.filter((line) => line.startsWith("+"))).toEqual(["+ a.csv  rebound"]);
  rmSync(join(place.inputs, "report here"), { recursive: true });

  const itself = watch([], place.inputs);
  await itself.line(/^report written: 1 compound from 1 file$/);
  put("b.csv", quickExport(2));
  await itself.line(/^report written: 2 compounds from 2 files$/);
  await itself.end("SIGINT");
  const before = filesOf(place.inputs);
  expect(before.size).toBeGreaterThan(5);
  const again = watch([], place.inputs);
  await again.line(/^report written: 2 compounds from 2 files$/);
  await again.end("SIGINT");
  expect(differing(filesOf(place.inputs), before)).toEqual([]);
});

it("a file that grows is read once, when it has stopped, and holds nobody up", async () => {
  const content = quickExport(1);
  put("slow.csv", content.slice(0, 20));
  const watcher = startWatcher(cli, place.inputs, place.out, { settle_ms: 700 });
  watchers.push(watcher);
  for (let at = 20; at < content.length; at += 20) {
    appendFileSync(join(place.inputs, "slow.csv"), content.slice(at, at + 20));
    if (at === 40) put("quick.csv", quickExport(2));
    await new Promise((done) => setTimeout(done, 150));
  }
  await watcher.line(/^report written: \d compounds from 2 files$/);
  expect(watcher.lines.filter((line) => /slow/.test(line))).toEqual(["+ slow.csv  rebound"]);
  await expectClean();
});

it("survives the folder being away for a while, and a study that is broken for a while", async () => {
  put("a.csv", quickExport(1, "Birch 60"));
  const watcher = watch(["--poll"]);
  await watcher.line(/^report written/);
  rmSync(place.inputs, { recursive: true });
  await watcher.line(/^\[study\.no-such-path\].*Waiting for it to come back\.$/);
  mkdirSync(place.inputs);
  put("a.csv", quickExport(1, "Birch 60"));
  put("study.yaml", "uses:\n  - temperatur_C: 5\n");
  await watcher.line(/^\[study\.unknown-key\].*study\.yaml:2/);
  put("b.csv", quickExport(2, "Alder 45"));
  const from = watcher.lines.length;
  put("study.yaml", "uses:\n  - temperature_C: 5\n");
  await watcher.line(/^report written: 2 compounds from 2 files$/, from);
  await expectClean();
});
