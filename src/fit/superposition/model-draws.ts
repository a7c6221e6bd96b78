import { cholesky } from "../../numeric/cholesky.js";
import { exp10 } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { matchedDeviates } from "../../numeric/statistics/deviates.js";
import { meanOf } from "../../numeric/statistics/mean.js";
import type { Random } from "../../numeric/statistics/random.js";
import type { RelaxationModel } from "../spectrum/relaxation-model.js";
import { addErrors, seenErrors } from "../spectrum/seen-errors.js";
import { drawnSpectrum, type Spectrum, solveSpectrum, undersmoothed } from "../spectrum/spectrum.js";
import { lawHolds } from "./law/joint-law.js";
import { lawSlope, runOffset_K } from "./law/law-fit.js";
import { range } from "./shift/reduced-points.js";
import type { SuperpositionFit } from "./shift/superposition-fit.js";
import type { SuperposedModel } from "./superposed-model.js";

const widestWindow_decades = 60;

/**
 * Equally likely alternatives to a fitted model. Each takes the law's constants together from their
 * covariance, the isotherms' scatter about the law and the runs' scatter about their mean from theirs, and
 * its spectrum from the data with errors as large as the residuals added once more, along the directions that a spectrum
 * sees (`seenErrors`), solved at those constants (a parametric bootstrap; Efron and Tibshirani, An Introduction to the
 * Bootstrap, 1993). Added to the data, not to the fitted curve: a curve that is smooth already would be smoothed a
 * second time, and the draws would lie about that one. The deviates have their exact moments (`matchedDeviates`).
 * @param maker brings points and makes models for any law
 * @param spectrum of the fit itself, at the reference isotherm
 */
export function drawModels(
  maker: SuperposedModel,
  spectrum: Spectrum,
  count: number,
  reference_C: number,
  random: Random,
): RelaxationModel[] {
  if (count === 0) return [];
  const { set, chosen, lossTrust } = maker.fit;
  const size = chosen.parameters.length;
  const root = chosen.covariance.slice();
  const correlated = root.every(Number.isFinite) && cholesky(root, size);
  const reduced = maker.points(chosen);
  const residuals = centredResiduals(
    spectrum,
    reduced.frequency_Hz.length,
    set.frequency_Hz.length,
    lossTrust,
  );
  const spread = runSpread(maker.fit);
  const options = drawnSpectrum(spectrum, undersmoothed);
  const seen = seenErrors(maker.weighted(reduced), options.modesPerDecade, {
    storage: deviationOf(residuals.storage),
    loss: deviationOf(residuals.loss),
  });
  const isotherms = set.isotherms.length;
  const deviates = matchedDeviates(count, size + 2 + seen.length + isotherms, random);
  const draws: RelaxationModel[] = [];
  let start: Spectrum | null = null;
  for (let attempt = 0; draws.length < count && attempt < 4 * count; attempt++) {
    const parameters = chosen.parameters.slice();
    // The matched deviates serve as long as every law holds; one that takes the place of a law that does not has its own.
    const deviate = (k: number) => (attempt < count ? deviates[k][attempt] : random.normal());
    if (correlated) {
      const z = Array.from({ length: size }, (_, k) => deviate(k));
      for (let a = 0; a < size; a++) for (let b = 0; b <= a; b++) parameters[a] += root[a * size + b] * z[b];
    }
    if (!lawHolds(chosen.shape, parameters, set)) continue;
    const law = { ...chosen, parameters };
    const warmer_K = spread.temperature_K * deviate(size);
    const ofIsotherm = size + 2 + seen.length;
    const extra = set.isotherms.map(
      ({ temperature_C }, k) =>
        chosen.scatter_decades * deviate(ofIsotherm + k) -
        warmer_K * lawSlope(chosen.shape, parameters, temperature_C),
    );
    const points = maker.points(law, extra);
    const window = range(points.frequency_Hz);
    // Constants so uncertain that a draw runs away towards T∞ say nothing; another is taken.
    if (!(log10(window.high / window.low) < widestWindow_decades)) continue;
    const scale = exp10(spread.vertical * deviate(size + 1));
    addErrors(points, seen, (k) => deviate(size + 2 + k), scale);
    const solved = solveSpectrum(maker.weighted(points), { ...options, start });
    start = solved;
    const model = maker.build(law, solved, points, reference_C);
    if (model !== null) draws.push(model);
  }
  return draws;
}

/**
 * Relative residuals of the points that superpose (the first `kept` of n) with mean zero, widened by the
 * freedom that the spectrum took.
 */
function centredResiduals(
  spectrum: Spectrum,
  n: number,
  kept: number,
  lossTrust: number,
): { storage: Float64Array; loss: Float64Array } {
  const count = 2 * n;
  const spent = Number.isFinite(spectrum.effectiveParameters) ? spectrum.effectiveParameters : 0;
  const widen = Math.sqrt(count / Math.max(1, count - spent));
  const part = (from: number, trust: number) => {
    const values = spectrum.residuals.slice(from, from + kept);
    const mean = values.reduce((a, b) => a + b, 0) / kept;
    return values.map((value) => ((value - mean) * widen) / trust);
  };
  return { storage: part(0, 1), loss: part(n, lossTrust) };
}

const deviationOf = (pool: Float64Array) => Math.sqrt(pool.reduce((sum, r) => sum + r * r, 0) / pool.length);

/** Standard error of the mean of the runs in temperature, and in vertical shift in decades; zero for one run. */
function runSpread(fit: SuperpositionFit): { temperature_K: number; vertical: number } {
  const runs = fit.set.runs.length;
  if (runs < 2) return { temperature_K: 0, vertical: 0 };
  const { shape, parameters } = fit.chosen;
  const temperature_K = Array.from({ length: runs }, (_, run) => runOffset_K(shape, parameters, run));
  const vertical = Array.from({ length: runs }, (_, run) => {
    const of = fit.set.isotherms.flatMap((isotherm, k) => (isotherm.run === run ? [fit.log10bT[k]] : []));
    return of.reduce((a, b) => a + b, 0) / of.length;
  });
  return {
    temperature_K: meanOf(temperature_K).standardError,
    vertical: meanOf(vertical).standardError,
  };
}
