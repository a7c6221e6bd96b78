import { spawnSync } from "node:child_process";
import { chmodSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parse } from "yaml";
import { differences } from "../faults/make/output-set.js";
import { quickExport, quickSweep } from "../faults/make/quick-export.js";
import { runCli } from "../make/run-cli.js";
import { fencesOf } from "./fences.js";
import { canSchedule, processesOf, type Scheduler, startScheduler } from "./make/scheduler.js";

/** The how-to on a cluster, as it stands there, on an engine and by a schema that are not ours. */
const fences = fencesOf("docs/how-to/cluster.md");
const blockOf = (what: RegExp) => fences.find(({ text, info }) => what.test(`${info}\n${text}`))!;

describe("the job array on a batch scheduler (root on Debian with slurm-wlm and munge)", () => {
  let folder: string;
  let scheduler: Scheduler | null = null;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "frostline-cluster-"));
    if (canSchedule) scheduler = await startScheduler();
  });
  afterAll(async () => {
    await scheduler?.end();
    rmSync(folder, { recursive: true, force: true });
  });

  it.skipIf(!canSchedule)("and its dependent merge give the bytes of a single run", async () => {
    const bin = join(folder, "bin");
    mkdirSync(bin);
    const cli = fileURLToPath(new URL("../../dist/cli.js", import.meta.url));
    writeFileSync(join(bin, "frostline"), `#!/bin/sh\nexec "${process.execPath}" "${cli}" "$@"\n`);
    chmodSync(join(bin, "frostline"), 0o755);
    const exports = join(folder, "exports");
    mkdirSync(exports);
    for (let i = 0; i < 6; i++) writeFileSync(join(exports, `${i}.csv`), quickExport(i));
    writeFileSync(join(exports, "sweep.csv"), quickSweep("Birch 2", -35));

    const script = blockOf(/^file=frostline-array\.sh/);
    writeFileSync(join(folder, "frostline-array.sh"), `${script.text}\n`);
    const submit = blockOf(/sbatch --parsable frostline-array\.sh/);
    const path = `${bin}${delimiter}${process.env.PATH}`;
    const submitted = spawnSync("bash", ["-euo", "pipefail", "-c", submit.text], {
      cwd: folder,
      encoding: "utf8",
      env: { ...process.env, ...scheduler!.environment, PATH: path },
    });
    expect(submitted.status, submitted.stderr).toBe(0);
    expect(submitted.stdout).toMatch(/^Submitted batch job \d+\n$/);
    expect(runCli(["assess", exports, "--out", join(folder, "single"), "--quiet"]).status).toBe(0);
    // Two of the array and the merge, which did not begin before both had ended well.
    expect(await scheduler!.allDone()).toEqual(["COMPLETED", "COMPLETED", "COMPLETED"]);
    expect(differences(join(folder, "report"), join(folder, "single"))).toEqual([]);
    expect(JSON.parse(readFileSync(join(folder, "report/results.json"), "utf8")).inputs).toHaveLength(7);
  });

  it.skipIf(!canSchedule)("does not merge where a share failed", async () => {
    const script = blockOf(/^file=frostline-array\.sh/).text.replace(/^frostline .*$/m, "exit 3");
    const place = join(folder, "failing");
    mkdirSync(place);
    writeFileSync(join(place, "frostline-array.sh"), `${script}\n`);
    const run = (text: string) =>
      spawnSync("bash", ["-euo", "pipefail", "-c", text], {
        cwd: place,
        encoding: "utf8",
        env: { ...process.env, ...scheduler!.environment },
      });
    const submitted = run(blockOf(/sbatch --parsable frostline-array\.sh/).text);
    expect(submitted.status, submitted.stderr).toBe(0);
    const [merge] = /\d+/.exec(submitted.stdout)!;
    const reason = () => run(`squeue --noheader --job ${merge} --format=%r`).stdout.trim();
    for (let look = 0; look < 600 && reason() === "Dependency"; look++)
      await new Promise((done) => setTimeout(done, 100));
    expect(reason()).toBe("DependencyNeverSatisfied");
  });

  it.skipIf(!canSchedule)("leaves no process, job or file behind", async () => {
    const { environment, end } = scheduler!;
    const { SLURM_CONF: conf } = environment;
    const submitted = spawnSync("sbatch", ["--wrap", "sleep 600"], {
      cwd: folder,
      encoding: "utf8",
      env: { ...process.env, ...environment },
    });
    expect(submitted.status, submitted.stderr).toBe(0);
    const sleeps = () => processesOf(conf).some((pid) => commandOf(pid).includes("sleep"));
    for (let look = 0; look < 600 && !sleeps(); look++) await new Promise((done) => setTimeout(done, 50));
    expect(sleeps()).toBe(true);
    await end();
    scheduler = null;
    expect(processesOf(conf)).toEqual([]);
    expect(existsSync(dirname(conf))).toBe(false);
  });
});

