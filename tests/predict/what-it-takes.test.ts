import { describe, expect, it } from "vitest";
import type { Material } from "../../src/fit/material.js";
import { lowestTemperatures } from "../../src/predict/cold/lowest-temperatures.js";
import { type WhatItTakes, whatItTakes } from "../../src/predict/cold/what-it-takes.js";
import { defaultUses } from "../../src/predict/default-uses.js";
import { contactsOf, outlookOf } from "../../src/predict/outlook-of.js";
import { defaultPredictionSettings as settings } from "../../src/predict/prediction-settings.js";
import type { Use } from "../../src/predict/use.js";
import { predictionNotices } from "../../src/words/codes/prediction-codes.js";
import { toldNotices } from "../../src/words/told-notices.js";
import { exampleMaterial, type Rubber } from "./example-materials.js";

const useAt = (temperature_C: number, more: Partial<Use> = {}): Use => ({
  ...defaultUses()[0],
  temperature_C,
  ...more,
});
const coldIn = (material: Material, use: Use) => outlookOf(material, use, settings, null).outlook.cold!;
const answersFor = (material: Material, uses: Use[]) =>
  whatItTakes(
    material,
    uses.map((use) => ({ use, ...outlookOf(material, use, settings, null) })),
    settings,
    null,
  );
const answerFor = (material: Material, use: Use) => answersFor(material, [use]).answers[0] as WhatItTakes;

describe("what a leathery or glassy compound would need", () => {
  const material = exampleMaterial();

  it("is a fall of Tg that brings it exactly to the border, checked on a compound with that Tg", () => {
    for (const use of [useAt(-20), useAt(-25, { impact: null }), useAt(-30, { sliding: null })]) {
      const { toBeRubbery } = answerFor(material, use);
      const fall_K = toBeRubbery.glassTransitionFall_K!.value;
      expect(fall_K).toBeGreaterThan(3);
      const changed = exampleMaterial({ glassTemperature_C: -55 - fall_K, lowestTemperature_C: -120 });
      expect(Math.abs(coldIn(changed, use).marginToLeathery_K!)).toBeLessThan(0.1);
      expect(coldIn(material, use).marginToLeathery_K!).toBeLessThan(-3);
    }
  });

  it("is a fall that leaves the glassy state, where it is glassy", () => {
    const use = useAt(-50);
    const answer = answerFor(material, use);
    expect(answer.verdict).toBe("glassy");
    const fall_K = answer.toLeaveGlassy!.glassTransitionFall_K!.value;
    const changed = exampleMaterial({ glassTemperature_C: -55 - fall_K, lowestTemperature_C: -120 });
    expect(Math.abs(coldIn(changed, use).marginToGlassy_K!)).toBeLessThan(0.1);
    expect(answer.toBeRubbery.glassTransitionFall_K!.value).toBeGreaterThan(fall_K);
  });

  it("is a sliding speed at which the verdict changes", () => {
    const use = useAt(-25, { impact: null });
    const [sliding, ...others] = answerFor(material, use).toBeRubbery.contacts;
    expect(others).toEqual([]);
    expect(sliding.speed_m_s).toBe(0.3);
    expect(sliding.frequency_Hz).toBeCloseTo(coldIn(material, use).contactFrequency_Hz, 9);
    const slower = (speed_m_s: number) => ({ ...use, sliding: { ...use.sliding!, speed_m_s } });
    const needed = sliding.neededSpeed_m_s!.value;
    expect(
      coldIn(material, slower(needed)).contactFrequency_Hz / sliding.neededFrequency_Hz.value,
    ).toBeCloseTo(1, 2);
    expect(Math.abs(coldIn(material, slower(needed)).marginToLeathery_K!)).toBeLessThan(0.05);
    expect(coldIn(material, slower(0.8 * needed)).verdict).toBe("rubbery");
    expect(coldIn(material, slower(1.25 * needed)).verdict).toBe("leathery");
  });

  it("names both contacts of a use that has both, each with its own factor and one needed frequency", () => {
    const { contacts } = answerFor(material, useAt(-20)).toBeRubbery;
    expect(contacts.map(({ contact }) => contact)).toEqual(["sliding", "impact"]);
    for (const one of contacts) {
      expect(one.frequencyFactor.value * one.frequency_Hz).toBeCloseTo(one.neededFrequency_Hz.value, 6);
    }
    expect(contacts[0].neededFrequency_Hz).toEqual(contacts[1].neededFrequency_Hz);
    expect(contacts[1]).toMatchObject({ speed_m_s: null, neededSpeed_m_s: null });
  });

  it("holds with a vertical factor too", () => {
    const shifted = exampleMaterial();
    shifted.model!.verticalShift = { kind: "density-temperature", expansion_per_K: 6.6e-4 };
    const use = useAt(-45, { impact: null });
    const { toLeaveGlassy } = answerFor(shifted, use);
    const needed = toLeaveGlassy!.contacts[0].neededSpeed_m_s!.value;
    const slower = { ...use, sliding: { ...use.sliding!, speed_m_s: needed } };
    expect(Math.abs(coldIn(shifted, slower).marginToGlassy_K!)).toBeLessThan(0.05);
  });
});

