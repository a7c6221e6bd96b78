import { exp10 } from "../../numeric/elementary/exponential.js";
import type { ModulusPoints } from "../spectrum/maxwell-kernel.js";
import type { RelaxationModel, VerticalShift } from "../spectrum/relaxation-model.js";
import { changeReference, log10ShiftFactor, type ShiftLaw } from "../spectrum/shift-law.js";
import type { Spectrum } from "../spectrum/spectrum.js";
import { glassTemperatureOf, lawOf } from "./describe-superposition.js";
import type { IsothermSet } from "./isotherms/isotherms.js";
import { type LossPeak, tangentBorder_C } from "./law/conventional-glass-temperature.js";
import { type LawFit, runOffset_K } from "./law/law-fit.js";
import { type ReducedPoints, range, reducePoints, referModel, weightPoints } from "./shift/reduced-points.js";
import type { SuperpositionFit } from "./shift/superposition-fit.js";

/**
 * Weights of the moduli in the glass against those that superpose. There the law is carried on as its tangent,
 * which the secondary relaxation does not follow, so M′ and M″ cannot both be met: M′ goes before, and neither
 * may bend the spectrum elsewhere.
 */
const glassTrust = { storage: 0.3, loss: 0.1 };
/**
 * A tan δ is told no better than this, the phase of an instrument (common practice). Relative to next to nothing, an M″ that
 * the tangent puts half a decade beside its place would take the foot of the spectrum from the isotherms that do superpose.
 * Ten times as much left the glass of sharp spectra open: of 30 made-up ramps 15 of 150 verdicts were then withheld.
 */
const leastTanDelta = 0.001;

/** Makes models from a fit: the same for the fit's own law and for every draw. */
export class SuperposedModel {
  constructor(
    readonly fit: SuperpositionFit,
    /** Isotherms in the glass, moduli scaled as those of the fit; null where there are none. */
    private readonly glass: IsothermSet | null,
    private readonly vertical: VerticalShift,
    private readonly peak: LossPeak | null,
  ) {}

  /** Tg by a law; null without a loss peak or for an Arrhenius law. */
  glassTemperature_C(law: LawFit): number | null {
    return glassTemperatureOf(lawOf(law), this.peak);
  }

  /** The law at the reference isotherm, with the border of its tangent. */
  law(law: LawFit): ShiftLaw {
    const plain = lawOf(law);
    if (plain.kind === "arrhenius") return plain;
    const coldest_C = range(this.fit.set.temperature_C).low;
    const tangentBelow_C =
      plain.tangentBelow_C ?? tangentBorder_C(plain, this.glassTemperature_C(law), coldest_C);
    return { ...plain, tangentBelow_C };
  }

  /**
   * All points at the reference isotherm's temperature: first those that superpose, in the order of the set,
   * then those in the glass.
   * @param extra added to log10 aT of each isotherm that superposes
   */
  points(law: LawFit, extra: ArrayLike<number> | null = null): ReducedPoints {
    const { fit, glass } = this;
    const above = reducePoints(fit.set, law.shape, law.parameters, fit.log10bT, extra);
    if (glass === null) return above;
    const tangent = this.law(law);
    const frequency_Hz = glass.frequency_Hz.slice();
    const storageModulus_Pa = glass.storageModulus_Pa.slice();
    const lossModulus_Pa = glass.lossModulus_Pa.slice();
    for (const { first, end, run } of glass.isotherms) {
      const warmer_K = runOffset_K(law.shape, law.parameters, run);
      // The run's modulus scale is that of its coldest isotherm above the glass.
      const scale = exp10(fit.log10bT[fit.set.isotherms.findIndex((isotherm) => isotherm.run === run)]);
      for (let i = first; i < end; i++) {
        frequency_Hz[i] *= exp10(log10ShiftFactor(tangent, glass.temperature_C[i] - warmer_K));
        storageModulus_Pa[i] *= scale;
        lossModulus_Pa[i] *= scale;
      }
    }
    return {
      frequency_Hz: joined(above.frequency_Hz, frequency_Hz),
      storageModulus_Pa: joined(above.storageModulus_Pa, storageModulus_Pa),
      lossModulus_Pa: joined(above.lossModulus_Pa, lossModulus_Pa),
    };
  }

  /** The points with the weights of a spectrum fit. */
  weighted(points: ReducedPoints): ModulusPoints {
    const weighted = weightPoints(points, this.fit.lossTrust);
    const above = this.fit.set.frequency_Hz.length;
    for (let i = above; i < points.frequency_Hz.length; i++) {
      weighted.storageWeight[i] *= glassTrust.storage;
      const tanDelta = points.lossModulus_Pa[i] / points.storageModulus_Pa[i];
      weighted.lossWeight[i] *= glassTrust.loss * (tanDelta < leastTanDelta ? tanDelta / leastTanDelta : 1);
    }
    return weighted;
  }

  /** The model at a reference temperature; null where the law has no value there. */
  build(law: LawFit, spectrum: Spectrum, points: ReducedPoints, reference_C: number): RelaxationModel | null {
    const { set } = this.fit;
    const window = range(points.frequency_Hz);
    const temperatures = range(joined(set.temperature_C, this.glass?.temperature_C ?? new Float64Array(0)));
    const atHome: RelaxationModel = {
      deformation: set.deformation,
      law: this.law(law),
      verticalShift: this.vertical,
      equilibriumModulus_Pa: spectrum.equilibriumModulus_Pa,
      times_s: spectrum.times_s,
      moduli_Pa: spectrum.moduli_Pa,
      lowestReducedFrequency_Hz: window.low,
      highestReducedFrequency_Hz: window.high,
      ...(this.glass === null
        ? {}
        : { superposedUpTo_Hz: range(points.frequency_Hz.subarray(0, set.frequency_Hz.length)).high }),
      lowestTemperature_C: temperatures.low,
      highestTemperature_C: temperatures.high,
    };
    const { law: shift } = atHome;
    if (shift.kind === "wlf" && reference_C <= shift.referenceTemperature_C - shift.c2_K) return null;
    return referModel(atHome, changeReference(shift, reference_C));
  }
}

function joined(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(a.length + b.length);
  out.set(a);
  out.set(b, a.length);
  return out;
}
