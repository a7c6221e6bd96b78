import type { Outlook } from "../../predict/outlook.js";
import type { LiveCompound, PageState } from "./page-state.js";
import { predictOne, type Setting, useOf } from "./predictions.js";

/** Grip and rebound of one compound over temperature; null where the data do not reach. */
export interface TemperatureCurve {
  temperature_C: number[];
  outlooks: Outlook[];
}

/**
 * From a little colder than the coldest use to a little warmer than the warmest, and as far as rebound was
 * measured, so that every measured point has a predicted one to stand beside.
 */
function gridOf(state: PageState, step_K: number): number[] {
  const measured = state.data.compounds.flatMap(({ rebounds }) =>
    rebounds.flatMap(({ readings }) => readings.flatMap(({ temperature_C }) => temperature_C ?? [])),
  );
  const uses = [...state.data.uses.map((use) => use.temperature_C), ...measured];
  const low = Math.min(-40, ...uses.map((T) => T - 10));
  const high = Math.max(30, ...uses.map((T) => T + 10));
  const count = Math.ceil((high - low) / step_K);
  return Array.from({ length: count + 1 }, (_, i) => low + ((high - low) * i) / count);
}

/** Beyond this many, curves of all compounds are computed on a coarser grid. */
const manyCompounds = 40;

/** How long to compute before the page gets a turn. */
const turn_ms = 30;

/**
 * Curves are computed when first looked at, and again after the contact was changed. `prepare` does it in
 * turns, so that the page stays answerable; `line` and `band` do what is missing at once.
 */
export function temperatureCurves(state: PageState) {
  const cache = new Map<string, TemperatureCurve>();
  const keyOf = (
    compound: LiveCompound,
    { base, speed_m_s, pressure_Pa, texture }: Setting,
    withDraws: boolean,
  ) => JSON.stringify([compound.index, withDraws, base.impact, speed_m_s, pressure_Pa, texture?.name]);

  /** Yields after each temperature. */
  function* compute(compound: LiveCompound, setting: Setting, withDraws: boolean) {
    const key = keyOf(compound, setting, withDraws);
    if (cache.has(key)) return;
    const temperature_C = gridOf(state, state.compounds.length > manyCompounds ? 5 : withDraws ? 3 : 2);
    const outlooks: Outlook[] = [];
    for (const T of temperature_C) {
      outlooks.push(predictOne(state, compound, useOf(setting, T), withDraws).outlook);
      yield;
    }
    cache.set(key, { temperature_C, outlooks });
  }

  const curve = (compound: LiveCompound, setting: Setting, withDraws: boolean): TemperatureCurve => {
    for (const _ of compute(compound, setting, withDraws));
    return cache.get(keyOf(compound, setting, withDraws))!;
  };

  return {
    line: (compound: LiveCompound, setting: Setting) => curve(compound, setting, false),
    band: (compound: LiveCompound, setting: Setting) => curve(compound, setting, true),
    async prepare(compounds: LiveCompound[], setting: Setting, withBand: boolean): Promise<void> {
      let began = performance.now();
      for (const compound of compounds) {
        if (compound.live === null) continue;
        for (const withDraws of withBand ? [false, true] : [false]) {
          for (const _ of compute(compound, setting, withDraws)) {
            if (performance.now() - began < turn_ms) continue;
            await new Promise((resolve) => setTimeout(resolve, 0));
            began = performance.now();
          }
        }
      }
    },
  };
}

export type TemperatureCurves = ReturnType<typeof temperatureCurves>;
