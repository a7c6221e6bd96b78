// npm run bench [-- --quick] [-- --only read,glass-transition,…] [-- --runs 7]
// Speed and memory beside the Python stack, on inputs it makes for itself. Ends with 1 where the two sides do
// not find the same numbers.
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { build } from "esbuild";
import { forNode } from "../scripts/bundler.mjs";
import { aCompound } from "./a-compound.mjs";
import { bundles } from "./bundles.mjs";
import { missingPython, pythonEnvironment, pythonWithPandas } from "./find-python.mjs";
import { alternate, LineProcess, runOnce } from "./pairs.mjs";
import { scaling } from "./scaling.mjs";
import { median, megabytes, milliseconds, table, times } from "./table.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, "..");
const { values: options } = parseArgs({
  options: {
    quick: { type: "boolean", default: false },
    only: { type: "string" },
    runs: { type: "string", default: "5" },
  },
});
const runs = Math.max(1, Number(options.runs));
const wanted = options.only?.split(",");
const isWanted = (name) => wanted === undefined || wanted.includes(name);

const folder = mkdtempSync(join(tmpdir(), "frostline-bench-"));
let failed = false;
try {
  await bench();
} finally {
  rmSync(folder, { recursive: true, force: true });
}
process.exitCode = failed ? 1 : 0;

async function bench() {
  // A copy, so that a build meanwhile changes nothing under the bench.
  cpSync(join(root, "dist"), join(folder, "dist"), { recursive: true });
  symlinkSync(join(root, "node_modules"), join(folder, "node_modules"), "junction");
  await bundleOurSide(join(folder, "ours"));
  const inputs = join(folder, "inputs");
  const maker = await import(pathToFileURL(join(folder, "ours", "make-inputs.mjs")));
  const agreement = await import(pathToFileURL(join(folder, "ours", "agreement.mjs")));
  const sizes = options.quick ? maker.quickSizes : maker.fullSizes;
  maker.makeInputs(inputs, sizes);
  const python = pythonWithPandas();
  console.log(`Node.js ${process.versions.node}; ${python?.versions ?? "no Python"}`);
  console.log(`Load before the start: ${loadavg()[0].toFixed(1)} (1 minute).`);
  console.log(
    "Both sides compute in one thread, the whole job in two; the engine's own threads (collector, compiler) come on top.\n",
  );

  const tasks = [
    {
      name: "read",
      title: `read ${sizes.exports} exports of ${sizes.rows} rows`,
      compare: agreement.compareReading,
    },
    {
      name: "glass-transition",
      title: `Tg with its intervals, ${sizes.sweeps} sweeps`,
      compare: agreement.compareGlassTransitions,
    },
    {
      name: "superposition",
      title: `superposition, law, spectrum, ${sizes.compounds} compounds`,
      compare: agreement.compareSuperpositions,
    },
    {
      name: "contacts",
      title: `friction and rebound, ${sizes.compounds} compounds × 5 uses × ${1 + sizes.draws} models`,
      compare: agreement.compareContacts,
    },
  ];
  const rows = [];
  const disagreements = [];
  const conclude = (title, agreed) => {
    for (const { what, difference, allowed } of agreed.checks) {
      if (difference > allowed) disagreements.push(`${title}: ${what}: ${difference}, allowed ${allowed}`);
    }
    return agreed.ok ? `agree (${closest(agreed.checks)})` : "DIFFER";
  };
  if (python === null) {
    console.log(
      `${missingPython}\nSkipped: ${[...tasks.map(({ name }) => name), "whole-job"].join(", ")}.\n`,
    );
  } else {
    for (const task of tasks.filter(({ name }) => isWanted(name))) {
      await attempt(task.title, async () => rows.push(await pairOf(task, inputs, python.python, conclude)));
    }
    if (isWanted("whole-job")) {
      await attempt("the whole job", async () =>
        rows.push(await wholeJob(inputs, sizes, python.python, agreement.compareJobs, conclude)),
      );
    }
  }
  if (rows.length > 0) {
    const head = [
      "task",
      "ours",
      "Python",
      "ratio",
      "ours CPU",
      "Python CPU",
      "CPU ratio",
      "ours, first run",
      "agreement",
    ];
    console.log(`Medians of ${runs} runs in turns.\n${table(head, rows)}\n`);
  }
  const parts = {
    floor: () => readingFloor(inputs),
    "start-up": startUp,
    memory: () => memoryOfExports(maker, sizes),
    scaling: () => scaling(folder, maker, options.quick),
    bundles: () => bundles(),
  };
  if (python !== null) {
    parts["a-compound"] = async () => {
      const unit = new LineProcess(python.python, [join(here, "baseline.py"), "nnls-unit", inputs], {
        env: pythonEnvironment(),
      });
      await aCompound({ folder, maker, frostline, unit, runs: Math.min(runs, 3), quick: options.quick });
      await unit.end();
    };
  }
  for (const [name, part] of Object.entries(parts)) if (isWanted(name)) await attempt(name, part);
  for (const line of disagreements) console.error(`bench: the two sides differ: ${line}`);
  failed ||= disagreements.length > 0;
}

