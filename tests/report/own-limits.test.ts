import { describe, expect, test } from "vitest";
import type { ColdOutlook, ColdVerdict, GripOutlook, Outlook } from "../../src/predict/outlook.js";
import {
  againstMinimum,
  gripJudgement,
  limitLines,
  limitNote,
  reboundJudgement,
} from "../../src/report/html/answer/own-limits.js";
import type { JudgedCompound } from "../../src/report/results/results.js";

const plain = ({ markup }: { markup: string }) => markup.replace(/<[^>]+>/g, "").replace(/\s+/g, " ");

function grip(low: number, value: number, high: number, halved: number, doubled: number): GripOutlook {
  return {
    frictionCoefficient: value,
    // As a predicted interval does: the cut-off's freedom is in it.
    low: Math.min(low, halved),
    high: Math.max(high, doubled),
    contactAreaRatio: 0.01,
    cutOffSensitivity: { halved, doubled },
    cutOff_per_m: 25_000,
    rmsSlope: 1.3,
    contactFrequency_Hz: 300,
  };
}

const rebound = (low: number, high: number) => ({
  fraction: (low + high) / 2,
  low,
  high,
  textbookFraction: 0.4,
  contactTime_s: 2e-3,
  indentation_m: 4e-3,
  calibrated: false,
});

const unseen = { temperature_C: null, low_C: null, high_C: null, reason: "invented" };

const cold = (verdict: ColdVerdict): ColdOutlook => ({
  verdict,
  contactFrequency_Hz: 300,
  contact: "sliding",
  marginToGlassy_K: 1,
  marginToLeathery_K: 1,
  glassTemperatureAtUse: { frequency_Hz: 300, tanDeltaPeak: unseen, lossModulusPeak: unseen },
  glassTemperatureMeasured: null,
  lowestRubbery_C: null,
  lowestAboveGlassy_C: null,
});

describe("a limit of the study", () => {
  test("is held against the whole interval", () => {
    expect(againstMinimum({ low: 0.3, high: 0.4 }, 0.3)).toBe("meets");
    expect(againstMinimum({ low: 0.2, high: 0.4 }, 0.3)).toBe("may miss");
    expect(againstMinimum({ low: 0.1, high: 0.2 }, 0.3)).toBe("misses");
    // An end that is not known could lie anywhere.
    expect(againstMinimum({ low: null, high: 0.4 }, 0.3)).toBe("may miss");
    expect(againstMinimum({ low: 0.1, high: null }, 0.3)).toBe("may miss");
  });

  test("is held against the friction with the cut-off halved and doubled too", () => {
    const word = (one: GripOutlook) => gripJudgement(one, 0.4, cold("rubbery"))?.word;
    expect(word(grip(0.41, 0.415, 0.42, 0.28, 0.6))).toBe("may miss");
    expect(word(grip(0.3, 0.31, 0.32, 0.2, 0.45))).toBe("may miss");
    expect(word(grip(0.3, 0.31, 0.32, 0.2, 0.39))).toBe("misses");
    expect(word(grip(0.45, 0.5, 0.55, 0.41, 0.6))).toBe("meets");
  });

  test.each([
    ["rubbery", "meets your 30 %"],
    ["glassy", "meets your 30 %, but is glassy there"],
    ["leathery", "meets your 30 %, but is leathery there"],
    ["glassy or leathery", "meets your 30 %, but is glassy or leathery there"],
    ["leathery or rubbery", "meets your 30 %, but may be leathery there"],
  ] as const)("is met plainly by rubber alone: %s", (verdict, words) => {
    const note = limitNote(reboundJudgement(rebound(0.95, 0.96), 0.3, cold(verdict)), "30 %");
    expect(plain(note)).toBe(words);
  });

  test("is not met plainly without a verdict, and needs no word on the state where it is missed", () => {
    expect(plain(limitNote(reboundJudgement(rebound(0.9, 0.92), 0.3, null), "30 %"))).toBe(
      "meets your 30 %, but its state there is not determined",
    );
    expect(plain(limitNote(reboundJudgement(rebound(0.1, 0.2), 0.3, cold("glassy")), "30 %"))).toBe(
      "misses your 30 %",
    );
    expect(limitNote(reboundJudgement(rebound(0.1, 0.2), null, null), "30 %").markup).toBe("");
  });

  const compound = (name: string, temperature_C: number, one: GripOutlook, verdict: ColdVerdict) => {
    const outlook: Outlook = {
      use: "use",
      temperature_C,
      rebound: null,
      grip: one,
      cushioning: null,
      cold: cold(verdict),
      nearestMeasurement: null,
      flags: [],
    };
    return { name, inputs: [], glassTransitions: [], superposition: null, outlooks: [outlook], flags: [] };
  };
  const sure = grip(0.45, 0.5, 0.55, 0.42, 0.6);
  const limits = { frictionMinimum: 0.4, reboundMinimum: null };

  test("has a line that tells missing, perhaps missing and only apparently meeting apart", () => {
    const compounds: JudgedCompound[] = [
      compound("A", 5, grip(0.1, 0.12, 0.15, 0.08, 0.2), "rubbery"),
      compound("B", 5, grip(0.41, 0.415, 0.42, 0.28, 0.6), "rubbery"),
      compound("C", 5, sure, "glassy"),
      compound("D", 5, sure, "rubbery"),
    ];
    const line = plain(limitLines(compounds, limits));
    expect(line).toContain(
      "Your limit, grip µ of at least 0.40: missed in some use by 1 of 4 compounds (A); 1 more may miss it (B); 1 meets it, but not as rubber in every use (C).",
    );
    expect(line).not.toContain("ice and snow");
  });

  test("says below 0 °C that ice and snow govern grip and that the numbers must not rank compounds", () => {
    const line = plain(limitLines([compound("D", -20, sure, "leathery")], limits));
    expect(line).toContain("ice and snow usually govern grip (common practice)");
    expect(line).toContain("must not rank compounds in frost");
    expect(line).toContain("local codes");
    expect(line).toContain("a qualified person");
  });
});
