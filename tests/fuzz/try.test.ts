import { join } from "node:path";
import { it } from "vitest";
import { readBytes } from "../../src/io/read-bytes.js";
import { fuzzReader, readerCorpus,fuzzCase } from "./fuzz-reader.js";
it("try", async () => {
  const corpus = readerCorpus(join(import.meta.dirname, "..", "fixtures"));
  const n = Number(process.env.N ?? 20000);
  const t = performance.now();
  const { figures, faults } = await fuzzReader(corpus, Number(process.env.SEED ?? 1), 0, n);
  console.log(performance.now() - t, JSON.stringify(figures));
  const by: Record<string, any[]> = {};
  for (const f of faults) (by[f.fault.replace(/-?\d[\d.e+-]*/g, "N").slice(0, 120)] ??= []).push(f);
  for (const [k, v] of Object.entries(by)) { console.log(v.length, k, v[0].index, v[0].made, v[0].fault.slice(0, 300));
    const o = await readBytes(v[0].bytes, "x", v[0].options); console.log(JSON.stringify(o.ok ? "ok" : o.problem), JSON.stringify(v[0].options)); }
  const i = Number(figures.slowest.split(":")[0]); const c = fuzzCase(corpus, Number(process.env.SEED ?? 1), i);
  for (let k = 0; k < 3; k++) { const t = performance.now(); await readBytes(c.bytes, "x", c.options); console.log("slowest again", c.bytes.length, performance.now() - t); }
});
