import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import {
  type Agreement,
  compareContacts,
  compareGlassTransitions,
  compareSuperpositions,
} from "../../bench/agreement.js";
import { makeInputs } from "../../bench/make-inputs.js";
import { tasks } from "../../bench/ours.js";
import { scipyPython, withoutSciPy } from "../outside/python.js";

const baseline = join(dirname(fileURLToPath(import.meta.url)), "../../bench/baseline.py");
const tiny = { exports: 0, rows: 0, sweeps: 8, compounds: 2, draws: 6, jobCompounds: 0 };

/** The bench's two sides on a tiny input; what they answer is what `npm run bench` times. */
describe.skipIf(withoutSciPy)("the bench's Python side finds the same numbers", () => {
  let folder = "";
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "frostline-agreement-"));
    makeInputs(folder, tiny);
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  // biome-ignore lint/suspicious/noExplicitAny: plain JSON of two programs.
  type Answers = { ours: any; theirs: any };

  async function answersTo(name: string): Promise<Answers> {
    const path = join(folder, `${name}-answer.json`);
    const { status, stderr } = spawnSync(scipyPython ?? "python3", ["-B", baseline, name, folder], {
      input: `run\nanswer ${path}\n`,
      encoding: "utf8",
      env: { ...process.env, OPENBLAS_NUM_THREADS: "1", OMP_NUM_THREADS: "1" },
    });
    expect(stderr).toBe("");
    expect(status).toBe(0);
    const answer = await tasks[name](folder).run();
    const plain = JSON.stringify(answer, (_, part) => (part instanceof Float64Array ? [...part] : part));
    return { ours: JSON.parse(plain), theirs: JSON.parse(readFileSync(path, "utf8")) };
  }

  function expectAgreement({ ok, checks }: Agreement) {
    expect(checks.filter(({ difference, allowed }) => !(difference <= allowed))).toEqual([]);
    expect(ok).toBe(true);
  }

  it("glass transitions, and one moved by half its interval is noticed", async () => {
    const { ours, theirs } = await answersTo("glass-transition");
    expect(ours.length).toBe(tiny.sweeps);
    expectAgreement(compareGlassTransitions(ours, theirs));
    const { low_C, high_C } = theirs[3].onset;
    theirs[3].onset.temperature_C += (high_C - low_C) / 2;
    expect(compareGlassTransitions(ours, theirs).ok).toBe(false);
  });

  it("shifts, law and spectrum, and a modulus off by 1 % is noticed", async () => {
    const { ours, theirs } = await answersTo("superposition");
    expect(ours.length).toBe(tiny.compounds);
    expectAgreement(compareSuperpositions(ours, theirs));
    theirs[1].moduli[100].lossModulus_Pa *= 1.01;
    expect(compareSuperpositions(ours, theirs).ok).toBe(false);
  });

  it("friction and rebound with their intervals, and uses in another order are noticed", async () => {
    const { ours, theirs } = await answersTo("contacts");
    expect(ours.flat().length).toBe(5 * tiny.compounds);
    expectAgreement(compareContacts(ours, theirs));
    expect(compareContacts(ours, theirs.slice(0, 1).concat([[...theirs[1]].reverse()])).ok).toBe(false);
  });
});
