import { ln } from "../../../numeric/elementary/logarithm.js";
import { square } from "../../../numeric/elementary/power.js";
import { symmetricInverse } from "../../../numeric/symmetric-inverse.js";
import type { RowSource } from "../../glass/ramp-steps.js";
import type { IsothermSet } from "../isotherms/isotherms.js";
import { withRunsDiffering } from "../law/between-runs.js";
import { coldestIsothermCovariance } from "../law/coldest-isotherm.js";
import { errorVariance, jointLaw } from "../law/joint-law.js";
import { fitBorderedWlf } from "../law/law-border.js";
import { fitLaw, type LawFit, lawShift, runOffset_K } from "../law/law-fit.js";
import type { MeasuredShifts } from "../law/measured-shifts.js";
import type { SuperpositionSettings } from "../superposition-settings.js";
import { startingShifts } from "./area-shift.js";
import { ReducedFit } from "./reduced-fit.js";
import { fitShifts, freeShiftModel, lastFall, type ShiftFit, type ShiftModel } from "./shift-fit.js";

/** Everything that the joint fit of one set of isotherms says, at the reference isotherm's temperature. */
export interface SuperpositionFit {
  /** The set as fitted (moduli already carry a known vertical factor). */
  set: IsothermSet;
  reference: number;
  reduced: ReducedFit;
  /** Each isotherm with a shift of its own. */
  shifts: MeasuredShifts;
  free: ShiftFit;
  wlf: LawFit | null;
  arrhenius: LawFit | null;
  chosen: LawFit;
  /** Vertical shift of each isotherm, fitted: between runs, or of every isotherm. */
  log10bT: Float64Array;
  /** Relative noise of the storage and the loss modulus. */
  noise: { storage: number; loss: number };
  /** Weight of a loss residual against a storage residual. */
  lossTrust: number;
}

const modesPerDecade = 5;
/** Prior standard deviation of log10 bT where it is fitted, and of a replicate's modulus scale. */
const verticalDeviation = { isotherm: 0.1, run: 0.3 };

/** The isotherm nearest the middle temperature of those at or above `above_C`. */
export function middleIsotherm(set: IsothermSet, above_C: number): number {
  const above = set.isotherms.filter((isotherm) => isotherm.temperature_C >= above_C);
  const pool = above.length > 0 ? above : set.isotherms;
  const temperatures = pool.map((isotherm) => isotherm.temperature_C);
  const middle = 0.5 * (Math.min(...temperatures) + Math.max(...temperatures));
  let best = 0;
  for (let k = 0; k < set.isotherms.length; k++) {
    const distance = Math.abs(set.isotherms[k].temperature_C - middle);
    if (distance < Math.abs(set.isotherms[best].temperature_C - middle) - 1e-9) best = k;
  }
  return best;
}

/**
 * Closed-form shifts, then all shifts with one spectrum, then the laws on the shifts, then the law with the spectrum.
 * @param near a fit of much the same rows, from whose shifts to begin instead
 * @param mostScatter_decades scatter about the law from which on a ramp's fit may stop short of its end
 */
export function fitSuperposition(
  set: IsothermSet,
  reference: number,
  settings: Pick<SuperpositionSettings, "verticalShift" | "law">,
  near: SuperpositionFit | null = null,
  mostScatter_decades = Number.POSITIVE_INFINITY,
): SuperpositionFit | null {
  const count = set.isotherms.length;
  const known = near && startFrom(near, set, reference);
  const start = known ?? closedFormStart(set, reference);
  const first = start.log10aT;
  const { verticalOf, verticalCount, deviation } = verticalParameters(set, reference, settings);
  const model = freeShiftModel(count, reference, verticalOf, verticalCount, deviation);
  const parameters = new Float64Array(model.size);
  for (let k = 0; k < count; k++) if (k !== reference) parameters[k < reference ? k : k - 1] = first[k];

  const reference_C = set.isotherms[reference].temperature_C;
  const drifting = isDrifting(set);
  const roundsOfDrift = drifting ? (known === null ? 2 : 1) : 0;
  const fallOf = (round: number) => (round < roundsOfDrift ? lastFall.rough : lastFall.exact);
  const begun = new ReducedFit(set, start.offset, first, modesPerDecade, start.trust, start.before);
  let current = fitFree(begun, model, parameters, fallOf(0));
  for (let round = 0; round < 4; round++) {
    // Again until the loss modulus is weighted by its own noise and the points of a moving temperature stand
    // where the slopes, then the law, just found put them.
    const wanted = Math.min(Math.max(current.noise.storage / current.noise.loss, 0.1), 4);
    const { reduced, free } = current;
    const settled = Math.abs(ln(wanted / reduced.lossTrust)) < 0.3;
    if (settled && round >= roundsOfDrift) break;
    let { offset } = reduced;
    if (drifting) {
      const measured = measuredShifts(set, reference, reduced, free, verticalCount);
      const law =
        round === 0 && known === null ? null : chooseLaw(set, measured, reference_C, settings.law, true);
      if (law !== null && law.chosen.scatter_decades > mostScatter_decades) break;
      offset = law === null ? pointOffsets(set, slopesOf(set, free.log10aT)) : lawOffsets(set, law.chosen);
    }
    const trust = settled ? reduced.lossTrust : wanted;
    const next = new ReducedFit(set, offset, free.log10aT, modesPerDecade, trust, reduced);
    current = fitFree(next, model, free.parameters, fallOf(round + 1));
  }
  return withLaw(set, reference, settings, refineGrid(model, current));
}

