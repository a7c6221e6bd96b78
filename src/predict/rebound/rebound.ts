import { exp } from "../../numeric/elementary/exponential.js";
import { hypotenuse, power, square } from "../../numeric/elementary/power.js";
import type { TensileSpectrum } from "../contact/tensile-spectrum.js";
import type { PredictionSettings } from "../prediction-settings.js";
import type { ImpactContact } from "../use.js";
import {
  type ContactShape,
  hertzContact,
  linearContact,
  type RelaxingStiffness,
  simulateImpact,
} from "./impact.js";

export interface ReboundPrediction {
  /** Energy returned, from the simulated impact. */
  fraction: number;
  contactTime_s: number;
  indentation_m: number;
  peakForce_N: number;
  /** exp(−π tan δ) at f = 1/(2 t_contact), t_contact found self-consistently from |E*|. */
  textbookFraction: number;
  textbookContactTime_s: number;
}

type ReboundSettings = Pick<PredictionSettings, "poissonRatio" | "impactContact" | "impactSteps">;

/** A contact's force per unit of modulus: F = E · `factor` · shape(x). */
export interface ContactGeometry {
  factor: number;
  contact: ContactShape;
  /** Contact time of an elastic body of modulus E, closed form without the layer correction. */
  elasticContactTime_s(modulus_Pa: number): number;
}

/**
 * Rebound of a rigid mass from a compound at the temperature of its spectrum.
 *
 * The simulation runs through the whole spectrum from first touch to zero force. The textbook value assumes
 * a steady half cycle and stands beside it for comparison only: an impact starts from rest and loses less.
 *
 * @param stiffnessFactor calibration factor on the contact stiffness, 1 where there is none
 * @example predictRebound(tensileSpectrumAt(exampleModel(), 23, defaultPredictionSettings), pendulumImpact, defaultPredictionSettings).fraction // 0.65…
 */
export function predictRebound(
  spectrum: TensileSpectrum,
  impact: ImpactContact,
  settings: ReboundSettings,
  stiffnessFactor = 1,
): ReboundPrediction {
  const geometry = contactGeometry(impact, settings);
  const textbook = textbookRebound(spectrum, geometry, stiffnessFactor);
  const scale = geometry.factor * stiffnessFactor;
  const stiffness: RelaxingStiffness = {
    equilibrium: spectrum.equilibriumModulus_Pa * scale,
    times_s: spectrum.times_s,
    strengths: spectrum.moduli_Pa.map((modulus_Pa) => modulus_Pa * scale),
  };
  const simulated = simulateImpact(stiffness, geometry.contact, impact.mass_kg, impact.speed_m_s, {
    expectedContactTime_s: textbook.contactTime_s,
    steps: settings.impactSteps,
  });
  return {
    fraction: simulated.reboundFraction,
    contactTime_s: simulated.contactTime_s,
    indentation_m: simulated.deepestIndentation_m,
    peakForce_N: simulated.peakForce_N,
    textbookFraction: textbook.fraction,
    textbookContactTime_s: textbook.contactTime_s,
  };
}

/**
 * Contact time and rebound by R = exp(−π tan δ) at f = 1/(2 t), with t = t(|E*(f)|) solved by iteration.
 * |E*| rises no faster than in proportion to f, so the iteration shrinks each error to half or less.
 */
function textbookRebound(
  spectrum: TensileSpectrum,
  geometry: Pick<ContactGeometry, "elasticContactTime_s">,
  stiffnessFactor = 1,
): { fraction: number; contactTime_s: number } {
  let contactTime_s = 5e-3;
  let lossFactor = 0;
  for (let i = 0; i < 80; i++) {
    const { storageModulus_Pa, lossModulus_Pa } = tensileModulus(spectrum, Math.PI / contactTime_s);
    lossFactor = lossModulus_Pa / storageModulus_Pa;
    const next_s = geometry.elasticContactTime_s(
      stiffnessFactor * hypotenuse(storageModulus_Pa, lossModulus_Pa),
    );
    const change = Math.abs(next_s / contactTime_s - 1);
    contactTime_s = next_s;
    if (change < 1e-9) break;
  }
  return { fraction: exp(-Math.PI * lossFactor), contactTime_s };
}

