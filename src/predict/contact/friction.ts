import { ln, log10 } from "../../numeric/elementary/logarithm.js";
import { power, square } from "../../numeric/elementary/power.js";
import type { PredictionSettings } from "../prediction-settings.js";
import { contactAreaRatio, contactIntegral } from "./contact-share.js";
import { type AngleIntegrals, angleIntegrals } from "./hysteresis-angles.js";
import type { Roughness } from "./roughness.js";
import type { TensileSpectrum } from "./tensile-spectrum.js";

export interface Friction {
  frictionCoefficient: number;
  /** Real over nominal contact area at the cut-off, P(q1). */
  contactAreaRatio: number;
  /** The same coefficient with the cut-off halved and doubled. */
  cutOffSensitivity: { halved: number; doubled: number };
  /** q½, below which half of the friction arises; null where none arises. */
  halfFrictionWavenumber_per_m: number | null;
  /** v q½ / 2π. */
  contactFrequency_Hz: number | null;
}

export interface SlidingState {
  speed_m_s: number;
  pressure_Pa: number;
  roughness: Roughness;
}

type FrictionSettings = Pick<PredictionSettings, "contactShare" | "poissonRatio" | "frictionPointsPerDecade">;

/** Below this a friction coefficient is said in words: its digits mean nothing. */
export const practicallyNone = 0.001;

/**
 * Hysteresis friction of a viscoelastic half-space sliding on a rough surface
 * (Persson, J. Chem. Phys. 115, 3840, 2001):
 *
 *   μ = ½ ∫_{q0}^{q1} dq q³ C S P ∫₀^{2π} dφ cos φ Im E(q v cos φ)/((1−ν²) σ0)
 *   G = ⅛ ∫_{q0}^{q} dq q³ C ∫₀^{2π} dφ |E(q v cos φ)/((1−ν²) σ0)|²,  P = erf(1/(2√G)),  S = γ + (1−γ) P²
 *
 * With the angle integrals A and B in closed form, dμ = 4 (A/B) (1−ν²) σ0 · S P dG: the integral is taken over
 * J(G) = ∫ S P dG, known for every G, against A/B, which is smooth in log q.
 * Adhesion, water, flash heat, wear, snow and ice are not in this number.
 *
 * @param spectrum tensile spectrum at the use temperature
 * @example hysteresisFriction(tensileSpectrumAt(exampleModel(), -10, defaultPredictionSettings), { speed_m_s: 0.3, pressure_Pa: 0.3e6, roughness: roughnessOf(textures[0], defaultPredictionSettings).value }, defaultPredictionSettings).frictionCoefficient // 0.14…
 */
export function hysteresisFriction(
  spectrum: TensileSpectrum,
  sliding: SlidingState,
  settings: FrictionSettings,
): Friction {
  const { wavenumbers } = gridOf(sliding.roughness, settings.frictionPointsPerDecade);
  const [lowest, highest] = [wavenumbers[0], wavenumbers[wavenumbers.length - 1]];
  const integrals = angleIntegrals(spectrum, lowest * sliding.speed_m_s, highest * sliding.speed_m_s);
  return frictionOverRoughness(integrals, sliding, settings);
}

/** The same for any solid whose angle integrals are known, as functions of w = q v in rad/s. */
export function frictionOverRoughness(
  integralsAt: (frequency_rad_s: number) => AngleIntegrals,
  sliding: SlidingState,
  settings: FrictionSettings,
): Friction {
  const { speed_m_s, pressure_Pa, roughness } = sliding;
  const load_Pa = (1 - square(settings.poissonRatio)) * pressure_Pa;
  const { wavenumbers, slopes2, half, full } = gridOf(roughness, settings.frictionPointsPerDecade);

  const friction = new Float64Array(wavenumbers.length);
  let G = 0;
  let areaRatio = 1;
  let before = stateAt(0);
  let contactBefore = 0;
  for (let k = 1; k < wavenumbers.length; k++) {
    const here = stateAt(k);
    G += powerLawArea(ln(wavenumbers[k] / wavenumbers[k - 1]), before.growth, here.growth);
    const contact = contactIntegral(G, settings.contactShare);
    friction[k] = friction[k - 1] + ((before.ratio + here.ratio) / 2) * (contact - contactBefore);
    if (k === full) areaRatio = contactAreaRatio(G);
    before = here;
    contactBefore = contact;
  }

  const halfFriction = wavenumberOfHalf(wavenumbers, friction, full);
  return {
    frictionCoefficient: friction[full],
    contactAreaRatio: areaRatio,
    cutOffSensitivity: { halved: friction[half], doubled: friction[friction.length - 1] },
    halfFrictionWavenumber_per_m: halfFriction,
    contactFrequency_Hz: halfFriction === null ? null : (speed_m_s * halfFriction) / (2 * Math.PI),
  };

  /** `growth` is dG/d ln q, `ratio` is 4 (A/B) (1−ν²) σ0. */
  function stateAt(k: number) {
    const { lossModulus_Pa, magnitude_Pa2 } = integralsAt(wavenumbers[k] * speed_m_s);
    return {
      growth: (slopes2[k] * magnitude_Pa2) / (8 * square(load_Pa)),
      ratio: (4 * load_Pa * lossModulus_Pa) / magnitude_Pa2,
    };
  }
}

interface WavenumberGrid {
  wavenumbers: number[];
  /** q⁴ C(q) at each. */
  slopes2: Float64Array;
  half: number;
  full: number;
}

const grids = new WeakMap<Roughness, { pointsPerDecade: number; grid: WavenumberGrid }>();

/** The grid of a roughness, kept, for all draws of a use ask for the same one. */
function gridOf(roughness: Roughness, pointsPerDecade: number): WavenumberGrid {
  const known = grids.get(roughness);
  if (known?.pointsPerDecade === pointsPerDecade) return known.grid;
  const grid = wavenumberGrid(roughness, pointsPerDecade);
  grids.set(roughness, { pointsPerDecade, grid });
  return grid;
}

/** Wave numbers evenly spaced in log q with points at q1/2, q1 and 2 q1; `half` and `full` are their indices. */
function wavenumberGrid(roughness: Roughness, pointsPerDecade: number): WavenumberGrid {
  const { q0_per_m: q0, q1_per_m: q1 } = roughness;
  const wavenumbers = [q0];
  const extend = (to: number) => {
    const from = wavenumbers[wavenumbers.length - 1];
    const count = Math.max(4, Math.ceil(pointsPerDecade * log10(to / from)));
    for (let i = 1; i <= count; i++) wavenumbers.push(from * power(to / from, i / count));
    return wavenumbers.length - 1;
  };
  const half = q1 / 2 > q0 ? extend(q1 / 2) : 0;
  const full = extend(q1);
  extend(2 * q1);
  const slopes2 = Float64Array.from(wavenumbers, (q) => power(q, 4) * roughness.spectrum_m4(q));
  return { wavenumbers, slopes2, half, full };
}

/** ∫ f d ln q over a step in which f follows a power of q. */
function powerLawArea(step: number, from: number, to: number): number {
  const logRatio = ln(to / from);
  return Math.abs(logRatio) < 1e-6 ? (step * (from + to)) / 2 : (step * (to - from)) / logRatio;
}

function wavenumberOfHalf(wavenumbers: number[], friction: Float64Array, full: number): number | null {
  const target = friction[full] / 2;
  if (!(target > 0)) return null;
  let k = 1;
  while (friction[k] < target) k++;
  const part = (target - friction[k - 1]) / (friction[k] - friction[k - 1]);
  return wavenumbers[k - 1] * power(wavenumbers[k] / wavenumbers[k - 1], part);
}
