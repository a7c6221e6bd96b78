import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { resultsSchema } from "../../src/report/results/results.js";
import { resultsJsonSchema } from "../../src/report/results/results-json-schema.js";

it("the published JSON Schema is the one that validates (npm run schema writes it)", () => {
  const published = JSON.parse(readFileSync("schema/results.schema.json", "utf8"));
  expect(published).toEqual(resultsJsonSchema());
  expect(published.$schema).toContain("2020-12");
});

it("refuses a result that breaks the contract, and lets new keys pass", () => {
  const results = {
    schema: "frostline.results/1",
    program: { name: "frostline", version: "0.1.0" },
    inputs: [{ path: "a.csv", sha256: "0".repeat(64), bytes: 1, status: "read", measurements: 1 }],
    compounds: [],
    fillerSeries: [],
    verdictBorders: { glassyBorder_K: 0, leatheryBorder_K: 10 },
    batchComparisons: [],
    decision: null,
    settings: {},
    changes: null,
    cautions: [],
    notices: [],
  };
  expect(resultsSchema.safeParse({ ...results, addedLater: 1 }).success).toBe(true);
  expect(resultsSchema.safeParse({ ...results, schema: "frostline.results/2" }).success).toBe(false);
  const nameless = [{ ...results.inputs[0], path: undefined }];
  expect(resultsSchema.safeParse({ ...results, inputs: nameless }).success).toBe(false);
  const infinite = [{ ...results.inputs[0], bytes: Number.POSITIVE_INFINITY }];
  expect(resultsSchema.safeParse({ ...results, inputs: infinite }).success).toBe(false);
});
