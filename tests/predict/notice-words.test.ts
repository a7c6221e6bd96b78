import { describe, expect, it } from "vitest";
import type { Material } from "../../src/fit/material.js";
import { whatItTakes } from "../../src/predict/cold/what-it-takes.js";
import { defaultUses } from "../../src/predict/default-uses.js";
import { outlookOf } from "../../src/predict/outlook-of.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";
import { toldNotices } from "../../src/words/told-notices.js";
import { exampleMaterial, type Rubber } from "./example-materials.js";

const useAt = (temperature_C: number) => ({
  ...defaultUses()[0],
  name: `at ${temperature_C}`,
  temperature_C,
});
const outlookAt = (temperature_C: number, material: Material) =>
  outlookOf(material, useAt(temperature_C), settings, null);
/** What the report tells of one code, over several uses. */
function told(code: string, rubber: Rubber, temperatures_C: number[], draws = 0) {
  const material = exampleMaterial(rubber, draws);
  const notices = temperatures_C.flatMap((T) => outlookAt(T, material).notices);
  const { study, compounds } = toldNotices([{ name: "Hazel 55", notices }]);
  return [...compounds[0].notices, ...study].filter((one) => one.code === code).map((one) => one.message);
}

describe("what a notice says of an outlook", () => {
  it("is a distance that rounds to nothing nowhere", () => {
    const [message] = told("predict.law-outside-range", { highestTemperature_C: 20 }, [20.3, 30]);
    expect(message).toMatch(/20\.3 °C \(contact at [^;]+; 0\.3 K outside\)/);
    expect(message).toMatch(/30 °C \(contact at [^;]+; 10 K outside\)/);
    expect(message).not.toMatch(/\b0 K/);
  });

  it("is the use's own temperature", () => {
    const messages = outlookAt(22.5, exampleMaterial({ highestTemperature_C: 20 })).notices.map(
      (one) => one.message,
    );
    expect(messages.join(" ")).toContain("22.5 °C");
    expect(messages.join(" ")).not.toMatch(/\b2[23] °C/);
  });

  it("is said once, with the states it holds in", () => {
    const bounded = { highestReducedFrequency_Hz: 1e-4, lowestTemperature_C: -20 };
    for (const [code, rubber, temperatures_C] of [
      ["predict.contact-frequency-extrapolated", { lowestTemperature_C: -70 }, [-100, -110]],
      ["predict.verdict-from-bounds", bounded, [23, 30]],
      ["predict.law-outside-range", { highestTemperature_C: 20 }, [25, 30]],
    ] as const) {
      const messages = told(code, rubber, [...temperatures_C]);
      expect(messages, code).toHaveLength(1);
      for (const T of temperatures_C) expect(messages[0]).toContain(`${String(T).replace("-", "−")} °C`);
      expect(messages[0].match(/\. [A-Z]/g), code).toBeNull();
    }
  });

  it("names no infinite border, where a spectrum at one temperature bounds none", () => {
    // Near the M″ peak at the contact's frequency, so that neither side of it is sure.
    const peak_C = outlookAt(-20, exampleMaterial()).outlook.cold!.lowestAboveGlassy_C!;
    const material = exampleMaterial({}, 40);
    const only = (one: typeof material.model) => ({ ...one!, onlyAt_C: peak_C });
    const { outlook, notices } = outlookAt(peak_C, {
      ...material,
      model: only(material.model),
      draws: material.draws.map(only),
    });
    expect(outlook.cold!.verdict).toBe("glassy or leathery");
    const said = notices.map((one) => one.message).join(" ");
    expect(said).toContain("the border is not known on either side");
    expect(said).not.toMatch(/Infinity|NaN|null/);
  });

  it("claims no measured border where one is a bound, and does where both peaks are seen", () => {
    const bound = told(
      "predict.contact-frequency-extrapolated",
      { highestReducedFrequency_Hz: 1e-4, highestTemperature_C: -10 },
      [23],
    );
    expect(bound).toEqual([expect.not.stringContaining("peaks of the verdict were measured")]);
    const seen = told("predict.contact-frequency-extrapolated", { lowestTemperature_C: -70 }, [-100]);
    expect(seen).toEqual([expect.stringContaining("peaks of the verdict were measured")]);
  });
});

describe("what it would take", () => {
  it("does not call a compound rubbery whose warmer phase is not", () => {
    const phase = {
      ...{ temperature_C: 60, low_C: 59, high_C: 61 },
      height: 0.3,
      width_K: 20,
      bracketed: true,
    };
    const none = { lossModulusPeak: null, storageModulusOnset: null, furtherPeaks: [] };
    const material: Material = {
      ...exampleMaterial({}, 20),
      glassTransitions: [
        { frequency_Hz: 1, deformation: "tension", paths: [], tanDeltaPeak: phase, ...none },
      ] as unknown as Material["glassTransitions"],
    };
    const use = useAt(20);
    const judged = outlookOf(material, use, settings, null);
    expect(judged.outlook.cold!.verdict).toBe("leathery or rubbery");
    const [answer] = whatItTakes(material, [{ use, ...judged }], settings, null).answers;
    expect(answer!.sentence).toMatch(/there already.*a part of the compound has its transition warmer/);
  });

  it("asks for no fall of Tg of nothing or less", () => {
    const material = exampleMaterial({}, 40);
    const border_C = outlookAt(-20, material).outlook.cold!.lowestRubbery_C!;
    const uses = [-0.3, -0.02, 0, 0.02, 0.3, 0.6, 0.9, 1.2, 1.5].map((away_K) => useAt(border_C + away_K));
    const { answers } = whatItTakes(
      material,
      uses.map((use) => ({ use, ...outlookOf(material, use, settings, null) })),
      settings,
      null,
    );
    const sentences = answers.flatMap((answer) => answer?.sentence ?? []);
    expect(sentences.length).toBeGreaterThan(5);
    for (const sentence of sentences) {
      expect(sentence).not.toMatch(/fall by (−|0\.0 K)/);
      expect(sentence).not.toMatch(/−0\.0\b|(^|[^.\d])1 times/);
    }
  });
});
