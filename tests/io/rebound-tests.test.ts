import { describe, expect, it } from "vitest";
import type { FileContent, ReboundMeasurement } from "../../src/io/measurement.js";
import { readText } from "../../src/io/read-text.js";
import { readHeader } from "../../src/io/vocabulary/read-header.js";

function reading(text: string): FileContent {
  const outcome = readText(text, "invented.csv");
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problem));
  return outcome.value;
}

const rebounds = (text: string) => reading(text).measurements as ReboundMeasurement[];
const codes = (text: string) => reading(text).notices.map(({ code }) => code);
/** Laboratory and values of each test, sorted so that the order of the rows does not count. */
const tests = (text: string) =>
  rebounds(text)
    .flatMap(({ readings }) =>
      readings.map(({ laboratory, fractions }) =>
        [laboratory ?? "", ...fractions.map((one) => (100 * one).toFixed(1))].join(" "),
      ),
    )
    .sort();

const header = "Compound,Laboratory,Temperature (°C),Rebound 1 (%),Rebound 2 (%),Rebound 3 (%)";
const rows = [
  "Birch 60,North,23,31.0,31.2,31.1",
  "Birch 60,South,23,36.0,36.1,36.2",
  "Birch 60,East,23,28.0,28.1,28.2",
];

describe("tests of several laboratories", () => {
  it("keeps a row of repeats a test of its own, whatever the order of the rows", () => {
    const expected = ["East 28.0 28.1 28.2", "North 31.0 31.2 31.1", "South 36.0 36.1 36.2"];
    for (const order of [
      [0, 1, 2],
      [2, 0, 1],
      [1, 2, 0],
    ]) {
      const text = [header, ...order.map((i) => rows[i])].join("\n");
      expect(tests(text)).toEqual(expected);
      expect(codes(text)).not.toContain("io.rebound-rows-joined");
    }
  });

  it("keeps them apart where no column names the laboratory", () => {
    const bare = [header, ...rows].map((row) => row.replace(/,[^,]*/, "")).join("\n");
    expect(tests(bare)).toEqual([" 28.0 28.1 28.2", " 31.0 31.2 31.1", " 36.0 36.1 36.2"]);
  });

  it("joins rows of one value where nothing tells them apart, and says so", () => {
    const text = "Compound;T (°C);Rebound (%)\nBirch 60;23;31.0\nBirch 60;40;50\nBirch 60;23;31.2\n";
    expect(tests(text)).toEqual([" 31.0 31.2", " 50.0"]);
    const [notice] = reading(text).notices.filter(({ code }) => code === "io.rebound-rows-joined");
    expect(notice.message).toContain("2 rows of one rebound value each");
    expect(notice.message).toContain("lines 2, 4");
  });

  it.each([
    ["Laboratory", "North", "South"],
    ["Specimen", "1", "2"],
    ["Sample no", "1", "2"],
    ["Operator", "K. Lind", "M. Aho"],
    ["Prüfdatum", "2026-01-05", "2026-01-06"],
    ["Charge", "11", "12"],
    ["实验室", "甲", "乙"],
    ["試験所", "甲", "乙"],
    ["Laboratoire", "Nord", "Sud"],
    ["Laboratorium", "Norr", "Syd"],
  ])("tells single values apart by the column %s", (column, one, other) => {
    const text = `Compound;${column};T (°C);Rebound (%)\nBirch 60;${one};23;31\nBirch 60;${other};23;36\nBirch 60;${one};23;31.4\n`;
    const values = rebounds(text)[0].readings.map(({ fractions }) => fractions.length);
    expect(values).toEqual([2, 1]);
    expect(rebounds(text)[0].provenance.columns[1].quantity).not.toBe("not used");
  });

  it("puts impacts in the order of their numbers, and begins a test where a number comes again", () => {
    const text =
      "Compound;T (°C);Impact;Rebound (%)\nA;23;3;33\nA;23;1;31\nA;23;2;32\nA;23;1;41\nA;23;2;42\nA;23;3;43\n";
    expect(tests(text)).toEqual([" 31.0 32.0 33.0", " 41.0 42.0 43.0"]);
  });

  it("takes the laboratory that a line over the rows names", () => {
    const text =
      "Laboratory: North\nCompound;T (°C);Rebound (%)\nA;23;31\nA;23;32\nLaboratory: South\nA;23;36\nA;23;37\n";
    expect(tests(text)).toEqual(["North 31.0 32.0", "South 36.0 37.0"]);
  });

  it("lets a blank cell go with the laboratory above", () => {
    const text = "Compound;Lab;T (°C);Rebound (%)\nA;North;23;31\nA;;23;32\nA;South;23;36\n";
    expect(tests(text)).toEqual(["North 31.0 32.0", "South 36.0"]);
  });
});

// Trade words for a test's standard or method (common practice).
describe("the column that names the method", () => {
  it.each([
    "Method",
    "Test standard",
    "Prüfnorm",
    "Prüfverfahren",
    "Norme d'essai",
    "Méthode",
    "Norma de ensayo",
    "Método",
    "Norma di prova",
    "Metodo",
    "Provningsmetod",
    "Standard",
    "试验标准",
    "标准",
    "試験規格",
    "試験方法",
  ])("is read under %s, and shown as the method", (column) => {
    const text = `Compound;${column};T (°C);Rebound (%)\nA;DIN 53512;40;53\nA;ISO 8307;40;72\n`;
    expect(rebounds(text).map(({ method }) => method)).toEqual(["DIN 53512", "ISO 8307"]);
    expect(rebounds(text)[0].provenance.columns[1].quantity).toBe("method");
  });
});

describe("R with a number", () => {
  it("is a repeat of the resilience where a unit stands with it", () => {
    expect(tests("Compound,Temperature (°C),R1 (%),R2 (%),R3 (%)\nA,23,31,32,33\n")).toEqual([
      " 31.0 32.0 33.0",
    ]);
    expect(readHeader("R2 (%)")).toMatchObject({ quantity: "rebound resilience", repeat: 2 });
  });

  it("is nothing known without one: R2 may say how well a line fits", () => {
    expect(readHeader("R2").quantity).toBeNull();
    const sweep = "T (°C);f (Hz);E' (MPa);tan δ;R2\n0;1;5;0.1;0.998\n5;1;4;0.1;0.997\n10;1;3;0.1;0.999\n";
    expect(reading(sweep).measurements.map(({ kind }) => kind)).toEqual(["temperature sweep"]);
  });
});
