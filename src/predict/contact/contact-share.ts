import { exp } from "../../numeric/elementary/exponential.js";
import { cube, power, square } from "../../numeric/elementary/power.js";
import { errorFunction } from "../../numeric/error-function.js";

/** P(G) = erf(1/(2√G)): share of the nominal area in contact (Persson, J. Chem. Phys. 115, 3840, 2001). */
export function contactAreaRatio(G: number): number {
  return G > 0 ? errorFunction(1 / (2 * Math.sqrt(G))) : 1;
}

/**
 * J(G) = ∫₀^G S P dG′ with S = γ + (1 − γ) P², a function of G alone.
 *
 * P falls from 1 within a sliver of wave numbers at the start of the spectrum, where any rule in q overshoots
 * by per cents. The friction integral is therefore taken over J, which carries that fall exactly.
 */
export function contactIntegral(G: number, contactShare: number): number {
  return contactShare * firstPower(G) + (1 - contactShare) * thirdPower(G);
}

/** ∫₀^G P dG′ = G P + e^{−x²}/(2√π x) − ½ (1 − P), x = 1/(2√G) (derived by parts). */
function firstPower(G: number): number {
  if (G <= 0) return 0;
  const x = 1 / (2 * Math.sqrt(G));
  const P = errorFunction(x);
  return G * P + exp(-x * x) / (2 * Math.sqrt(Math.PI) * x) - 0.5 * (1 - P);
}

const cells = 1024;
let table: { integral: Float64Array; slope: Float64Array } | null = null;

/** ∫₀^G P³ dG′ by a table in t = √G/(1 + √G), which maps all loads onto 0…1 where the integrand is smooth. */
function thirdPower(G: number): number {
  if (G <= 0) return 0;
  table ??= tabulateThirdPower();
  const u = Math.sqrt(G);
  const at = (cells * u) / (1 + u);
  const k = Math.min(Math.floor(at), cells - 1);
  const p = at - k;
  const h = 1 / cells;
  const { integral, slope } = table;
  // Cubic Hermite between table points.
  return (
    integral[k] * (1 + 2 * p) * square(1 - p) +
    integral[k + 1] * p * p * (3 - 2 * p) +
    h * (slope[k] * p * square(1 - p) - slope[k + 1] * p * p * (1 - p))
  );
}

function tabulateThirdPower() {
  const integral = new Float64Array(cells + 1);
  const slope = new Float64Array(cells + 1);
  for (let k = 0; k <= cells; k++) slope[k] = thirdPowerSlope(k / cells);
  for (let k = 0; k < cells; k++) {
    const middle = thirdPowerSlope((k + 0.5) / cells);
    integral[k + 1] = integral[k] + (slope[k] + 4 * middle + slope[k + 1]) / (6 * cells);
  }
  return { integral, slope };
}

/** d/dt of ∫ P³ dG: 2 u P³ du/dt, with its limit 2/π^{3/2} at t = 1. */
function thirdPowerSlope(t: number): number {
  if (t <= 0) return 0;
  if (t >= 1) return 2 / power(Math.PI, 1.5);
  const u = t / (1 - t);
  return (2 * u * cube(errorFunction(1 / (2 * u)))) / square(1 - t);
}
