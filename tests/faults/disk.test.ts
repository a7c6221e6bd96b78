import { spawnSync } from "node:child_process";
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, expect, it } from "vitest";
import { outputFiles } from "../../src/study/outputs/output-files.js";
import { writeOutputs } from "../../src/study/outputs/write-outputs.js";
import { assess } from "../../src/study/run/assess.js";
import { differences, filesOf, isOneSet } from "./make/output-set.js";
import { quickExport } from "./make/quick-export.js";
import { unprivileged } from "./make/unprivileged.js";

const cli = fileURLToPath(new URL("../../dist/cli.js", import.meta.url));
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "frostline-disk-"));
  for (const name of ["in", "out", "first", "second", "third"]) mkdirSync(join(folder, name));
  writeFileSync(join(folder, "in", "a.csv"), quickExport(1, "Birch 60"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** How a small disk of our own can be had here: as an administrator, as anybody, or not at all. */
function smallDisk(): string[] | null {
  for (const command of [
    ["unshare", "-m"],
    ["unshare", "-rm"],
  ]) {
    const [name, ...args] = command;
    const script = `mount -t tmpfs -o size=64k tmpfs "${join(folder, "out")}"`;
    if (spawnSync(name, [...args, "sh", "-c", script]).status === 0) return command;
  }
  return null;
}

function shell(prefix: string[], script: string) {
  const [name, ...args] = [
    ...prefix,
    "sh",
    "-c",
    `set -u; cd "${folder}"; node="${process.execPath}"; cli="${cli}"; frostline() { "$node" "$cli" "$@"; }; ${script}`,
  ];
  const { status, stdout, stderr } = spawnSync(name, args, { encoding: "utf8", timeout: 60_000 });
  return { status, stdout, stderr };
}

it("a full disk is said, the output that is there stays whole, and a watch goes on once there is room", () => {
  const disk = smallDisk();
  // Where no disk can be made, a limit on the size of files stops the write in the middle as well.
  if (disk === null) {
    const run = shell([], "ulimit -f 100; frostline assess in --out out --quiet");
    expect(run.stderr).toMatch(/\[study\.cannot-write\].*nothing was replaced: a file would be larger/);
    expect([...filesOf(join(folder, "out"))]).toEqual([]);
    return;
  }
  const run = shell(
    disk,
    `mount -t tmpfs -o size=6m tmpfs out
    frostline assess in --out out --quiet > first.log || exit 11
    cp -R out/. first
    cp in/a.csv in/b.csv; sed -i s/Birch/Alder/ in/b.csv
    head -c 5200000 /dev/zero > out/filler 2> /dev/null; head -c 6000000 /dev/zero >> out/filler 2> /dev/null
    frostline assess in --out out --quiet 2> second.log; echo $? > second.code
    rm out/filler; cp -R out/. second
    head -c 6000000 /dev/zero > out/filler 2> /dev/null
    "$node" "$cli" watch in --out out --settle 50 > watch.log & watcher=$!
    until grep -q "disk is full" watch.log; do sleep 0.05; done
    rm out/filler
    until grep -q "report written" watch.log; do sleep 0.05; done
    kill -TERM $watcher; wait $watcher; echo $? > watch.code
    cp -R out/. third`,
  );
  expect(run.status, run.stderr).toBe(0);
  const read = (name: string) => readFileSync(join(folder, name), "utf8");
  expect(read("second.log")).toMatch(
    /\[study\.cannot-write\] out: nothing was replaced: the disk is full; free some space\./,
  );
  expect(read("second.code").trim()).toBe("3");
  expect(isOneSet(filesOf(join(folder, "first")))).toBe(true);
  expect(differences(join(folder, "second"), join(folder, "first"))).toEqual([]);
  const told = read("watch.log").split("\n");
  expect(told.filter((line) => line.includes("disk is full")).length).toBe(1);
  expect(told).toContain("report written: 2 compounds from 2 files");
  expect(read("watch.code").trim()).toBe("0");
  expect(isOneSet(filesOf(join(folder, "third")))).toBe(true);
  expect(JSON.parse(read("third/results.json")).compounds.length).toBe(2);
});

it("a disk that can only be read is said, and nothing else happens", async () => {
  const disk = smallDisk();
  const refusal =
    /nothing was replaced: (the disk is read-only|the folder may not be written); choose another/;
  // Where no disk can be made, a folder that may not be written stands for it.
  if (disk === null) {
    const out = join(folder, "out");
    const outcome = await assess([join(folder, "in")], {
      outputFolder: out,
      studyFile: null,
      workers: 1,
      version: "test",
    });
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    const files = await outputFiles(outcome.assessment, []);
    chmodSync(folder, 0o755);
    chmodSync(out, 0o555);
    const problem = await unprivileged(() => writeOutputs(out, files));
    expect(problem?.code).toBe("study.cannot-write");
    expect(problem?.message).toMatch(refusal);
    expect([...filesOf(out)]).toEqual([]);
    return;
  }
  const run = shell(
    disk,
    "mount -t tmpfs -o size=6m tmpfs out && mount -o remount,ro out\nfrostline assess in --out out --quiet 2> log; echo $? > code",
  );
  expect(run.status, run.stderr).toBe(0);
  expect(readFileSync(join(folder, "log"), "utf8")).toMatch(refusal);
  expect(readFileSync(join(folder, "code"), "utf8").trim()).toBe("3");
});

it("a file that may not be larger than a limit is said, and nothing is left half-written", () => {
  const run = shell([], "ulimit -f 100; frostline assess in --out out --quiet 2> log; echo $? > code");
  expect(run.status, run.stderr).toBe(0);
  expect(readFileSync(join(folder, "log"), "utf8")).toMatch(
    /nothing was replaced: a file would be larger than/,
  );
  expect(readFileSync(join(folder, "code"), "utf8").trim()).toBe("3");
  expect([...filesOf(join(folder, "out"))]).toEqual([]);
});