/** One part that fails leaves the others standing, and the bench ends with 1. */
async function attempt(what, part) {
  try {
    await part();
  } catch (error) {
    console.error(`bench: ${what}: ${error.message}`);
    failed = true;
  }
}

async function bundleOurSide(outdir) {
  await build({
    ...forNode,
    entryPoints: {
      "process-ours": "bench/process-ours.ts",
      "make-inputs": "bench/make-inputs.ts",
      agreement: "bench/agreement.ts",
      "drawn-friction": "bench/drawn-friction.ts",
    },
    outdir,
    outExtension: { ".js": ".mjs" },
  });
}

function ourProcess(task, inputs) {
  return new LineProcess(process.execPath, [join(folder, "ours", "process-ours.mjs"), task, inputs]);
}

async function pairOf({ name, title, compare }, inputs, python, conclude) {
  console.error(`bench: ${title} …`);
  const ours = ourProcess(name, inputs);
  const theirs = new LineProcess(python, [join(here, "baseline.py"), name, inputs], {
    env: pythonEnvironment(),
  });
  const answers = [];
  let our;
  let their;
  try {
    [our, their] = await alternate(ours, theirs, runs);
    for (const [i, side] of [ours, theirs].entries()) {
      const path = join(folder, `answer-${i}.json`);
      await side.ask(`answer ${path}`);
      answers.push(JSON.parse(readFileSync(path, "utf8")));
    }
  } finally {
    await Promise.all([ours.end(), theirs.end()]);
  }
  return [
    ...timesOf(title, our.runs, their.runs),
    milliseconds(our.first.ms),
    conclude(title, compare(...answers)),
  ];
}

function timesOf(title, our, their) {
  const [ours, theirs, ourCpu, theirCpu] = [
    median(our.map(({ ms }) => ms)),
    median(their.map(({ ms }) => ms)),
    median(our.map(({ cpu_ms }) => cpu_ms)),
    median(their.map(({ cpu_ms }) => cpu_ms)),
  ];
  return [
    title,
    milliseconds(ours),
    milliseconds(theirs),
    times(theirs / ours),
    milliseconds(ourCpu),
    milliseconds(theirCpu),
    times(theirCpu / ourCpu),
  ];
}

/** Both from the start of the process to its end, on two cores. */
async function wholeJob(inputs, sizes, python, compare, conclude) {
  const title = `the whole job, ${sizes.jobCompounds} compounds, 2 cores`;
  console.error(`bench: ${title} …`);
  const job = join(inputs, "job");
  const [our, their] = [[], []];
  for (let run = 0; run < runs; run++) {
    our.push(
      await frostline([
        "assess",
        job,
        "--out",
        join(folder, "our-job"),
        "--study",
        join(inputs, "job-study.yaml"),
        "--workers",
        "2",
        "--quiet",
        "--no-cache",
      ]),
    );
    their.push(await pythonJob(python, job, join(folder, "their-job")));
  }
  const [ours, theirs] = ["our-job", "their-job"].map((out) =>
    JSON.parse(readFileSync(join(folder, out, "results.json"), "utf8")),
  );
  const { drawnFrictions } = await import(pathToFileURL(join(folder, "ours", "drawn-friction.mjs")));
  const drawn = await drawnFrictions(job, join(inputs, "job-study.yaml"));
  return [
    ...timesOf(title, our, their),
    milliseconds(our[0].ms),
    conclude(title, compare(ours, theirs, drawn)),
  ];
}