/** The laws on the shifts, then the law with the spectrum. */
function withLaw(
  set: IsothermSet,
  reference: number,
  settings: Pick<SuperpositionSettings, "verticalShift" | "law">,
  { reduced, free, noise }: FreeFit,
): SuperpositionFit | null {
  const { verticalOf, verticalCount, deviation } = verticalParameters(set, reference, settings);
  const reference_C = set.isotherms[reference].temperature_C;
  const shifts = measuredShifts(set, reference, reduced, free, verticalCount);
  const laws = chooseLaw(set, shifts, reference_C, settings.law, false);
  if (laws === null) return null;
  const joint = jointLaw(set, reduced, free, laws.chosen, verticalOf, verticalCount, deviation);
  const covariance = set.runs.length > 1 ? withRunsDiffering(shifts, joint.law) : joint.law.covariance;
  const ofColdest = coldestIsothermCovariance(shifts, laws.chosen);
  const chosen = {
    ...joint.law,
    covariance: covariance.map((v, i) => v + (joint.law.borderCovariance?.[i] ?? 0) + (ofColdest?.[i] ?? 0)),
  };
  return {
    set,
    reference,
    reduced,
    shifts,
    free,
    wlf: chosen.shape.kind === "wlf" ? chosen : laws.wlf,
    arrhenius: chosen.shape.kind === "arrhenius" ? chosen : laws.arrhenius,
    chosen,
    log10bT: settings.verticalShift === "fitted" ? joint.log10bT : aboutTheMeanOfRuns(set, joint.log10bT),
    noise,
    lossTrust: reduced.lossTrust,
  };
}

/** Where a fit begins: shifts against the reference, what each point's own temperature adds, the weight of the loss modulus, modes. */
interface StartingPoint {
  log10aT: Float64Array;
  offset: Float64Array;
  trust: number;
  before: ReducedFit | null;
}

function closedFormStart(set: IsothermSet, reference: number): StartingPoint {
  const { log10aT, slope_per_K } = startingShifts(set);
  return {
    log10aT: Float64Array.from(log10aT, (a) => a - log10aT[reference]),
    offset: pointOffsets(set, slope_per_K),
    trust: 1,
    before: null,
  };
}

/** The shifts that an earlier fit found for the same isotherms; null where it had not all of them. */
function startFrom(near: SuperpositionFit, set: IsothermSet, reference: number): StartingPoint | null {
  const isothermOf = new Map<RowSource, number>();
  for (const [k, { first, end }] of near.set.isotherms.entries()) {
    for (let i = first; i < end; i++) isothermOf.set(near.set.source[i], k);
  }
  const log10aT = Float64Array.from(set.isotherms, ({ first, end }) => {
    const k = set.source.slice(first, end).map((row) => isothermOf.get(row));
    const found = k.find((one) => one !== undefined);
    return found === undefined ? Number.NaN : near.free.log10aT[found];
  });
  if (!log10aT.every(Number.isFinite)) return null;
  return {
    log10aT: log10aT.map((a) => a - log10aT[reference]),
    offset: lawOffsets(set, near.chosen),
    trust: near.lossTrust,
    before: near.reduced,
  };
}

/** Modulus scales of the runs, measured from their mean instead of from the reference's run. */
function aboutTheMeanOfRuns(set: IsothermSet, log10bT: Float64Array): Float64Array {
  const ofRun = set.runs.map(
    (_, run) => log10bT[set.isotherms.findIndex((isotherm) => isotherm.run === run)],
  );
  const mean = ofRun.reduce((a, b) => a + b, 0) / ofRun.length;
  return log10bT.map((b) => b - mean);
}

/**
 * The fit of the same isotherms whose moduli have been moved by known factors: shifts, spectrum and law follow, as exactly as
 * telling the two apart needs; what a point's own temperature adds, the weights and the relaxation times stay.
 */