/** E′ and E″ of a spectrum at an angular frequency in rad/s. */
export function tensileModulus(
  spectrum: TensileSpectrum,
  angularFrequency_rad_s: number,
): { storageModulus_Pa: number; lossModulus_Pa: number } {
  let storageModulus_Pa = spectrum.equilibriumModulus_Pa;
  let lossModulus_Pa = 0;
  for (let i = 0; i < spectrum.times_s.length; i++) {
    const x = angularFrequency_rad_s * spectrum.times_s[i];
    const share = spectrum.moduli_Pa[i] / (1 + x * x);
    storageModulus_Pa += share * x * x;
    lossModulus_Pa += share * x;
  }
  return { storageModulus_Pa, lossModulus_Pa };
}

/** Contact time over (deepest indentation / speed) of an elastic Hertz impact: 4√π Γ(2/5) / (5 Γ(9/10)). */
const hertzTimeFactor = 2.9432751843247043;

/**
 * Force law of the indenter on a half-space.
 * - spherical: F = 4/3 √R E/(1−ν²) x^{3/2} (Hertz; Johnson, Contact Mechanics, ch. 4 and 11.4); on a specimen
 *   of stated thickness h, held on a rigid support, multiplied by 1 + 1.133 χ + 1.283 χ² + 0.769 χ³ +
 *   0.0975 χ⁴, χ = √(R x)/h (Dimitriadis et al., Biophys. J. 82, 2798, 2002; constants from memory).
 * - linear: F = 2 a E/(1−ν²) x, a flat circular face of the indenter's radius (Johnson, ch. 3).
 * - a flat face on a pad of its own size: F = E (1 + 2 S²) A x/h, S = D/(4h), between faces that do not slip (Gent and
 *   Lindley, Proc. Inst. Mech. Eng. 173, 111, 1959).
 */
export function contactGeometry(
  impact: ImpactContact,
  settings: Pick<PredictionSettings, "poissonRatio" | "impactContact">,
): ContactGeometry {
  const planeStrain = 1 - square(settings.poissonRatio);
  const { mass_kg, speed_m_s, indenterRadius_m, thickness_m } = impact;
  if (impact.contact === "flat" && thickness_m !== null) {
    return linearGeometry(padFactor_m(2 * indenterRadius_m, thickness_m), mass_kg);
  }
  if (settings.impactContact === "linear") {
    return linearGeometry((2 * indenterRadius_m) / planeStrain, mass_kg);
  }
  const factor = (4 / 3) * (Math.sqrt(indenterRadius_m) / planeStrain);
  const shape = thickness_m === null ? hertzContact : hertzOnLayer(indenterRadius_m, thickness_m);
  const deepest_m = (modulus_Pa: number) =>
    power((5 * mass_kg * square(speed_m_s)) / (4 * factor * modulus_Pa), 0.4);
  return {
    factor,
    contact: { ...shape, recedes: settings.impactContact === "spherical" },
    elasticContactTime_s: (modulus_Pa) => (hertzTimeFactor * deepest_m(modulus_Pa)) / speed_m_s,
  };
}

/**
 * Stiffness over modulus of a disc pressed between faces that do not slip: (1 + 2 S²) A/h with the shape factor
 * S = D/(4h), loaded area over free area (Gent and Lindley 1959).
 * @example padFactor_m(0.045, 0.01).toFixed(4) // "0.5616"
 */
export function padFactor_m(diameter_m: number, thickness_m: number): number {
  const shapeFactor = diameter_m / (4 * thickness_m);
  return ((1 + 2 * square(shapeFactor)) * Math.PI * square(diameter_m)) / (4 * thickness_m);
}

function linearGeometry(factor: number, mass_kg: number): ContactGeometry {
  return {
    factor,
    contact: linearContact,
    elasticContactTime_s: (modulus_Pa) => Math.PI * Math.sqrt(mass_kg / (factor * modulus_Pa)),
  };
}

function hertzOnLayer(radius_m: number, thickness_m: number): ContactShape {
  const c = Math.sqrt(radius_m) / thickness_m;
  return {
    recedes: true,
    shape: (x) => {
      const depth = Math.abs(x);
      const chi = c * Math.sqrt(depth);
      return (
        Math.sign(x) * power(depth, 1.5) * (1 + chi * (1.133 + chi * (1.283 + chi * (0.769 + chi * 0.0975))))
      );
    },
    slope: (x) => {
      const depth = Math.abs(x);
      const chi = c * Math.sqrt(depth);
      return (
        Math.sqrt(depth) *
        (1.5 + chi * (2 * 1.133 + chi * (2.5 * 1.283 + chi * (3 * 0.769 + chi * (3.5 * 0.0975)))))
      );
    },
  };
}
