// @ts-check
// Brings what a fresh checkout lacks: packages, the build, and for tests Chromium and SciPy.
// Uses Node's own modules only, because it runs before anything is installed. Speaks on stderr, so that the
// results of a command stay alone on stdout.
import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, statSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { installDebianPackages, installsDebianPackages } from "./debian-packages.mjs";
import { findChromium, findPython, isOnPath } from "./find-tools.mjs";
import { fetchNodeVersions, nodeBinary, nodeVersions } from "./node-versions.mjs";

const root = join(dirname(fileURLToPath(import.meta.url)), "..");
const goal = process.argv[2] ?? "build";

const [major, minor] = process.versions.node.split(".").map(Number);
if (major < 20 || (major === 20 && minor < 19)) {
  fail(
    `Frostline needs Node.js 20.19 or later; this is ${process.version}. Install a newer Node.js and run again.`,
  );
}

installPackages();
build();
if (goal === "test") {
  installTestTools();
  fetchNodes();
  // Says itself what is missing and cannot be installed; the notebooks' test is then skipped by name.
  spawnSync(process.execPath, [join(root, "scripts", "run-notebooks.mjs"), "--install"], {
    cwd: root,
    stdio: ["ignore", 2, 2],
  });
}

function installPackages() {
  // npm writes this file last; newer than the lock file means that what is locked is there.
  const installed = join(root, "node_modules", ".package-lock.json");
  const lock = join(root, "package-lock.json");
  if (existsSync(installed) && statSync(installed).mtimeMs >= statSync(lock).mtimeMs) return;
  say("installing packages (npm ci) …");
  run("npm", ["ci", "--include=dev", "--no-audit", "--no-fund", "--loglevel=error"]);
}

function build() {
  const stamp = join(root, "dist", ".built");
  const newest = Math.max(
    newestIn(join(root, "src")),
    newestIn(join(root, "reference-curves")),
    newestIn(join(root, "scripts")),
    statSync(join(root, "package.json")).mtimeMs,
  );
  if (existsSync(stamp) && statSync(stamp).mtimeMs >= newest) return;
  say("building …");
  run(process.execPath, [join(root, "scripts", "build.mjs")]);
  writeFileSync(stamp, "");
}

function installTestTools() {
  const tools = [
    // The scheduler's test runs as root on Debian alone, and says so by its name.
    ...(installsDebianPackages
      ? ["slurm-wlm", "munge"].map((name) => ({
          name,
          isThere: () => isOnPath(name === "munge" ? "munged" : "slurmctld"),
          checks: "the how-to's job array on a batch scheduler (tests/docs/cluster.test.ts)",
          elsewhere: "which needs Debian",
        }))
      : []),
    {
      name: "chromium",
      isThere: () => findChromium() !== null,
      checks: "the checks in a browser (tests/browser)",
      elsewhere: "or name a Chromium or Chrome in the environment variable CHROMIUM",
    },
    {
      name: "python3-scipy",
      isThere: () => findPython() !== null,
      checks: "the checks against SciPy (in tests/outside and tests/bench)",
      elsewhere: "or name a Python with NumPy and SciPy in the environment variable FROSTLINE_PYTHON",
    },
  ];
  const missing = tools.filter(({ isThere }) => !isThere());
  if (missing.length > 0 && installsDebianPackages) {
    const names = missing.map(({ name }) => name);
    say(`installing ${names.join(" and ")} (apt-get), which takes a few minutes …`);
    installDebianPackages(names);
  }
  for (const { name, isThere, checks, elsewhere } of missing) {
    if (isThere()) continue;
    const then = process.env.CI ? "fail, for this is CI" : "be skipped";
    say(
      `${name} is missing: ${checks} will ${then}. Install it (Debian: apt-get install ${name}), ${elsewhere}, and run again.`,
    );
  }
}

function fetchNodes() {
  if (nodeVersions.some((version) => nodeBinary(version) === null))
    say(`fetching Node.js ${nodeVersions.join(", ")} from the npm registry, to test the package on …`);
  const missing = fetchNodeVersions();
  if (missing.length === 0) return;
  const then = process.env.CI ? "fail, for this is CI" : "be skipped";
  say(
    `Node.js ${missing.join(", ")} cannot be had from the npm registry here: the checks of the package on them (tests/library/package.test.ts) will ${then}.`,
  );
}

/** @param {string} folder @returns {number} */
function newestIn(folder) {
  let newest = 0;
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    newest = Math.max(newest, entry.isDirectory() ? newestIn(path) : statSync(path).mtimeMs);
  }
  return newest;
}

/** @param {string} command @param {string[]} args */
function run(command, args) {
  const isWindows = process.platform === "win32";
  const { status } = spawnSync(command, args, {
    cwd: root,
    stdio: ["ignore", 2, 2],
    shell: isWindows && command === "npm",
  });
  if (status !== 0) fail(`${command} ${args.join(" ")} failed.`);
}

/** @param {string} text */
function say(text) {
  process.stderr.write(`frostline set-up: ${text}\n`);
}

/** @param {string} text @returns {never} */
function fail(text) {
  say(text);
  process.exit(2);
}
