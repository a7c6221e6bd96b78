import { readFileSync } from "node:fs";
import { join } from "node:path";
import Papa from "papaparse";
import { expect, inject, it } from "vitest";

const folder = () => join(inject("demo")!.folder, "report");
const table = (name: string) =>
  Papa.parse<Record<string, string>>(
    readFileSync(join(folder(), "tables", name), "utf8").replace(/^\uFEFF/, ""),
    { header: true, skipEmptyLines: true },
  ).data;
const results = () => JSON.parse(readFileSync(join(folder(), "results.json"), "utf8"));

it("the properties' table holds every property of results.json, with unit, interval and method", () => {
  const expected = results().compounds.flatMap(
    (compound: { name: string; properties: { quantity: string; value: number; low: number | null }[] }) =>
      compound.properties.map(({ quantity, value, low }) => [
        compound.name,
        quantity,
        String(value),
        low === null ? "" : String(low),
      ]),
  );
  expect(expected.length).toBeGreaterThan(20);
  expect(table("properties.csv").map((row) => [row.compound, row.property, row.value, row.low])).toEqual(
    expected,
  );
});

it("the decision's table holds each answer beside its limit, and the choice", () => {
  const { decision } = results();
  const rows = table("decision.csv");
  expect(rows.length).toBe(decision.compounds.length * decision.requirements.length);
  const chosen = [...new Set(rows.filter((row) => row.chosen === "yes").map((row) => row.compound))];
  expect(chosen.sort()).toEqual([...decision.choice.names].sort());
  for (const { name, meets } of decision.compounds) {
    const own = rows.filter((row) => row.compound === name);
    expect(own.map((row) => [row.requirement, row.answer])).toEqual(
      meets.map((one: { requirement: string; answer: string }) => [one.requirement, one.answer]),
    );
  }
  const limited = rows.filter((row) => row.atLeast !== "" || row.atMost !== "" || row.wantedVerdict !== "");
  expect(limited.length).toBe(rows.length);
});
