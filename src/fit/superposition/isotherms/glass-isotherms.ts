import { ln } from "../../../numeric/elementary/logarithm.js";
import type { GlassTransition } from "../../material.js";
import { measuredLossPeak } from "../describe-superposition.js";
import { peakAboveGlassTemperature_K } from "../law/conventional-glass-temperature.js";
import { filterIsotherms, type IsothermSet } from "./isotherms.js";

/**
 * How far below the static Tg isotherms still take part in the shift law, tried in turn. Deeper in the glass
 * nothing follows the WLF curve: what moves there is the secondary relaxation with its own activation energy.
 * The first margin leaves the border itself, and an error of the Tg, to the fit; the narrower ones are for
 * compounds whose secondary relaxation reaches up to it.
 */
export const glassMargins_K = [8, 0, -6];

export interface SplitIsotherms {
  /** Those that carry the shift law. */
  above: IsothermSet;
  /** Those in the glass, their runs numbered as in `above`; null where there are none. */
  glass: IsothermSet | null;
  border_C: number | null;
}

/** Parts the isotherms at the glass, where its temperature is known and three temperatures or more lie above. */
export function splitAtGlass(
  set: IsothermSet,
  glassTransitions: GlassTransition[],
  margin_K: number,
): SplitIsotherms {
  const peak = measuredLossPeak(glassTransitions, set.deformation) ?? lossPeakAmong(set);
  if (peak === null) return { above: set, glass: null, border_C: null };
  const border_C = peak.temperature_C - peakAboveGlassTemperature_K(peak.frequency_Hz) - margin_K;
  const above = filterIsotherms(set, ({ temperature_C }) => temperature_C >= border_C);
  const temperatures = above.isotherms.map(({ temperature_C }) => temperature_C);
  const isEnough = temperatures.length >= 3 && Math.max(...temperatures) - Math.min(...temperatures) > 2;
  if (above.isotherms.length === set.isotherms.length || !isEnough)
    return { above: set, glass: null, border_C: null };
  // A run with nothing above the border has no place among the others.
  const below = filterIsotherms(
    set,
    ({ temperature_C, run }) => temperature_C < border_C && above.runs.includes(set.runs[run]),
  );
  if (below.isotherms.length === 0) return { above, glass: null, border_C };
  const glass: IsothermSet = {
    ...below,
    runs: above.runs,
    isotherms: below.isotherms.map((isotherm) => ({
      ...isotherm,
      run: above.runs.indexOf(below.runs[isotherm.run]),
    })),
  };
  return { above, glass, border_C };
}

/** The M″ peak against temperature at the lowest frequency that all isotherms have, where it is not at an end. */
function lossPeakAmong(set: IsothermSet): { temperature_C: number; frequency_Hz: number } | null {
  let frequency_Hz = 0;
  for (const { first } of set.isotherms) frequency_Hz = Math.max(frequency_Hz, set.frequency_Hz[first]);
  const points = set.isotherms
    .map(({ first, end, temperature_C }) => {
      let nearest = first;
      for (let i = first; i < end; i++) {
        const distance = Math.abs(ln(set.frequency_Hz[i] / frequency_Hz));
        if (distance < Math.abs(ln(set.frequency_Hz[nearest] / frequency_Hz))) nearest = i;
      }
      return { temperature_C, lossModulus_Pa: set.lossModulus_Pa[nearest] };
    })
    .filter(({ lossModulus_Pa }) => lossModulus_Pa > 0)
    .sort((a, b) => a.temperature_C - b.temperature_C);
  const top = points.reduce(
    (best, point, k) => (point.lossModulus_Pa > points[best].lossModulus_Pa ? k : best),
    0,
  );
  if (top < 1 || top > points.length - 2) return null;
  const ends = Math.max(points[0].lossModulus_Pa, points[points.length - 1].lossModulus_Pa);
  return points[top].lossModulus_Pa > 1.05 * ends
    ? { temperature_C: points[top].temperature_C, frequency_Hz }
    : null;
}
