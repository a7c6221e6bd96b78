import { describe, expect, it } from "vitest";
import { studyFileText } from "../../src/study/demo/study-file-text.js";
import { parseStudyFile } from "../../src/study/study-file/study-file.js";

const problemOf = (text: string) => {
  const outcome = parseStudyFile(text);
  if (outcome.ok) throw new Error("expected a problem");
  return outcome.problem;
};

describe("a study file", () => {
  it("an empty one is a study with every default", () => {
    const outcome = parseStudyFile("");
    expect(outcome).toMatchObject({ ok: true, value: { compounds: [], textures: [], seed: 1 } });
  });

  it("the annotated example is valid", () => {
    const outcome = parseStudyFile(studyFileText());
    expect(outcome.ok ? null : outcome.problem).toBeNull();
  });

  it("an unknown key is an error with its line and the nearest known one", () => {
    const problem = problemOf("title: x\nuses:\n  - temperatur_C: 5\n    temperature_C: 5\n");
    expect(problem).toMatchObject({ code: "study.unknown-key", line: 3, column: 5 });
    expect(problem.message).toContain('did you mean "temperature_C"?');
    expect(problemOf("compunds: []\n")).toMatchObject({ code: "study.unknown-key", line: 1 });
    expect(problemOf("compunds: []\n").message).toContain('"compounds"');
  });

  it("a wrong value names the key, the line, what was found and what would be right", () => {
    const problem = problemOf("uses:\n  - name: cold\n    temperature_C: cold\n");
    expect(problem).toMatchObject({ code: "study.wrong-value", line: 3 });
    expect(problem.message).toBe('uses[1].temperature_C is "cold"; expected a number.');
    expect(problemOf("superposition:\n  law: fast\n").message).toContain("auto, wlf, arrhenius");
    expect(problemOf("uses:\n  - temperature_C: -300\n")).toMatchObject({ line: 2 });
    expect(problemOf("uses:\n  - name: x\n").message).toContain("uses[1].temperature_C is missing");
    expect(problemOf("compounds: 5\n").message).toContain("expected a list");
    expect(problemOf("compounds:\n  - { name: A, files: Jun* }\n").message).toContain(
      'a list, such as ["Jun*"].',
    );
  });

  it("a decimal comma is named as what it is, in both of YAML's forms", () => {
    const block = problemOf("uses:\n  - temperature_C: 5\n    sliding:\n      speed_m_s: 0,3\n");
    expect(block).toMatchObject({ code: "study.wrong-value", line: 4 });
    expect(block.message).toContain("expected a number with a decimal point, 0.3.");
    const flow = problemOf("uses:\n  - { temperature_C: 5, sliding: { speed_m_s: 0,3 } }\n");
    expect(flow).toMatchObject({ code: "study.unknown-key", line: 2 });
    expect(flow.message).toContain("decimal comma");
  });

  it("an unknown texture is named with its place and the nearest one", () => {
    const problem = problemOf("uses:\n  - temperature_C: 5\n    sliding: { texture: worn asfalt }\n");
    expect(problem).toMatchObject({ code: "study.unknown-texture", line: 3, column: 25 });
    expect(problem.message).toContain('did you mean "worn asphalt"?');
    const own =
      "textures:\n  - { name: own, rmsHeight_mm: 0.2, hurstExponent: 0.8, q0_per_m: 1500 }\nuses:\n  - { temperature_C: 5, sliding: { texture: own } }\n";
    expect(parseStudyFile(own).ok).toBe(true);
  });

  it("broken YAML and exploding aliases are refused, not followed", () => {
    expect(problemOf("uses: [1, 2\nx: y: z")).toMatchObject({ code: "study.not-yaml" });
    const bomb = ["a: &a [x, x, x, x, x, x, x, x, x]"];
    for (const [now, before] of ["ba", "cb", "dc", "ed", "fe", "gf"]) {
      bomb.push(`${now}: &${now} [${new Array(9).fill(`*${before}`).join(", ")}]`);
    }
    expect(problemOf(bomb.join("\n"))).toMatchObject({ code: "study.not-yaml" });
  });

  it("contradictions are named", () => {
    const two = "compounds:\n  - { name: A, reference: true }\n  - { name: B, reference: true }\n";
    expect(problemOf(two)).toMatchObject({ code: "study.two-references", line: 3 });
    expect(problemOf("compounds:\n  - name: A\n  - name: A\n")).toMatchObject({
      code: "study.duplicate-name",
      line: 3,
    });
    const series =
      "compounds:\n  - name: Birch 60\nfillerSeries:\n  - { name: s, compounds: [Birch 60, Birch 6] }\n";
    expect(problemOf(series).message).toContain('did you mean "Birch 60"?');
  });
});
