import { mkdirSync, readFileSync, rmSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { LineProcess, runOnce } from "./pairs.mjs";
import { megabytes, milliseconds, table } from "./table.mjs";

const here = dirname(fileURLToPath(import.meta.url));

/** Time and memory against files, rows and compounds, each in a process of its own, once, cold. */
export async function scaling(folder, maker, quick) {
  const files = quick ? [10, 100, 1000] : [10, 100, 1000, 10_000];
  const rows = quick ? [100, 1000, 10_000, 100_000] : [100, 1000, 10_000, 100_000, 1_000_000];
  const compounds = quick ? [1, 5, 10] : [1, 10, 50, 200];
  await reading("files of 500 rows", files, (count, inputs) =>
    maker.makeExports(join(inputs, "exports"), count, 500),
  );
  await reading("rows in one file", rows, (count, inputs) =>
    maker.makeExports(join(inputs, "exports"), 1, count),
  );
  const measured = [];
  for (const count of compounds) {
    console.error(`bench: the whole job on ${count} compounds …`);
    const inputs = join(folder, "scaling");
    maker.makeJob(inputs, count);
    const usageFile = join(folder, "usage.json");
    const { ms } = await runOnce(
      process.execPath,
      [
        "--import",
        pathToFileURL(join(here, "report-usage.mjs")).href,
        join(folder, "dist/cli.js"),
        "assess",
        inputs,
        "--out",
        join(folder, "scaling-out"),
        "--workers",
        "2",
        "--quiet",
        "--no-cache",
      ],
      { env: { ...process.env, BENCH_USAGE: usageFile } },
    );
    measured.push({ count, ms, ...JSON.parse(readFileSync(usageFile, "utf8")) });
    rmSync(inputs, { recursive: true, force: true });
  }
  print("compounds, the whole job, 2 workers", "compounds", measured);

  async function reading(title, counts, make) {
    const results = [];
    for (const count of counts) {
      console.error(`bench: reading ${count} ${title} …`);
      const inputs = join(folder, "scaling");
      mkdirSync(inputs);
      make(count, inputs);
      const reader = new LineProcess(process.execPath, [
        join(folder, "ours", "process-ours.mjs"),
        "read",
        inputs,
      ]);
      results.push({ count, ...(await reader.ask("run")) });
      await reader.end();
      rmSync(inputs, { recursive: true, force: true });
    }
    print(`${title}, read and kept`, "count", results);
  }
}

function print(title, what, measured) {
  const rows = measured.map(({ count, ms, cpu_ms, maxRss_MB }, i) => {
    const before = measured[i - 1];
    const power = before ? Math.log(ms / before.ms) / Math.log(count / before.count) : null;
    return [
      count.toLocaleString("en"),
      milliseconds(ms),
      milliseconds(cpu_ms),
      milliseconds(ms / count),
      power === null ? "" : power.toFixed(2),
      megabytes(maxRss_MB),
    ];
  });
  const head = [what, "time", "CPU", "time of one", "power of growth", "memory"];
  console.log(`Scaling: ${title}.\n${table(head, rows)}\n`);
}
