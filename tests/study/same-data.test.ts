import { expect, it } from "vitest";
import { readText } from "../../src/io/read-text.js";
import { groupCompounds } from "../../src/study/inputs/group-compounds.js";
import { withoutSameData } from "../../src/study/inputs/same-data.js";
import { resolveStudy } from "../../src/study/study-file/study.js";
import { parseStudyFile } from "../../src/study/study-file/study-file.js";

const none = parseStudyFile("");
if (!none.ok) throw new Error(none.problem.message);
const study = resolveStudy(none.value, new Map());

/** What remains of files, given as path and text, and what is said of it. */
function gathered(files: Record<string, string>) {
  const readings = Object.entries(files).map(([path, text]) => {
    const outcome = readText(text, path);
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const { measurements, properties } = outcome.value;
    return { path, measurements, properties };
  });
  const { groups, notices } = withoutSameData(groupCompounds(readings, study));
  const list = groups.map(({ name, measurements, properties }) => ({
    name,
    measurements: measurements.length,
    properties: properties.length,
  }));
  return { groups: list, notices };
}

const sweep = (sample: string, [delimiter, mark]: [string, string], shift = 0) => {
  const rows = [-40, -30, -20, -10].map((temperature, i) =>
    [temperature, "10.5", [900.5, 300.25, 60.5, 20.125][i] + shift, [80.5, 70.25, 30.5, 5.25][i]].join(
      delimiter,
    ),
  );
  const header = ["Temperature (°C)", "Frequency (Hz)", "E' (MPa)", "E'' (MPa)"].join(delimiter);
  return `Sample: ${sample}\n${header}\n${rows.join("\n").replaceAll(".", mark)}\n`;
};
const isotherm = (unit: string, factor: number) =>
  `Sample: Birch 60\nTemperature: 23 °C\nf (Hz);G' (${unit});G'' (${unit})\n${[1, 10, 100]
    .map((frequency, i) => `${frequency};${(1 + 0.25 * i) * factor};${(0.25 + 0.125 * i) * factor}`)
    .join("\n")}\n`;
const rebound = (delimiter: string) =>
  [
    "Compound,Temperature (°C),Rebound (%)",
    "Birch 60,0,31",
    "Birch 60,23,48",
    "Rowan W,0,25",
    "Rowan W,23,40",
  ]
    .join("\n")
    .replaceAll(",", delimiter);

it.each([
  [
    "a sweep with another delimiter and decimal mark",
    { "a.csv": sweep("Birch 60", [",", "."]), "b.txt": sweep("Birch 60", [";", ","]) },
  ],
  [
    "a sweep of one name in another folder",
    { "a/run.csv": sweep("Birch 60", [",", "."]), "b/run.csv": sweep("Birch 60", [",", "."]) },
  ],
  ["an isotherm in another unit", { "a.csv": isotherm("MPa", 1), "b.csv": isotherm("kPa", 1000) }],
])("counts %s once and names both files", (_, files) => {
  const { groups, notices } = gathered(files);
  expect(groups).toEqual([{ name: "Birch 60", measurements: 1, properties: 0 }]);
  expect(notices.map(({ code }) => code)).toEqual(["study.same-data-twice"]);
  for (const path of Object.keys(files)) expect(notices[0].message).toContain(path);
});

it("counts a table of rebounds once, though each compound has but two values in it", () => {
  const files = { "a/rebound.csv": rebound(","), "b/rebound.csv": rebound(";") };
  const { groups, notices } = gathered(files);
  expect(groups.map(({ name, measurements }) => [name, measurements])).toEqual([
    ["Birch 60", 1],
    ["Rowan W", 1],
  ]);
  expect(notices.map(({ code }) => code)).toEqual(["study.same-data-twice"]);
  for (const path of Object.keys(files)) expect(notices[0].message).toContain(path);
});

it("counts a table of single properties once", () => {
  const table = (delimiter: string) =>
    [
      "Compound,Hardness (Shore A),Tensile strength (MPa),Density (g/cm³)",
      "Birch 60,62,18,1.12",
      "Rowan W,66,16,1.16",
    ]
      .join("\n")
      .replaceAll(",", delimiter);
  const { groups, notices } = gathered({ "a.csv": table(","), "b.txt": table("\t") });
  expect(groups.map(({ properties }) => properties)).toEqual([3, 3]);
  expect(notices.map(({ code }) => code)).toEqual(["study.same-data-twice"]);
});

it("keeps what differs in one number, and what may be alike by chance", () => {
  const different = gathered({
    "a.csv": sweep("Birch 60", [",", "."]),
    "b.csv": sweep("Birch 60", [",", "."], 0.25),
  });
  expect(different.groups[0].measurements).toBe(2);
  const one = "Compound;Temperature (°C);Rebound (%)\nBirch 60;23;48\n";
  const chance = gathered({ "a.csv": one, "b.csv": one });
  expect(chance.groups[0].measurements).toBe(2);
  expect([...different.notices, ...chance.notices]).toEqual([]);
});

it("keeps two compounds of identical data, and says so with both names and files", () => {
  const { groups, notices } = gathered({
    "birch.csv": sweep("Birch 60", [",", "."]),
    "rowan.csv": sweep("Rowan W", [",", "."]),
  });
  expect(groups.map(({ measurements }) => measurements)).toEqual([1, 1]);
  expect(notices.map(({ code }) => code)).toEqual(["study.identical-compounds"]);
  // Which run it is: the rest of either compound may be its own.
  expect(notices[0].message).toMatch(
    /^The temperature sweep of Birch 60 in birch\.csv \(lines \d+ to \d+\) and that of Rowan W in rowan\.csv/,
  );
});
