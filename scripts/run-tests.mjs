// Runs vitest and ends with its counts in one plain line. On CI a skipped test is a failure.
// With --quick only what needs no browser, package, notebook or run of the whole program.
import { spawnSync } from "node:child_process";
import { readFileSync, rmSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { leftBehind, makeTestsFolder } from "./tests-folder.mjs";

const root = join(dirname(fileURLToPath(import.meta.url)), "..");
/** What --quick leaves out, and why. */
const notQuick = {
  "tests/browser": "drives a browser",
  "tests/library": "packs the package and writes the API pages",
  "tests/notebooks": "runs the notebooks",
  "tests/docs": "runs every snippet of the docs, and a scheduler",
  "tests/faults": "kills, fills and watches the whole program",
  "tests/fuzz": "reads thousands of broken exports",
  "tests/bench": "runs the bench's Python side",
  "tests/cli.test.ts": "runs the commands",
  "tests/study/demo-decision.test.ts": "runs the whole demo",
  "tests/fit/superpose-round-trip.test.ts": "fits 400 sets of isotherms",
};

const isQuick = process.argv.includes("--quick");
const args = process.argv.slice(2).filter((arg) => arg !== "--quick");
const setUp = spawnSync(process.execPath, [join(root, "scripts/setup.mjs"), isQuick ? "build" : "test"], {
  stdio: ["ignore", 2, 2],
});
if (setUp.status !== 0) process.exit(setUp.status ?? 1);

const folder = makeTestsFolder();
const report = join(folder, "report.json");
const { status, signal } = spawnSync(
  process.execPath,
  [
    join(root, "node_modules/vitest/vitest.mjs"),
    "run",
    "--reporter=default",
    "--reporter=json",
    `--outputFile.json=${report}`,
    ...(isQuick
      ? Object.keys(notQuick).flatMap((path) => ["--exclude", `${path}${path.endsWith(".ts") ? "" : "/**"}`])
      : []),
    ...args,
  ],
  // The names by which Node.js, Python and the shell, and Windows, know where temporary files go.
  {
    cwd: root,
    stdio: ["ignore", "inherit", "inherit"],
    env: { ...process.env, TMPDIR: folder, TMP: folder, TEMP: folder },
  },
);
let counts = { passed: 0, failed: 1, skipped: 0 };
try {
  const results = JSON.parse(readFileSync(report, "utf8"));
  const tests = results.testResults.flatMap(({ name, assertionResults }) =>
    assertionResults.map((test) => ({ ...test, file: relative(root, name) })),
  );
  const skipped = tests.filter((test) => test.status !== "passed" && test.status !== "failed");
  // A file that does not load has no tests of its own, and is a failure all the same.
  const brokenFiles = results.testResults.filter(
    (file) => file.status === "failed" && !file.assertionResults.some((test) => test.status === "failed"),
  ).length;
  counts = {
    passed: tests.filter((test) => test.status === "passed").length,
    failed: tests.filter((test) => test.status === "failed").length + brokenFiles,
    skipped: skipped.length,
  };
  for (const test of skipped) console.log(`skipped: ${test.file}: ${test.fullName}`);
  if (skipped.length > 0 && !process.argv.includes("-t"))
    console.log("What is missing for them, and how to get it, is said by the set-up at the top.");
} catch (error) {
  console.error(
    signal === null
      ? `vitest left no report: ${error.message}`
      : `vitest was ended by ${signal} before it was done.`,
  );
}
const left = leftBehind(folder);
rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
if (left.length > 0) console.error(`The tests left in the temporary folder: ${left.join(", ")}`);
const onCi = Boolean(process.env.CI);
if (isQuick) {
  console.log("Left out by --quick (npm test runs all):");
  for (const [path, why] of Object.entries(notQuick)) console.log(`  ${path}: ${why}`);
}
if (onCi && counts.skipped > 0) console.error("On CI nothing may be skipped.");
console.log(
  `${counts.passed} passed, ${counts.failed} failed${counts.skipped > 0 ? `, ${counts.skipped} skipped` : ""}`,
);
process.exit(
  status !== 0 || left.length > 0 || counts.failed > 0 || counts.passed === 0 || (onCi && counts.skipped > 0)
    ? 1
    : 0,
);
