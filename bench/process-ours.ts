// node process-ours.mjs TASK FOLDER: "run" on a line of standard input times the task once and answers with
// milliseconds by the clock and of all its threads, and the largest memory so far; "answer PATH" writes what the last run found.
import { writeFileSync } from "node:fs";
import { createInterface } from "node:readline";
import { tasks } from "./ours.js";

const [name, folder] = process.argv.slice(2);
const task = tasks[name](folder);
let answer: unknown = null;
for await (const line of createInterface({ input: process.stdin })) {
  if (line === "run") {
    const before = process.cpuUsage();
    const started = performance.now();
    answer = await task.run();
    const ms = performance.now() - started;
    const { user, system } = process.cpuUsage(before);
    const maxRss_MB = process.resourceUsage().maxRSS / 1024;
    console.log(JSON.stringify({ ms, cpu_ms: (user + system) / 1000, maxRss_MB }));
  } else if (line.startsWith("answer ")) {
    const text = JSON.stringify(answer, (_, part) =>
      part instanceof Float64Array ? Array.from(part) : part,
    );
    writeFileSync(line.slice("answer ".length), text);
    console.log("{}");
  }
}
