// All that can go wrong, at full size: node scripts/torture.mjs [--kills 1000] [--seed 1] [--only kills,files,growing,large]
// Prints the figures that stand in docs/faults.md, and ends with 1 at the first thing that is not as it must be.
import { spawn } from "node:child_process";
import {
  appendFileSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { bundleOf, root } from "./bundler.mjs";

const cli = join(root, "dist", "cli.js");
const { values } = parseArgs({
  options: {
    kills: { type: "string", default: "1000" },
    seed: { type: "string", default: "1" },
    only: { type: "string", default: "kills,files,growing,large" },
  },
});
const { killRounds, writeLargeExport, differences, quickExport, assessCleanly, startWatcher } = await import(
  await bundleOf("tests/faults/make/torture-parts.ts")
);
const parts = { kills, files: manyFiles, growing, large };
const folder = mkdtempSync(join(tmpdir(), "frostline-torture-"));
try {
  for (const name of values.only.split(",")) {
    if (!Object.hasOwn(parts, name))
      throw new Error(`unknown part "${name}"; known: ${Object.keys(parts).join(", ")}`);
    const place = join(folder, name);
    mkdirSync(place);
    await parts[name](place);
    rmSync(place, { recursive: true });
  }
  console.log("all as it must be");
} catch (error) {
  console.error(error);
  process.exitCode = 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}

async function kills(place) {
  const count = Number(values.kills);
  const start = performance.now();
  const figures = await killRounds(cli, place, count, Number(values.seed), ({ kills: done }) => {
    if (done % 50 === 0) console.error(`${done} of ${count} kills, ${seconds(start)} s`);
  });
  say(
    "kills",
    `${figures.kills} (seed ${values.seed}), ${figures.whileStarting} of them around a start, in ${seconds(start)} s`,
  );
  say(
    "",
    `${figures.filesWritten} files written, ${figures.filesChanged} changed, ${figures.filesRemoved} removed meanwhile`,
  );
  say(
    "",
    `${figures.halfWritten} kills left a half-written output aside, ${figures.halfMoved} one that was being moved`,
  );
  say("", `${figures.equal} restarts gave the bytes of a clean assessment`);
}

async function manyFiles(place) {
  const inputs = join(place, "in");
  const out = join(place, "out");
  mkdirSync(inputs);
  const count = 10_000;
  // Two hundred compounds of fifty tables each.
  for (let i = 0; i < count; i++)
    writeFileSync(join(inputs, `table ${i}.csv`), quickExport(i, `Birch ${i % 200}`));
  let start = performance.now();
  const watcher = startWatcher(cli, inputs, out, { settle_ms: 500 });
  await watcher.line(new RegExp(`from ${count} files`));
  say("10,000 files", `assessed by watch from nothing in ${seconds(start)} s`);
  start = performance.now();
  writeFileSync(join(inputs, "one more.csv"), quickExport(5, "Alder 45"));
  await watcher.line(new RegExp(`from ${count + 1} files`));
  say("", `one more arrives: in the report ${seconds(start)} s later`);
  const memory = peakMemoryOf(watcher.pid);
  await watcher.end("SIGINT");
  start = performance.now();
  await same(inputs, out, place);
  say("", `a clean assessment takes ${seconds(start)} s and gives the same bytes; watch held ${memory}`);
}

async function growing(place) {
  const inputs = join(place, "in");
  const out = join(place, "out");
  mkdirSync(inputs);
  writeFileSync(join(inputs, "still.csv"), quickExport(1));
  const watcher = startWatcher(cli, inputs, out, { settle_ms: 1000 });
  await watcher.line(/from 1 files/);
  const content = quickExport(2, "Alder 45");
  for (let i = 0; i < 120; i++) {
    const [from, to] = [Math.floor((i * content.length) / 120), Math.floor(((i + 1) * content.length) / 120)];
    appendFileSync(join(inputs, "slow.csv"), content.slice(from, to));
    await new Promise((done) => setTimeout(done, 500));
  }
  await watcher.line(/from 2 files/);
  const told = watcher.lines.filter((line) => line.includes("slow.csv"));
  await watcher.end("SIGINT");
  if (told.length !== 1)
    throw new Error(`a growing file was told of ${told.length} times:\n${told.join("\n")}`);
  await same(inputs, out, place);
  say("growing", "a file that grew for 60 s was read once, when it stood still");
}

async function large(place) {
  for (const [megabytes, rows, encoding] of [
    [60, 1_900_000, "utf8"],
    [500, 16_000_000, "utf8"],
    [500, 8_000_000, "utf16le"],
  ]) {
    const file = join(place, `${megabytes} MB ${encoding}.csv`);
    writeLargeExport(file, rows, encoding);
    const size = statSync(file).size;
    const start = performance.now();
    const { status, memory, stderr } = await assessMeasured(file, join(place, "out"));
    if (status !== 0) throw new Error(`${file}: ${stderr}`);
    const [input] = JSON.parse(readFileSync(join(place, "out", "results.json"), "utf8")).inputs;
    const points = input.readings.reduce((sum, reading) => sum + reading.points, 0);
    say(
      `${Math.round(size / 1e6)} MB`,
      `${encoding}, ${rows} rows: ${points} used, ${seconds(start)} s, ${Math.round(memory / 1e6)} MB at most`,
    );
    if (memory > 600e6) throw new Error("more than 600 MB of memory");
    rmSync(file);
  }
}

async function same(inputs, out, place) {
  const clean = join(place, "clean");
  const { status, stderr } = await assessCleanly(cli, inputs, clean);
  const differing = status === 0 ? differences(out, clean) : [stderr];
  if (differing.length > 0) throw new Error(`not the clean assessment: ${differing.join(", ")}`);
}

/** Runs an assessment in a process that tells its peak memory at its end. */
async function assessMeasured(file, out) {
  const tell = `process.on("exit", () => process.stderr.write("\\npeak " + process.resourceUsage().maxRSS * 1024));`;
  const args = [
    "--import",
    `data:text/javascript,${encodeURIComponent(tell)}`,
    cli,
    "assess",
    file,
    "--out",
    out,
  ];
  const child = spawn(process.execPath, [...args, "--quiet", "--workers", "1"], {
    stdio: ["ignore", "ignore", "pipe"],
  });
  let stderr = "";
  child.stderr.on("data", (piece) => {
    stderr += piece;
  });
  const status = await new Promise((done) => child.on("close", done));
  return { status, stderr, memory: Number(/peak (\d+)/.exec(stderr)?.[1] ?? Number.NaN) };
}

function peakMemoryOf(pid) {
  try {
    const kilobytes = /VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, "utf8"))[1];
    return `${Math.round(kilobytes / 1000)} MB at most`;
  } catch {
    return "an unknown amount of memory (no /proc here)";
  }
}

function seconds(start) {
  return ((performance.now() - start) / 1000).toFixed(1);
}

function say(name, text) {
  console.log(`${name.padEnd(14)}${text}`);
}