describe("its intervals", () => {
  it("are those of the draws solved one by one, to a fraction of their width", () => {
    const material = exampleMaterial({}, 40);
    const use = useAt(-20);
    const fall = answerFor(material, use).toBeRubbery.glassTransitionFall_K!;
    const { contacts } = contactsOf(use, settings, 1);
    const exact = material.draws
      .map((draw) => lowestTemperatures(draw, contacts, settings).rubbery_C! + 20)
      .sort((a, b) => a - b);
    const at = (p: number) => exact[Math.round(p * (exact.length - 1))];
    const width = at(0.975) - at(0.025);
    expect(width).toBeGreaterThan(2);
    expect(Math.abs(fall.low! - at(0.025))).toBeLessThan(0.15 * width);
    expect(Math.abs(fall.high! - at(0.975))).toBeLessThan(0.15 * width);
  });

  it("hold the value, run the right way round, and are absent without draws", () => {
    const [answer] = answersFor(exampleMaterial({}, 40), [useAt(-25)]).answers;
    for (const { frequencyFactor, neededSpeed_m_s, neededFrequency_Hz } of answer!.toBeRubbery.contacts) {
      for (const interval of [frequencyFactor, neededFrequency_Hz, neededSpeed_m_s]) {
        if (interval === null) continue;
        expect(interval.low!).toBeLessThan(interval.value);
        expect(interval.high!).toBeGreaterThan(interval.value);
      }
    }
    expect(answerFor(exampleMaterial(), useAt(-25)).toBeRubbery.glassTransitionFall_K).toMatchObject({
      low: null,
      high: null,
    });
  });
});

describe("where there is no answer", () => {
  it("is null for a rubbery compound and for one without a verdict", () => {
    const material = exampleMaterial();
    expect(answersFor(material, [useAt(23)])).toEqual({ answers: [null], notices: [] });
    expect(answersFor({ ...material, model: null }, [useAt(-20)])).toEqual({ answers: [null], notices: [] });
  });

  it("leaves out what was not measured, with the reason in a notice", () => {
    const narrow: Rubber = { lowestTemperature_C: -18 };
    const { answers, notices } = answersFor(exampleMaterial(narrow), [useAt(-34)]);
    expect(answers[0]!.toBeRubbery.contacts).toEqual([]);
    expect(answers[0]!.toBeRubbery.reasons.join()).toContain("26 K outside the measured temperatures");
    expect(notices.map(({ code }) => code)).toEqual(["predict.what-it-takes-outside-range"]);
    expect(notices[0].severity).toBe(predictionNotices["predict.what-it-takes-outside-range"].severity);
    expect(answers[0]!.sentence).toContain("Not determined");
  });

  it("says each reason once, with all uses that it holds in and what is their own", () => {
    const narrow: Rubber = { lowestTemperature_C: -18 };
    const uses = [-34, -38, -42].map((T) => ({ ...useAt(T), name: `shed ${-T}` }));
    const { answers, notices } = answersFor(exampleMaterial(narrow), uses);
    const [told, ...others] = toldNotices([{ name: "Hazel 55", notices }]).compounds[0].notices;
    expect(others).toEqual([]);
    const slower = "too far outside the measured temperatures to extrapolate the shift law";
    expect(told.message.split(slower)).toHaveLength(2);
    expect(told.message.split("By how much Tg would have to fall").length).toBeLessThanOrEqual(2);
    for (const { name, temperature_C } of uses) {
      expect(told.message).toContain(`"${name}" at −${-temperature_C} °C`);
      // The tan δ peak would have to lie the border of 10 K below the use.
      const outside = `tan δ at −${10 - temperature_C} °C, ${-18 - temperature_C + 10} K outside`;
      expect(told.message).toContain(outside);
    }
    for (const answer of answers) expect(answer!.toBeRubbery.reasons.length).toBeGreaterThan(0);
  });
});

describe("its words", () => {
  it("say the state, the fall, the speeds and the caution", () => {
    const material = exampleMaterial({}, 40);
    const { sentence, caution } = answerFor(material, useAt(-25, { impact: null }));
    expect(sentence).toMatch(
      /^Hazel 55 is leathery at −25 °C in ".+"\. To be rubbery at −25 °C, its Tg would have to fall by \d+\.\d K \(\d+\.\d to \d+\.\d K\), or the sliding would have to be \d+ times slower \(.+\), at 0\.\d+ m\/s instead of 0\.3 m\/s\.$/,
    );
    expect(caution).toMatch(/all else equal.*local codes and a qualified person/);
  });

  it("say so where the shift law was assumed", () => {
    const material = exampleMaterial();
    const superposition = { source: "assumed" } as Material["superposition"];
    expect(answerFor({ ...material, superposition }, useAt(-25)).caution).toContain(
      "assumed shift constants",
    );
  });

  it("tell a straddling verdict what would settle it", () => {
    const material = exampleMaterial({}, 40);
    // Half a kelvin above the border, which the draws scatter about by more.
    const { cold } = outlookOf(material, useAt(-10), settings, null).outlook;
    const border_C = -10 - cold!.marginToLeathery_K!;
    const answer = answerFor(material, useAt(border_C + 0.5));
    expect(answer.verdict).toBe("leathery or rubbery");
    expect(answer.sentence).toMatch(
      /by the best estimate it is there already, with \d\.\d K to spare; to be sure of it Tg/,
    );
  });
});
