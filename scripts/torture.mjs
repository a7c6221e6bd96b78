// All that can go wrong, at full size: node scripts/torture.mjs [--kills 1000] [--seed 1] [--only kills,files,growing,large,studies,share,clock,tiny]
// Prints the figures that stand in docs/faults.md, and ends with 1 at the first thing that is not as it must be.
import { spawn, spawnSync } from "node:child_process";
import {
  appendFileSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { bundleOf, root } from "./bundler.mjs";
import { installDebianPackages, installsDebianPackages } from "./debian-packages.mjs";

const cli = join(root, "dist", "cli.js");
const { values } = parseArgs({
  options: {
    kills: { type: "string", default: "1000" },
    seed: { type: "string", default: "1" },
    only: { type: "string", default: "kills,files,growing,large,studies,share,clock,tiny" },
  },
});
const { killRounds, writeLargeExport, differences, quickExport, assessCleanly, startWatcher } = await import(
  await bundleOf("tests/faults/make/torture-parts.ts")
);
const parts = { kills, files: manyFiles, growing, large, studies, share, clock, tiny };
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
  if (process.env.FROSTLINE_INSIDE === undefined) console.log("all as it must be");
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
  await watcher.line(/from 1 file\b/);
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

/** Study files that are to hold the program up, to fill it or to lead it astray. */
async function studies(place) {
  const inputs = join(place, "in");
  mkdirSync(inputs);
  // A name on which patterns by regular expressions never end.
  writeFileSync(join(inputs, `${"a".repeat(200)}.csv`), quickExport(1));
  writeFileSync(join(place, "outside.yaml"), "secret: 12345\n");
  const study = join(inputs, "study.yaml");
  const named = (text) => () => writeFileSync(study, text);
  const many = (count, of) => Array.from({ length: count }, (_, i) => of(i)).join("");
  const hostile = {
    "stars in a pattern": named(`compounds:\n  - { name: A, files: ["${"*a".repeat(60)}b"] }\n`),
    "a thousand patterns of stars": named(
      `compounds:\n${many(1000, (i) => `  - { name: A${i}, files: ["${"*a".repeat(30)}${i}b"] }\n`)}`,
    ),
    "braces in braces": named(`files:\n  "${"{a,".repeat(2000)}${"}".repeat(2000)}": { sample: X }\n`),
    "two hundred thousand compounds": named(`compounds:\n${many(200_000, (i) => `  - name: A${i}\n`)}`),
    "aliases that multiply": named(
      `a: &a [${"x,".repeat(20)}]\n${many(12, (i) => `b${i}: &b${i} [${`*${i ? `b${i - 1}` : "a"},`.repeat(20)}]\n`)}`,
    ),
    "an alias of itself": named("compounds: &a\n  - *a\n"),
    "lists a hundred thousand deep": named("[".repeat(100_000)),
    "maps a hundred thousand deep": named("{a: ".repeat(100_000)),
    "a key that is a map": named("? { a: b }\n: c\n"),
    "special keys": named("__proto__: { polluted: 1 }\nconstructor: 2\n"),
    tags: named("!!js/function 'function () { process.exit(7) }'\n"),
    "merge keys": named("x: &x { a: 1 }\ncompounds:\n  - { <<: *x, name: A }\n"),
    "numbers without end": named("seed: 1e999\nuses:\n  - { temperature_C: .nan }\n"),
    "a number of a million digits": named(`seed: ${"9".repeat(1_000_000)}\n`),
    "a line of 50 MB": named("x".repeat(50_000_000)),
    "bytes that are no text": () => writeFileSync(study, Buffer.from([0xff, 0xfe, 0x00, 0xd8, 0x80, 0x81])),
    nothing: named(""),
    zeros: () => writeFileSync(study, Buffer.alloc(100_000)),
    "ten documents": named("--- {}\n".repeat(10)),
    "a folder": () => mkdirSync(study),
    "a pipe": () => spawnSync("mkfifo", [study]),
    "a link out": () => symlinkSync(join(place, "outside.yaml"), study),
    "a profile above": named("textures:\n  - { name: X, profile: ../../../../etc/passwd }\n"),
    "rows without end to ignore": named(`files:\n  "*": { ignoreRows: ["1-999999999999"] }\n`),
  };
  let slowest = { name: "", took_s: 0 };
  let most = 0;
  for (const [name, make] of Object.entries(hostile)) {
    rmSync(study, { recursive: true, force: true });
    make();
    const start = performance.now();
    const { status, stderr, memory } = await assessMeasured(inputs, join(place, "out"));
    const took_s = (performance.now() - start) / 1000;
    const said = stderr.replace(/\npeak .*/, "");
    if (![0, 2].includes(status) || /defect|\n\s+at /.test(said) || said.includes("12345"))
      throw new Error(`${name}: exit code ${status}: ${said.slice(0, 500)}`);
    if (took_s > slowest.took_s) slowest = { name, took_s };
    most = Math.max(most, memory);
  }
  say("studies", `${Object.keys(hostile).length} hostile study files: each read or refused by name`);
  say(
    "",
    `the slowest ${slowest.took_s.toFixed(1)} s (${slowest.name}), ${Math.round(most / 1e6)} MB at most`,
  );
}

/** A share that goes away: its mount is taken off, so that an empty folder stands in its place, or that is gone too. */
async function share(place) {
  if (process.env.FROSTLINE_INSIDE === undefined) {
    // Mounts of its own, which nobody else sees and which end with it.
    const args = [
      "--mount",
      "--propagation",
      "private",
      process.execPath,
      process.argv[1],
      "--only",
      "share",
    ];
    const inside = spawnSync("unshare", args, {
      stdio: ["ignore", "inherit", "inherit"],
      env: { ...process.env, FROSTLINE_INSIDE: "1" },
    });
    if (inside.error?.code === "ENOENT" || inside.status === null)
      say("share", "not run: needs root on Linux");
    else if (inside.status !== 0) throw new Error("share: see above");
    return;
  }
  const [store, inputs, out, before] = ["store", "in", "out", "before"].map((name) => join(place, name));
  for (const folder of [store, inputs]) mkdirSync(folder);
  for (let i = 0; i < 50; i++) writeFileSync(join(store, `${i}.csv`), quickExport(i));
  const run = (command, ...args) => {
    const { status, stderr } = spawnSync(command, args, { encoding: "utf8" });
    if (status !== 0) throw new Error(`${command} ${args.join(" ")}: ${stderr}`);
  };
  const mount = () => run("mount", "--bind", store, inputs);
  mount();
  const watcher = startWatcher(cli, inputs, out, { settle_ms: 200, more: ["--poll"] });
  await watcher.line(/from 50 files/);
  const rounds = 20;
  for (let round = 0; round < rounds; round++) {
    const from = watcher.lines.length;
    rmSync(before, { recursive: true, force: true });
    cpSync(out, before, { recursive: true });
    run("umount", "--lazy", inputs);
    const isGone = round % 2 === 1;
    if (isGone) renameSync(inputs, `${inputs}-away`);
    await watcher.line(isGone ? /Waiting for it to come back/ : /nothing usable yet/, from);
    const lost = differences(out, before);
    if (lost.length > 0) throw new Error(`away, and the output has changed: ${lost.join(", ")}`);
    writeFileSync(join(store, `new ${round}.csv`), quickExport(100 + round));
    if (isGone) renameSync(`${inputs}-away`, inputs);
    mount();
    await watcher.line(new RegExp(`from ${51 + round} files`), from);
  }
  await watcher.end("SIGINT");
  await same(inputs, out, place);
  run("umount", "--lazy", inputs);
  say(
    "share",
    `went away and came back ${rounds} times, half of them its folder too, and held a new file each time:`,
  );
  say("", "the output stayed while it was away, and ended as a clean assessment's, byte for byte");
}

/** The clock of the watcher jumps by years while files arrive; the machine's own is left alone. */
async function clock(place) {
  const library = () =>
    readdirSync("/usr/lib")
      .map((name) => join("/usr/lib", name, "faketime", "libfaketime.so.1"))
      .find((name) => existsSync(name));
  if (installsDebianPackages && library() === undefined) installDebianPackages(["libfaketime"]);
  const preload = existsSync("/usr/lib") ? library() : undefined;
  if (preload === undefined) {
    say("clock", "not run: needs Debian's libfaketime");
    return;
  }
  const inputs = join(place, "in");
  const out = join(place, "out");
  mkdirSync(inputs);
  const jump = join(place, "jump");
  writeFileSync(jump, "+0\n");
  Object.assign(process.env, {
    LD_PRELOAD: preload,
    FAKETIME_TIMESTAMP_FILE: jump,
    FAKETIME_NO_CACHE: "1",
    FAKETIME_DONT_FAKE_MONOTONIC: "1",
  });
  writeFileSync(join(inputs, "first.csv"), quickExport(0));
  const watcher = startWatcher(cli, inputs, out, { settle_ms: 200, more: ["--poll"] });
  writeFileSync(jump, "-3650d\n");
  const { stdout } = spawnSync(process.execPath, ["-p", "Date.now()"], { encoding: "utf8" });
  for (const name of [
    "LD_PRELOAD",
    "FAKETIME_TIMESTAMP_FILE",
    "FAKETIME_NO_CACHE",
    "FAKETIME_DONT_FAKE_MONOTONIC",
  ])
    delete process.env[name];
  if (!(Number(stdout) < Date.now() - 3000 * 86_400_000)) throw new Error("the clock does not jump");
  await watcher.line(/from 1 files?/);
  const jumps = 40;
  for (let i = 0; i < jumps; i++) {
    writeFileSync(jump, `${["+3650d", "-3650d", "+1h", "-1h", "+0"][i % 5]}\n`);
    const file = join(inputs, `${i}.csv`);
    writeFileSync(file, quickExport(i + 1));
    // The instrument's clock is not right either.
    const stamp = new Date(i % 3 === 0 ? "1980-01-01" : i % 3 === 1 ? "2070-01-01" : Date.now());
    utimesSync(file, stamp, stamp);
    await watcher.line(new RegExp(`from ${i + 2} files`));
  }
  await watcher.end("SIGINT");
  await same(inputs, out, place);
  say(
    "clock",
    `${jumps} jumps of up to ten years either way, a file after each: all read, the bytes of a clean assessment`,
  );
}

async function tiny(place) {
  const inputs = join(place, "in");
  mkdirSync(inputs);
  const count = 100_000;
  for (let i = 0; i < count; i++)
    writeFileSync(join(inputs, `table ${i}.csv`), quickExport(i, `Birch ${i % 200}`));
  const start = performance.now();
  const { status, memory, stderr } = await assessMeasured(inputs, join(place, "out"));
  if (status !== 0) throw new Error(`tiny files: ${stderr}`);
  const { inputs: read } = JSON.parse(readFileSync(join(place, "out", "results.json"), "utf8"));
  if (read.filter((one) => one.status === "read").length !== count) throw new Error("not all were read");
  say("tiny files", `${count}: assessed in ${seconds(start)} s, ${Math.round(memory / 1e6)} MB at most`);
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
