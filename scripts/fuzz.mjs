// Reads a great many broken exports: node scripts/fuzz.mjs [count] [seed]. Every outcome must be measurements of
// finite numbers or a problem with a known code, within 2 s and 512 MB. What is found lands in a folder that is
// named at the end; the same count and seed find the same.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Worker } from "node:worker_threads";
import { bundleOf, root } from "./bundler.mjs";

const count = Number(process.argv[2] ?? 1_000_000);
const seed = Number(process.argv[3] ?? 1);
const stretch = 5000;
const longest_ms = 2000;
/** A case that is not done by then never will be. */
const hung_ms = 60_000;
const mostMemory = 512e6;

const total = { inputs: 0, read: 0, rejected: 0, codes: {}, slowest_ms: 0, slowest: "" };
const faults = [];
const slow = [];
let mostResident = 0;
const current = new Int32Array(new SharedArrayBuffer(4));
current[0] = -1;

const worker = new Worker(new URL(await bundleOf("tests/fuzz/fuzz-worker.ts")), {
  workerData: { fixtures: join(root, "tests/fixtures"), seed, current },
  resourceLimits: { maxOldGenerationSizeMb: 300 },
});
const started = performance.now();
watchMemoryAndTime();
await next(null);
for (let from = 0; from < count; from += stretch) {
  const to = Math.min(count, from + stretch);
  const { figures, faults: found } = await next({ from, to });
  add(figures);
  faults.push(...found);
  if ((to / stretch) % 10 === 0 || to === count) say(to);
}
await worker.terminate();
finish();

function next(message) {
  return new Promise((done, fail) => {
    const onError = (error) => fail(new Error(`case ${current[0]}: ${error.message}`));
    worker.once("error", onError);
    worker.once("message", (answer) => {
      worker.off("error", onError);
      done(answer);
    });
    if (message !== null) worker.postMessage(message);
  });
}

/** Looks from outside, because a reader that hangs cannot tell. */
function watchMemoryAndTime() {
  let last = -1;
  let since = performance.now();
  setInterval(() => {
    mostResident = Math.max(mostResident, process.memoryUsage.rss());
    if (current[0] !== last || last === -1) {
      last = current[0];
      since = performance.now();
    } else if (performance.now() - since > hung_ms) {
      console.error(`case ${last} of seed ${seed} hangs: more than ${hung_ms / 1000} s.`);
      process.exit(1);
    }
  }, 50).unref();
}

function add({ inputs, read, rejected, codes, slowest_ms, slowest }) {
  total.inputs += inputs;
  total.read += read;
  total.rejected += rejected;
  for (const [code, times] of Object.entries(codes)) total.codes[code] = (total.codes[code] ?? 0) + times;
  if (slowest_ms > longest_ms) slow.push(`${slowest} (${Math.round(slowest_ms)} ms)`);
  if (slowest_ms > total.slowest_ms) Object.assign(total, { slowest_ms, slowest });
}

function say(done) {
  const seconds = (performance.now() - started) / 1000;
  console.error(
    `${done} of ${count}: ${faults.length} faults, ${Math.round(mostResident / 1e6)} MB, ${Math.round(seconds)} s`,
  );
}

function finish() {
  const codes = Object.entries(total.codes).sort((a, b) => b[1] - a[1]);
  console.log(`inputs        ${total.inputs} (seed ${seed})`);
  console.log(`read          ${total.read}`);
  console.log(`rejected      ${total.rejected}, with ${codes.length} different codes`);
  for (const [code, times] of codes) console.log(`              ${String(times).padStart(7)}  ${code}`);
  console.log(`slowest       ${Math.round(total.slowest_ms)} ms, case ${total.slowest}`);
  console.log(`over 2 s      ${slow.length}${slow.length > 0 ? `: ${slow.join("; ")}` : ""}`);
  console.log(
    `memory        ${Math.round(mostResident / 1e6)} MB at most, the fuzzer and its corpus included`,
  );
  console.log(`time          ${Math.round((performance.now() - started) / 1000)} s`);
  console.log(`faults        ${faults.length}`);
  if (faults.length > 0) {
    const folder = join(root, "fuzz-found");
    mkdirSync(folder, { recursive: true });
    for (const { index, made, fault, bytes, options } of faults.slice(0, 100)) {
      writeFileSync(join(folder, `${seed}-${index}.bin`), bytes);
      writeFileSync(
        join(folder, `${seed}-${index}.json`),
        `${JSON.stringify({ fault, made, options }, null, 2)}\n`,
      );
    }
    const kinds = new Map(faults.map(({ index, fault }) => [fault.replace(/-?\d[\d.e+-]*/g, "…"), index]));
    for (const [fault, index] of kinds) console.log(`              case ${index}: ${fault}`);
    console.log(`              kept in fuzz-found/`);
  }
  process.exit(faults.length > 0 || slow.length > 0 || mostResident > mostMemory ? 1 : 0);
}
