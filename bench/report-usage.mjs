// node --import report-usage.mjs …: leaves the process's largest memory and its processor time in the file that
// BENCH_USAGE names.
import { writeFileSync } from "node:fs";
import { isMainThread } from "node:worker_threads";

if (isMainThread) {
  process.on("exit", () => {
    const { user, system } = process.cpuUsage();
    const usage = { maxRss_MB: process.resourceUsage().maxRSS / 1024, cpu_ms: (user + system) / 1000 };
    writeFileSync(process.env.BENCH_USAGE, JSON.stringify(usage));
  });
}
