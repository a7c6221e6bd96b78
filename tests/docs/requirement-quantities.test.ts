import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { measuredQuantities, predictedQuantities } from "../../src/predict/decision/requirement.js";

it("the study file's reference names every quantity that can be required, with its unit", () => {
  const page = readFileSync(new URL("../../docs/reference/study-file.md", import.meta.url), "utf8");
  const rows = page.split("\n").filter((line) => line.startsWith("| `"));
  for (const [quantity, unit] of Object.entries({ ...predictedQuantities, ...measuredQuantities })) {
    const row = rows.find((line) => line.split("|")[1].includes(`\`${quantity}\``));
    expect(row, quantity).toBeDefined();
    if (unit !== "") expect(row!.split("|")[2], quantity).toContain(unit);
  }
});
