import { type ChildProcess, execFile, execFileSync, spawn } from "node:child_process";
import { randomBytes } from "node:crypto";
import {
  chmodSync,
  chownSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { createServer } from "node:net";
import { hostname, tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { promisify } from "node:util";
import { installsDebianPackages } from "../../../scripts/debian-packages.mjs";
import { isOnPath } from "../../../scripts/find-tools.mjs";

/** Whether a scheduler can be started here: as root on Debian, with its packages. */
export const canSchedule =
  installsDebianPackages && ["slurmctld", "slurmd", "munged", "sbatch"].every(isOnPath);

/** Debian keeps the daemons where not every path leads. */
const path = `${process.env.PATH}${delimiter}/usr/sbin`;

export interface Scheduler {
  /** For the commands that talk to it. */
  environment: { SLURM_CONF: string };
  /** Resolves once no job is waiting or running, with the states of all that there were. */
  allDone(): Promise<string[]>;
  /** Ends every process of it, its jobs too, by number, and removes its files. */
  end(): Promise<void>;
}

/** However busy the machine is: a limit for what hangs, not a measure of speed. */
const patience_ms = 90_000;

/**
 * Starts Slurm on loopback, with munge for its signatures, out of a configuration, keys and ports of its own; a
 * scheduler that the machine may have is not touched.
 */
export async function startScheduler(): Promise<Scheduler> {
  const folder = mkdtempSync(join(tmpdir(), "frostline-slurm-"));
  chmodSync(folder, 0o755);
  const conf = join(folder, "slurm.conf");
  const environment = { SLURM_CONF: conf };
  const children: { name: string; child: ChildProcess; said: string }[] = [];
  const start = (name: string, args: string[], owner?: { uid: number; gid: number }) => {
    const child = spawn(name, args, {
      cwd: folder,
      stdio: ["ignore", "pipe", "pipe"],
      env: { ...process.env, PATH: path, ...environment },
      ...owner,
    });
    const started = { name, child, said: "" };
    for (const stream of [child.stdout, child.stderr])
      stream.on("data", (data) => {
        started.said += data;
      });
    child.on("error", (error) => {
      started.said += error.message;
    });
    children.push(started);
  };
  const ask = async (command: string, args: string[]) =>
    (await promisify(execFile)(command, args, { env: { ...process.env, PATH: path, ...environment } }))
      .stdout;
  const until = async (what: string, holds: () => boolean | Promise<boolean>) => {
    const last = performance.now() + patience_ms;
    while (!(await holds())) {
      const dead = children.find(({ child }) => child.exitCode !== null || child.signalCode !== null);
      if (dead === undefined && performance.now() < last) {
        await new Promise((done) => setTimeout(done, 100));
        continue;
      }
      const said = children.map((one) => `${one.name}: ${one.said.slice(-2000)}`).join("\n");
      throw new Error(`${dead === undefined ? "not in time" : `${dead.name} ended`}: ${what}\n${said}`);
    }
  };
  const end = async () => {
    for (const { child } of children.toReversed()) {
      if (child.pid === undefined || child.exitCode !== null || child.signalCode !== null) continue;
      const ended = new Promise((done) => child.once("exit", done));
      child.kill("SIGKILL");
      await ended;
    }
    // Jobs are children of nobody by now; what the scheduler started carries the name of its configuration.
    for (const pid of processesOf(conf)) process.kill(pid, "SIGKILL");
    const last = performance.now() + patience_ms;
    while (processesOf(conf).length > 0 && performance.now() < last)
      await new Promise((done) => setTimeout(done, 20));
    rmSync(folder, { recursive: true, force: true });
  };

  try {
    const munge = join(folder, "munge");
    const [uid, gid] = ["-u", "-g"].map((of) => Number(execFileSync("id", [of, "munge"])));
    for (const path of [munge, join(munge, "keys")]) {
      mkdirSync(path, { mode: 0o755 });
      chownSync(path, uid, gid);
    }
    const key = join(munge, "keys", "key");
    writeFileSync(key, randomBytes(128), { mode: 0o600 });
    chownSync(key, uid, gid);
    const socket = join(munge, "socket");
    const places = { socket, "key-file": key, "log-file": join(munge, "log") };
    const more = { "pid-file": join(munge, "pid"), "seed-file": join(munge, "seed") };
    start(
      "munged",
      ["--foreground", ...Object.entries({ ...places, ...more }).map(([name, path]) => `--${name}=${path}`)],
      { uid, gid },
    );
    await until("munged opens its socket", () => existsSync(socket));

    const [controlPort, nodePort] = await freePorts();
    const node = hostname().split(".")[0];
    for (const name of ["state", "spool"]) mkdirSync(join(folder, name));
    writeFileSync(
      conf,
      `${[
        "ClusterName=frostline-test",
        `SlurmctldHost=${node}(127.0.0.1)`,
        `SlurmctldPort=${controlPort}`,
        `SlurmdPort=${nodePort}`,
        // Nothing listens but on loopback.
        "CommunicationParameters=NoCtldInAddrAny,NoInAddrAny",
        "SlurmUser=root",
        "AuthType=auth/munge",
        `AuthInfo=socket=${socket}`,
        `StateSaveLocation=${join(folder, "state")}`,
        `SlurmdSpoolDir=${join(folder, "spool")}`,
        `SlurmctldPidFile=${join(folder, "slurmctld.pid")}`,
        `SlurmdPidFile=${join(folder, "slurmd.pid")}`,
        "SelectType=select/cons_tres",
        "SelectTypeParameters=CR_CPU_Memory",
        "SchedulerParameters=batch_sched_delay=0,sched_interval=1",
        "ProctrackType=proctrack/linuxproc",
        "TaskPlugin=task/none",
        "MpiDefault=none",
        "JobAcctGatherType=jobacct_gather/none",
        "AccountingStorageType=accounting_storage/none",
        // The node is what is said here, whatever the machine is: the how-to asks for twice four cores.
        "SlurmdParameters=config_overrides",
        `NodeName=${node} NodeAddr=127.0.0.1 CPUs=8 RealMemory=16000 State=UNKNOWN`,
        "PartitionName=main Nodes=ALL Default=YES MaxTime=10 State=UP",
      ].join("\n")}\n`,
    );
    start("slurmctld", ["-D", "-f", conf]);
    start("slurmd", ["-D", "-f", conf, "-N", node]);
    await until("the node is idle", async () =>
      (await ask("sinfo", ["--noheader", "--format=%T"]).catch(() => "")).startsWith("idle"),
    );
  } catch (error) {
    await end();
    throw error;
  }
  return {
    environment,
    async allDone() {
      await until("all jobs are done", async () => {
        const states = await ask("squeue", ["--noheader", "--format=%T"]);
        return !/PENDING|RUNNING|COMPLETING|CONFIGURING/.test(states);
      });
      const jobs = await ask("scontrol", ["--oneliner", "show", "job"]);
      return [...jobs.matchAll(/JobState=(\S+)/g)].map(([, state]) => state);
    },
    end,
  };
}

/** Two ports of loopback that nobody listens on. */
async function freePorts(): Promise<number[]> {
  const servers = [createServer(), createServer()];
  const ports = await Promise.all(
    servers.map(
      (server) =>
        new Promise<number>((done) => {
          server.listen(0, "127.0.0.1", () => done((server.address() as { port: number }).port));
        }),
    ),
  );
  await Promise.all(servers.map((server) => new Promise((done) => server.close(done))));
  return ports;
}

/** Numbers of the processes that were started with this configuration in their environment, and still run. */
export function processesOf(conf: string): number[] {
  return readdirSync("/proc")
    .filter((name) => /^\d+$/.test(name) && Number(name) !== process.pid)
    .filter((name) => {
      try {
        if (/^State:\s+Z/m.test(readFileSync(`/proc/${name}/status`, "utf8"))) return false;
        return readFileSync(`/proc/${name}/environ`, "latin1").split("\0").includes(`SLURM_CONF=${conf}`);
      } catch {
        return false;
      }
    })
    .map(Number);
}
