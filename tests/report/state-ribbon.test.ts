import { expect, test } from "vitest";
import { stateRibbon } from "../../src/report/html/compound/state-ribbon.js";
import { makeAssessment } from "./make-assessment.js";

/** Where the measured peak's line and the bands' words stand, in the drawing's units. */
function places(markup: string) {
  const [, line, drawn] = /<path class="measured" d="M([\d.]+) 23([^"]+)"/.exec(markup)!;
  const words = [...markup.matchAll(/<text class="band-word \w+" x="([\d.]+)"/g)].map(([, x]) => Number(x));
  const bands = [...markup.matchAll(/<rect class="band \w+" x="([\d.]+)" y="26" width="([\d.]+)"/g)].map(
    ([, x, width]) => [Number(x), Number(x) + Number(width)],
  );
  return { line: Number(line), isParted: drawn === "v7m0 16v7", words, bands };
}

test("the line of the measured peak crosses no word of a band, wherever it lies", () => {
  const [compound] = makeAssessment({ compounds: 1 }).results.compounds;
  let beside = 0;
  let parted = 0;
  for (let k = 0; k < 320; k++) {
    const temperature_C = -60 + (k % 160) / 2;
    // A hot use beside the others makes the bands narrow.
    const hot = k < 160 ? [] : [{ ...compound.outlooks[0], temperature_C: 100 }];
    const outlooks = [...compound.outlooks, ...hot];
    const glassTransitions = compound.glassTransitions.map((one) => ({
      ...one,
      tanDeltaPeak: one.tanDeltaPeak && { ...one.tanDeltaPeak, temperature_C },
    }));
    const { line, isParted, words, bands } = places(
      stateRibbon({ ...compound, glassTransitions, outlooks })!.markup,
    );
    expect(words.length).toBeGreaterThan(1);
    // "leathery", the longest, takes some 48 units at 12 px.
    const isClear = words.every((word) => Math.abs(word - line) >= 27.9);
    expect(isClear || isParted, `${temperature_C} °C`).toBe(true);
    expect(isClear && isParted, `${temperature_C} °C`).toBe(false);
    for (const word of words) {
      const [left, right] = bands.find(([from, to]) => from <= word && word <= to)!;
      expect(Math.min(word - left, right - word), `${temperature_C} °C`).toBeGreaterThan(24);
      if (Math.abs(word - (left + right) / 2) > 1) beside++;
    }
    if (isParted) parted++;
  }
  expect(beside).toBeGreaterThan(5);
  expect(parted).toBeGreaterThan(0);
});

test("the caption gives each border with its interval, and an end that nothing bounds as such", () => {
  const [compound] = makeAssessment({ compounds: 1 }).results.compounds;
  const coldest = compound.outlooks.reduce((a, b) => (b.temperature_C < a.temperature_C ? b : a));
  const cold = coldest.cold!;
  const captionWith = (low_C: number | null, high_C: number | null) => {
    const at = cold.glassTemperatureAtUse;
    const lossModulusPeak = { ...at.lossModulusPeak, low_C, high_C };
    const outlook = { ...coldest, cold: { ...cold, glassTemperatureAtUse: { ...at, lossModulusPeak } } };
    const { markup } = stateRibbon({ ...compound, outlooks: [outlook] })!;
    return /glassy below (.*?), leathery/.exec(markup)![1].replaceAll(/[\u00a0\u202f]/g, " ");
  };
  const peak_C = cold.glassTemperatureAtUse.lossModulusPeak.temperature_C!;
  const border_C = coldest.temperature_C - cold.marginToGlassy_K!;
  const whole = (value: number) => String(Math.round(value)).replace("-", "−");
  const own = `${whole(border_C)} °C`;
  expect(captionWith(peak_C - 3, peak_C + 2)).toBe(
    `${own} (${whole(border_C - 3)} to ${whole(border_C + 2)})`,
  );
  expect(captionWith(peak_C - 3, null)).toBe(`${own} (${whole(border_C - 3)} or warmer)`);
  expect(captionWith(null, peak_C + 2)).toBe(`${own} (${whole(border_C + 2)} or colder)`);
  expect(captionWith(null, null)).toBe(own);
});