export function followingFit(
  fit: SuperpositionFit,
  set: IsothermSet,
  settings: Pick<SuperpositionSettings, "verticalShift" | "law">,
): SuperpositionFit | null {
  const { reference, free, lossTrust, reduced: before } = fit;
  const { verticalOf, verticalCount, deviation } = verticalParameters(set, reference, settings);
  const model = freeShiftModel(set.isotherms.length, reference, verticalOf, verticalCount, deviation);
  const reduced = new ReducedFit(set, before.offset, free.log10aT, modesPerDecade, lossTrust, before);
  reduced.useTimes(before.times_s);
  return withLaw(set, reference, settings, fitFree(reduced, model, free.parameters, lastFall.rough));
}

interface FreeFit {
  reduced: ReducedFit;
  free: ShiftFit;
  noise: { storage: number; loss: number };
}

function fitFree(
  reduced: ReducedFit,
  model: ShiftModel,
  parameters: Float64Array,
  leastFall: number,
): FreeFit {
  let free = fitShifts(reduced, model, parameters, leastFall);
  // Closed-form shifts along a plateau can be far off; then the window, and with it the grid, must follow.
  for (let round = 0; round < 6 && !reduced.covers(free.log10aT); round++) {
    reduced.layGrid(free.log10aT);
    free = fitShifts(reduced, model, free.parameters, leastFall);
  }
  return { reduced, free, noise: noiseOf(reduced, free) };
}

/** A sharp mode between two grid times cannot be drawn: finer grids, as long as they fit clearly better. */
function refineGrid(model: ShiftModel, { reduced, free: coarse }: FreeFit): FreeFit {
  let free = coarse;
  for (let round = 0; round < 3 && free.variance > 1e-10; round++) {
    const times_s = reduced.times_s;
    reduced.refineGrid();
    const { rss } = reduced.evaluate(free.log10aT, free.log10bT);
    if (rss > 0.8 * free.rss) {
      reduced.useTimes(times_s);
      break;
    }
    free = fitShifts(reduced, model, free.parameters);
  }
  return { reduced, free, noise: noiseOf(reduced, free) };
}

/** Whether the temperature moves along an isotherm, as along the steps of a ramp. */
export const isDrifting = ({ isotherms, temperature_C: own_C }: IsothermSet): boolean =>
  isotherms.some(({ first, end, temperature_C }) =>
    own_C.subarray(first, end).some((point_C) => Math.abs(point_C - temperature_C) > 0.02),
  );

/** What the law adds to an isotherm's shift for a point's own temperature. */
function lawOffsets(set: IsothermSet, { shape, parameters }: LawFit): Float64Array {
  const offset = new Float64Array(set.temperature_C.length);
  for (const { first, end, temperature_C, run } of set.isotherms) {
    const warmer_K = runOffset_K(shape, parameters, run);
    const home = lawShift(shape, parameters, temperature_C - warmer_K);
    for (let i = first; i < end; i++) {
      offset[i] = lawShift(shape, parameters, set.temperature_C[i] - warmer_K) - home;
    }
  }
  return offset;
}

function verticalParameters(
  set: IsothermSet,
  reference: number,
  settings: Pick<SuperpositionSettings, "verticalShift">,
): { verticalOf: Int32Array; verticalCount: number; deviation: number } {
  const count = set.isotherms.length;
  const verticalOf = new Int32Array(count).fill(-1);
  if (settings.verticalShift === "fitted") {
    for (let k = 0; k < count; k++) if (k !== reference) verticalOf[k] = k < reference ? k : k - 1;
    return { verticalOf, verticalCount: count - 1, deviation: verticalDeviation.isotherm };
  }
  // Replicates are other specimens: each has a modulus scale of its own, measured from the reference's run.
  const home = set.isotherms[reference].run;
  for (let k = 0; k < count; k++) {
    const { run } = set.isotherms[k];
    if (run !== home) verticalOf[k] = run < home ? run : run - 1;
  }
  return { verticalOf, verticalCount: set.runs.length - 1, deviation: verticalDeviation.run };
}

/** What a point's own temperature adds to its isotherm's shift. */
function pointOffsets(set: IsothermSet, slope_per_K: ArrayLike<number>): Float64Array {
  const offset = new Float64Array(set.temperature_C.length);
  for (let k = 0; k < set.isotherms.length; k++) {
    const { first, end, temperature_C } = set.isotherms[k];
    for (let i = first; i < end; i++) offset[i] = slope_per_K[k] * (set.temperature_C[i] - temperature_C);
  }
  return offset;
}