function commandOf(pid: number): string {
  try {
    return readFileSync(`/proc/${pid}/cmdline`, "utf8");
  } catch {
    return "";
  }
}

describe("the indexed job of a container cluster", () => {
  const block = blockOf(/^not-study: a job for Kubernetes/);
  const job = parse(block.text);

  const sources = new Map<string, ts.SourceFile | undefined>();

  /** What the types of Kubernetes' published OpenAPI schema (npm package kubernetes-types) say against an object. */
  function said(object: unknown): string[] {
    const file = fileURLToPath(new URL("job.ts", import.meta.url));
    const text = `import type { Job } from "kubernetes-types/batch/v1";\nexport const job: Job = ${JSON.stringify(object)};\n`;
    const options = {
      strict: true,
      noEmit: true,
      skipLibCheck: true,
      types: [],
      module: ts.ModuleKind.ESNext,
      moduleResolution: ts.ModuleResolutionKind.Bundler,
      target: ts.ScriptTarget.ES2023,
    };
    const host = ts.createCompilerHost(options);
    const { getSourceFile, fileExists } = host;
    host.fileExists = (name) => name === file || fileExists(name);
    host.getSourceFile = (name, version) => {
      if (name === file) return ts.createSourceFile(name, text, version);
      if (!sources.has(name)) sources.set(name, getSourceFile(name, version));
      return sources.get(name);
    };
    const program = ts.createProgram([file], options, host);
    return ts
      .getPreEmitDiagnostics(program)
      .map(({ messageText }) => ts.flattenDiagnosticMessageText(messageText, " "));
  }

  it("fits the published schema, which finds a key or a value that is none", () => {
    expect(said(job)).toEqual([]);
    const changed = (change: (copy: typeof job) => void) => {
      const copy = structuredClone(job);
      change(copy);
      return said(copy).join();
    };
    expect(changed((copy) => (copy.spec.completionsMode = "Indexed"))).toContain("completionsMode");
    expect(changed((copy) => (copy.spec.completions = "16"))).toContain("not assignable to type 'number'");
    expect(changed((copy) => (copy.spec.template.spec.containers[0].volumeMounts[0].path = "/x"))).toContain(
      "path",
    );
    expect(changed((copy) => delete copy.spec.template.spec.containers[0].name)).toContain("name");
  });

  it("asks each index for its share, and for all of them", () => {
    // Of batch/v1: "Indexed" needs completions, and counts from 0 to completions − 1 in JOB_COMPLETION_INDEX.
    expect(job).toMatchObject({ apiVersion: "batch/v1", kind: "Job" });
    expect(job.spec.completionMode).toBe("Indexed");
    const { completions, template } = job.spec;
    expect(["Never", "OnFailure"]).toContain(template.spec.restartPolicy);
    const [{ command, args, volumeMounts }] = template.spec.containers;
    expect(template.spec.volumes.map(({ name }: { name: string }) => name)).toEqual(
      volumeMounts.map(({ name }: { name: string }) => name),
    );
    const shares = Array.from({ length: completions }, (_, index) => {
      const { stdout } = spawnSync("sh", ["-c", `frostline() { echo "$@"; }\n${args[0]}`], {
        encoding: "utf8",
        env: { JOB_COMPLETION_INDEX: String(index), PATH: process.env.PATH },
      });
      return /--part (\S+)/.exec(stdout)![1];
    });
    expect(command).toEqual(["sh", "-c"]);
    expect(shares).toEqual(Array.from({ length: completions }, (_, i) => `${i + 1}/${completions}`));
    expect(blockOf(/frostline merge \/data/).text).toContain(`part-*-of-${completions}.json`);
  });
});
