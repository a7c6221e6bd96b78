import type { Outlook } from "../../../predict/outlook.js";
import type { LiveCompound, PageState } from "../page-state.js";
import type { PredictionBatch, PredictionPool } from "./prediction-pool.js";
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

/** Printing cannot wait: bands that were not looked at before are computed on a coarser grid. */
const isPrinting = (withDraws: boolean) =>
  withDraws && document.documentElement.dataset.printing !== undefined;

/** Behind the map and the verdicts. */
const rank = 4;

/** Some 10 ms of work: what a newer change may have to wait for. */
const valuesAtATime = 12;

/**
 * Curves are computed when first looked at, and again after the contact was changed. `prepare` lets the pool
 * do it; `line` and `band` do at once what is missing, for printing cannot wait.
 */
export function temperatureCurves(state: PageState, pool: PredictionPool) {
  const cache = new Map<string, TemperatureCurve>();
  const coming = new Map<string, Promise<boolean>>();
  let batch: PredictionBatch = pool.batch();
  let contact = "";

  const contactOf = ({ base, speed_m_s, pressure_Pa, texture }: Setting) =>
    JSON.stringify([base.impact, speed_m_s, pressure_Pa, texture?.name]);
  const keyOf = (compound: LiveCompound, setting: Setting, withDraws: boolean) =>
    JSON.stringify([compound.index, withDraws, contactOf(setting)]);
  const temperatures = (withDraws: boolean) =>
    gridOf(state, state.compounds.length > manyCompounds || isPrinting(withDraws) ? 5 : withDraws ? 3 : 2);

  const curve = (compound: LiveCompound, setting: Setting, withDraws: boolean): TemperatureCurve => {
    const key = keyOf(compound, setting, withDraws);
    const coarse = isPrinting(withDraws);
    const known = cache.get(key) ?? (coarse ? cache.get(`${key} coarse`) : undefined);
    if (known !== undefined) return known;
    const temperature_C = temperatures(withDraws);
    const { predictionSettings } = state.data;
    const outlooks = temperature_C.map(
      (T) =>
        predictOne(predictionSettings, compound, useOf(setting, T), { withDraws, withVerdict: false })
          .outlook,
    );
    const made = { temperature_C, outlooks };
    cache.set(coarse ? `${key} coarse` : key, made);
    return made;
  };

  const ask = async (compound: LiveCompound, setting: Setting, withDraws: boolean): Promise<boolean> => {
    const temperature_C = temperatures(withDraws);
    const atATime = withDraws ? 1 : valuesAtATime;
    const pieces = Array.from({ length: Math.ceil(temperature_C.length / atATime) }, (_, k) =>
      temperature_C.slice(k * atATime, (k + 1) * atATime).map((T) => useOf(setting, T)),
    );
    const answers = await Promise.all(
      pieces.map((uses) => batch.ask(compound.index, uses, { withDraws, withVerdict: false }, rank)),
    );
    if (answers.some((answer) => answer === null)) return false;
    const outlooks = answers.flatMap((answer) => answer!.map(({ outlook }) => outlook));
    cache.set(keyOf(compound, setting, withDraws), { temperature_C, outlooks });
    return true;
  };

  return {
    line: (compound: LiveCompound, setting: Setting) => curve(compound, setting, false),
    band: (compound: LiveCompound, setting: Setting) => curve(compound, setting, true),
    /** True when the curves are there; false where another contact was asked for in the meantime. */
    async prepare(compounds: LiveCompound[], setting: Setting, withBand: boolean): Promise<boolean> {
      if (contactOf(setting) !== contact) {
        batch.callOff();
        coming.clear();
        batch = pool.batch();
        contact = contactOf(setting);
      }
      const asked = compounds.flatMap((compound) => {
        if (compound.live === null) return [];
        return (withBand ? [false, true] : [false]).flatMap((withDraws) => {
          const key = keyOf(compound, setting, withDraws);
          if (cache.has(key)) return [];
          const answer = coming.get(key) ?? ask(compound, setting, withDraws);
          coming.set(key, answer);
          return [answer];
        });
      });
      return (await Promise.all(asked)).every(Boolean);
    },
  };
}

export type TemperatureCurves = ReturnType<typeof temperatureCurves>;