function slopesOf(set: IsothermSet, log10aT: Float64Array): Float64Array {
  const { isotherms } = set;
  return Float64Array.from(isotherms, ({ run }, k) => {
    const left = k > 0 && isotherms[k - 1].run === run ? k - 1 : k;
    const right = k + 1 < isotherms.length && isotherms[k + 1].run === run ? k + 1 : k;
    const step_K = isotherms[right].temperature_C - isotherms[left].temperature_C;
    return step_K > 0 ? Math.min(0, (log10aT[right] - log10aT[left]) / step_K) : 0;
  });
}

function noiseOf(reduced: ReducedFit, free: ShiftFit): { storage: number; loss: number } {
  const n = reduced.set.frequency_Hz.length;
  const spent = Math.sqrt(reduced.count / free.degreesOfFreedom);
  const rms = (from: number) => {
    let sum = 0;
    for (let i = from; i < from + n; i++) sum += square(free.state.residuals[i]);
    return Math.max(1e-9, spent * Math.sqrt(sum / n));
  };
  return { storage: rms(0), loss: rms(n) / reduced.lossTrust };
}

function measuredShifts(
  set: IsothermSet,
  reference: number,
  reduced: ReducedFit,
  free: ShiftFit,
  verticalCount: number,
): MeasuredShifts {
  const count = set.isotherms.length;
  const size = count - 1 + verticalCount;
  const information = free.information.slice();
  // A shift that the data leave open is known to some three decades: it lies between its neighbours.
  for (let j = 0; j < size; j++) information[j * size + j] += free.variance / 9;
  const inverse = symmetricInverse(information, size);
  const covariance = new Float64Array(count * count);
  const place = (k: number) => (k < reference ? k : k - 1);
  for (let a = 0; a < count; a++) {
    for (let b = 0; b < count; b++) {
      if (a === reference || b === reference) continue;
      covariance[a * count + b] =
        inverse === null ? (a === b ? 9 : 0) : errorVariance(free) * inverse[place(a) * size + place(b)];
    }
  }
  return {
    temperature_C: Float64Array.from(set.isotherms, (isotherm) => isotherm.temperature_C),
    run: Int32Array.from(set.isotherms, (isotherm) => isotherm.run),
    runCount: set.runs.length,
    log10aT: free.log10aT,
    reference,
    covariance,
    freeDeviance: reduced.count * ln(2 * Math.PI * free.variance) + free.degreesOfFreedom,
    moduli: reduced.count,
    otherParameters: free.state.modes + verticalCount + 1,
  };
}

/** M′ of a glass in tension, the order of 1 GPa; a third of it in shear (common practice). */
const glassModulus_Pa = 5e8;
/** A glass's tan δ: a phase angle of some degrees. */
const glassLossFactor = 0.12;

/** Isotherms that leave the WLF curve below a border are a glass only where their moduli say so. */
function isGlassBelow(set: IsothermSet, border_C: number): boolean {
  const least_Pa = set.deformation === "shear" ? glassModulus_Pa / 3 : glassModulus_Pa;
  return set.isotherms.some(
    ({ first, end, temperature_C }) =>
      temperature_C < border_C &&
      set.storageModulus_Pa
        .subarray(first, end)
        .some(
          (storage_Pa, i) =>
            storage_Pa >= least_Pa || set.lossModulus_Pa[first + i] < glassLossFactor * storage_Pa,
        ),
  );
}

function chooseLaw(
  set: IsothermSet,
  shifts: MeasuredShifts,
  reference_C: number,
  wanted: SuperpositionSettings["law"],
  isRough: boolean,
): { wlf: LawFit | null; arrhenius: LawFit | null; chosen: LawFit } | null {
  const arrhenius = fitLaw(shifts, { kind: "arrhenius", reference_C, border_C: null });
  const plain = fitLaw(shifts, { kind: "wlf", reference_C, border_C: null });
  // A border stands at the reference at most.
  const found = isGlassBelow(set, reference_C) ? fitBorderedWlf(shifts, reference_C, isRough) : null;
  const bordered =
    found !== null && isGlassBelow(set, found.shape.border_C ?? Number.NEGATIVE_INFINITY) ? found : null;
  const wlf = bordered !== null && (plain === null || bordered.aicc < plain.aicc) ? bordered : plain;
  const candidates = [wlf, arrhenius].filter((law): law is LawFit => law !== null);
  if (candidates.length === 0) return null;
  const asked = candidates.find((law) => law.shape.kind === wanted);
  const chosen = asked ?? candidates.reduce((a, b) => (b.aicc < a.aicc ? b : a));
  return { wlf, arrhenius, chosen };
}
