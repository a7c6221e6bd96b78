import { cos } from "../../numeric/elementary/angle.js";
import { exp10 } from "../../numeric/elementary/exponential.js";
import { power, square } from "../../numeric/elementary/power.js";
import { fourierTransform } from "../../numeric/fourier-transform.js";
import type { Notice, Outcome } from "../../words/notice.js";
import { predictionNotice } from "../notice-codes.js";
import type { Texture } from "../use.js";
import type { LineSpectrum } from "./isotropic-spectrum.js";
import { isotropicSpectrum } from "./isotropic-spectrum.js";
import type { HeightProfile } from "./profile.js";
import { evenProfile } from "./profile.js";

const binsPerDecade = 8;
/** The window smears neighbouring wave numbers over about this many steps of 2π/L. */
const lowestMode = 2;
const fewestModesPerBin = 4;
/** A profile put on even steps loses its finest waves: only this share of the wave numbers is kept. */
const keptAfterResampling = 0.5;
/** Bins are formed on C·q^this, which is nearly level for real textures, so that steepness does not bias them. */
const whitening = 2.6;

/**
 * A texture from a measured height profile: heights less their least-squares line, a Hann window, the
 * one-dimensional power spectrum in logarithmic bins, and from it the isotropic two-dimensional one.
 *
 * @returns the texture with `measured` filled, its rms height and Hurst exponent, or what is wrong with the
 *   profile. The cut-off is left to the slope (`q1_per_m` null).
 * @example textureFromProfile({ name: "short", source: "invented", position_m: [0, 1e-3, 2e-3], height_m: [0, 1e-4, 0] }).ok // false
 */
export function textureFromProfile(profile: HeightProfile): Outcome<{ texture: Texture; notices: Notice[] }> {
  const even = evenProfile(profile);
  if (!even.ok) return even;
  const { height_m, step_m, resampled, rmsHeight_m } = even.value;
  const notices: Notice[] = [];
  if (resampled) {
    const message = `The profile "${profile.name}" has uneven steps; it was put on even ones of ${(1e6 * step_m).toPrecision(3)} µm by straight lines, and its finest wave numbers were left out.`;
    notices.push(predictionNotice("predict.texture-profile-resampled", message));
  }
  const line = binnedLineSpectrum(height_m, step_m, resampled ? keptAfterResampling : 1);
  if (line.wavenumber_per_m.length < 4) {
    return {
      ok: false,
      problem: {
        code: "predict.texture-profile-unusable",
        message: `The profile "${profile.name}" is too short for a spectrum: ${height_m.length} points give ${line.wavenumber_per_m.length} bins of wave numbers, four or more are needed. Measure a longer line.`,
      },
    };
  }
  const { spectrum_m4, hurstExponent } = isotropicSpectrum(line);
  return {
    ok: true,
    value: {
      texture: {
        name: profile.name,
        source: profile.source,
        rmsHeight_m,
        hurstExponent,
        q0_per_m: line.wavenumber_per_m[0],
        q1_per_m: null,
        measured: { wavenumber_per_m: line.wavenumber_per_m, spectrum_m4 },
      },
      notices,
    },
  };
}

/** C1(q) = |∫ w h e^{−iqx} dx|² / (2π L ⟨w²⟩), w the Hann window, averaged in logarithmic bins. */
function binnedLineSpectrum(height_m: Float64Array, step_m: number, keptShare: number): LineSpectrum {
  const n = height_m.length;
  let padded = 1;
  while (padded < n) padded *= 2;
  const windowed = new Float64Array(padded);
  let windowSquare = 0;
  for (let i = 0; i < n; i++) {
    const window = 0.5 * (1 - cos((2 * Math.PI * (i + 0.5)) / n));
    windowSquare += (window * window) / n;
    windowed[i] = window * height_m[i];
  }
  const transform = fourierTransform(windowed);
  const length_m = n * step_m;
  const scale = square(step_m) / (2 * Math.PI * length_m * windowSquare);
  const modeStep = (2 * Math.PI) / length_m;
  const highest = (keptShare * Math.PI) / step_m;

  const result: LineSpectrum = { wavenumber_per_m: [], spectrum_m3: [], modes: [] };
  let from = lowestMode * modeStep;
  while (from < highest) {
    const to = Math.max(from * exp10(1 / binsPerDecade), from + fewestModesPerBin * modeStep);
    if (to > highest) break;
    const bin = averageOver(transform, padded, step_m, from, to);
    if (bin !== null) {
      result.wavenumber_per_m.push(bin.q);
      result.spectrum_m3.push(bin.level * scale);
      result.modes.push((to - from) / modeStep);
    }
    from = to;
  }
  return result;
}

function averageOver(
  transform: { re: ArrayLike<number>; im: ArrayLike<number> },
  padded: number,
  step_m: number,
  from: number,
  to: number,
): { q: number; level: number } | null {
  const spacing = (2 * Math.PI) / (padded * step_m);
  let level = 0;
  let count = 0;
  for (let k = Math.ceil(from / spacing); k * spacing < to && k <= padded / 2; k++) {
    level += (square(transform.re[k]) + square(transform.im[k])) * power(k * spacing, whitening);
    count++;
  }
  if (count === 0 || !(level > 0)) return null;
  const q = Math.sqrt(from * to);
  return { q, level: level / count / power(q, whitening) };
}
