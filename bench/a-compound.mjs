// What one compound costs in processor time, one worker, the start taken off: told in 100 of SciPy's non-negative least-squares
// solves measured in the same run, so that it can be compared between machines.
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { median, milliseconds, table } from "./table.mjs";

const kinds = [
  { kind: "single sweep", title: "single sweep of 50 rows", goal: 0.8 },
  { kind: "deep sweep", title: "sweep of 90 rows from 100 K below Tg", goal: 0.8 },
  { kind: "isotherms", title: "12 isotherms × 16 frequencies", goal: 0.8 },
];

/**
 * @param frostline runs the program and gives { cpu_ms }
 * @param unit a LineProcess that answers "run" with the cpu_ms of 100 solves
 */
export async function aCompound({ folder, maker, frostline, unit, runs, quick }) {
  const few = 4;
  const many = quick ? 8 : 24;
  const unit_ms = [];
  const measureUnit = async () => unit_ms.push((await unit.ask("run")).cpu_ms);
  const assess = async (inputs) => {
    const out = join(folder, "a-compound-out");
    const { cpu_ms } = await frostline([
      "assess",
      inputs,
      "--out",
      out,
      "--workers",
      "1",
      "--quiet",
      "--no-cache",
    ]);
    rmSync(out, { recursive: true, force: true });
    return cpu_ms;
  };
  const measured = [];
  for (const { kind, title, goal } of kinds) {
    console.error(`bench: a compound, ${title} …`);
    const inputs = [few, many].map((count) => {
      const path = join(folder, `a-compound-${kind}-${count}`);
      maker.makeCompounds(path, kind, count);
      return path;
    });
    const each_ms = [];
    for (let run = 0; run < runs; run++) {
      await measureUnit();
      const [small, large] = [await assess(inputs[0]), await assess(inputs[1])];
      each_ms.push((large - small) / (many - few));
    }
    measured.push({ title, cpu_ms: median(each_ms), goal });
  }
  console.error("bench: the demo's exports …");
  const demo = join(folder, "a-compound-demo");
  await frostline(["demo", "--out", demo, "--workers", "1", "--quiet"]);
  const nothing = join(folder, "a-compound-nothing");
  mkdirSync(nothing);
  writeFileSync(join(nothing, "rebound.csv"), "Compound;Temperature (°C);Rebound (%)\nFjordtread;23;45\n");
  const demo_ms = [];
  for (let run = 0; run < runs; run++) {
    await measureUnit();
    demo_ms.push((await assess(join(demo, "exports"))) - (await assess(nothing)));
  }
  measured.push({ title: "the demo's exports, all of them", cpu_ms: median(demo_ms), goal: 12 });
  const solves_ms = median(unit_ms);
  const rows = measured.map(({ title, cpu_ms, goal }) => [
    title,
    milliseconds(cpu_ms),
    (cpu_ms / solves_ms).toFixed(1),
    String(goal),
  ]);
  console.log(
    `A compound, processor time of one worker without the start; a unit is 100 of SciPy's nnls solves of 504 × 62, ${milliseconds(solves_ms)} here.\n${table(["compound", "CPU", "units", "goal"], rows)}\n`,
  );
}