/** The program itself as a process of its own, with its memory and processor time. */
async function frostline(args) {
  const usageFile = join(folder, "usage.json");
  const { ms } = await runOnce(
    process.execPath,
    ["--import", pathToFileURL(join(here, "report-usage.mjs")).href, join(folder, "dist/cli.js"), ...args],
    { env: { ...process.env, BENCH_USAGE: usageFile } },
  );
  return { ms, ...JSON.parse(readFileSync(usageFile, "utf8")) };
}

async function pythonJob(python, job, out) {
  const { ms, text } = await runOnce(python, [join(here, "baseline.py"), "whole-job", job, out, "2"], {
    env: pythonEnvironment(),
  });
  return { ms, ...JSON.parse(text) };
}

/** Of the checks with a tolerance, the one that comes nearest to it. */
function closest(checks) {
  const { what, difference, allowed } = checks
    .filter((check) => check.allowed > 0)
    .reduce((a, b) => (b.difference / b.allowed > a.difference / a.allowed ? b : a));
  return `${what}: ${difference.toPrecision(2)} of ${Number(allowed.toPrecision(2))}`;
}

/** Bytes already in memory: our reader beside a loop that decodes them and scans the numbers. */
async function readingFloor(inputs) {
  const reader = ourProcess("read-bytes", inputs);
  const floor = ourProcess("read-floor", inputs);
  const sides = await alternate(reader, floor, runs);
  await Promise.all([reader.end(), floor.end()]);
  const [ours, least] = sides.map((side) => median(side.runs.map(({ ms }) => ms)));
  const [ourCpu, leastCpu] = sides.map((side) => median(side.runs.map(({ cpu_ms }) => cpu_ms)));
  const rows = [
    ["by the clock", milliseconds(ours), milliseconds(least), times(ours / least)],
    ["CPU", milliseconds(ourCpu), milliseconds(leastCpu), times(ourCpu / leastCpu)],
  ];
  console.log(
    `The same exports from memory.\n${table(["", "our reader", "decode and scan", "ratio"], rows)}\n`,
  );
}

async function startUp() {
  const times_ms = { bare: [], help: [] };
  for (let run = 0; run < Math.max(11, runs); run++) {
    times_ms.bare.push((await runOnce(process.execPath, ["-e", "0"])).ms);
    times_ms.help.push((await runOnce(process.execPath, [join(folder, "dist/cli.js"), "--help"])).ms);
  }
  const [bare, help] = [median(times_ms.bare), median(times_ms.help)];
  const rows = [[milliseconds(help), milliseconds(bare), milliseconds(help - bare)]];
  console.log(
    `Start-up, medians of ${times_ms.bare.length}.\n${table(["frostline --help", "node -e 0", "more"], rows)}\n`,
  );
}

/** Exports of a twentieth as many compounds, each measured twenty times: read and kept, and the command itself. */
async function memoryOfExports(maker, sizes) {
  const title = `${sizes.exports} exports of ${sizes.rows} rows, ${sizes.exports / 20} compounds`;
  console.error(`bench: frostline assess on ${title} …`);
  const inputs = join(folder, "memory");
  maker.makeExports(join(inputs, "exports"), sizes.exports, sizes.rows, sizes.exports / 20);
  const reader = ourProcess("read", inputs);
  const reading = await reader.ask("run");
  await reader.end();
  const args = [
    "assess",
    join(inputs, "exports"),
    "--out",
    join(folder, "memory-out"),
    "--quiet",
    "--no-cache",
  ];
  const job = await frostline([...args, "--workers", "2"]);
  const rows = [
    ["read and kept", milliseconds(reading.ms), milliseconds(reading.cpu_ms), megabytes(reading.maxRss_MB)],
    ["frostline assess, 2 workers", milliseconds(job.ms), milliseconds(job.cpu_ms), megabytes(job.maxRss_MB)],
  ];
  console.log(`Largest memory: ${title}.\n${table(["", "time", "CPU", "memory"], rows)}\n`);
}
