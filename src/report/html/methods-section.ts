import type { VerdictBorders } from "../../predict/cold/border-words.js";
import { verdictRule } from "../../predict/cold/border-words.js";
import { roughnessOf } from "../../predict/contact/roughness.js";
import type { PredictionSettings } from "../../predict/prediction-settings.js";
import type { Texture } from "../../predict/use.js";
import type { Assessment } from "../assessment.js";
import { type Html, html, nameHtml } from "./html.js";
import { fixed, significant } from "./numbers.js";
import type { ReportContext } from "./report-context.js";
import { unbroken } from "./unbroken.js";

interface Method {
  id: string;
  title: string;
  formula?: string;
  words: string;
  source: string;
}

/** Formula, meaning and source of every number on the page. */
const methodsWith = (borders: VerdictBorders): Method[] => [
  {
    id: "modulus",
    title: "Complex modulus",
    formula: "M* = M′ + iM″,  tan δ = M″ / M′,  |M*|² = M′² + M″²",
    words:
      "Two of M′, M″, |M*|, tan δ and δ give the others. M stands for E (tension, bending, compression) or G (shear); the mode stays with the data.",
    source: "ISO 6721-1.",
  },
  {
    id: "glass-transition",
    title: "Glass transition",
    words:
      "Three readings at the frequency of the measurement: the peak of tan δ, the peak of the loss modulus, and the extrapolated onset of the fall of the storage modulus. They differ by design: onset, then loss modulus peak, then tan δ peak. Peaks come from a penalised spline on the real temperatures, its strength by restricted maximum likelihood. A maximum at the edge of the data is a bound. Intervals: 95 % of the curves that the data allow, each strength of the smoothing by its likelihood; the onset’s by draws, fixed seed. Isotherms that superpose are read on their model.",
    source: "ASTM E1640, ISO 6721-11, IEC 61006.",
  },
  {
    id: "superposition",
    title: "Time–temperature superposition",
    formula: "M*(f, T) = M*(f·aT, T₀) / bT",
    words:
      "Isotherms are moved along the frequency axis onto one curve: closed-form shifts first, then the law’s constants and one spectrum together on the relative residuals of both moduli. The law is chosen by the corrected Akaike criterion; a blend has one a phase.",
    source: "Gergesova, Zupančič, Saprunov and Emri, J. Rheol. 55, 1 (2011); ISO 18437-6.",
  },
  {
    id: "shift-law",
    title: "Shift law",
    formula: "log₁₀ aT = −C₁ (T − T₀) / (C₂ + T − T₀)   or   log₁₀ aT = Eₐ / (ln 10 · R) · (1/T − 1/T₀)",
    words:
      "Invariants: C₁·C₂ and T∞ = T₀ − C₂. Apparent activation energy: Eₐ(T) = ln 10 · R · C₁C₂T² / (C₂ + T − T₀)². Fragility at the glass transition: m = C₁·Tg / C₂.",
    source: "Williams, Landel and Ferry, J. Am. Chem. Soc. 77, 3701 (1955).",
  },
  {
    id: "wicket",
    title: "Wicket plot",
    formula: "log tan δ against log |M*|",
    words:
      "It needs no shifting. Where the isotherms do not fall on one line, the material is not thermorheologically simple, and every extrapolated number is doubtful.",
    source: "ISO 18437-6.",
  },
  {
    id: "spectrum",
    title: "Relaxation spectrum",
    formula: "M′ = Me + Σ Mᵢ ω²τᵢ² / (1 + ω²τᵢ²),   M″ = Σ Mᵢ ωτᵢ / (1 + ω²τᵢ²),   Mᵢ ≥ 0",
    words:
      "Generalised Maxwell model by regularised non-negative least squares on relative residuals of both moduli.",
    source: "Ferry, Viscoelastic Properties of Polymers, 3rd ed., chapters 3 and 4.",
  },
  {
    id: "payne",
    title: "Payne effect",
    words:
      "Storage modulus at the smallest strain less that at the largest; the linear range ends where it has dropped by 5 %.",
    source: "Common practice.",
  },
  {
    id: "network",
    title: "Network density",
    formula: "G = νRT = ρRT / Mc",
    words:
      "From the storage modulus on the rubbery plateau, by the kinetic theory of an ideal network; filler is taken out with Guth and Gold’s factor.",
    source: "Treloar, The Physics of Rubber Elasticity.",
  },
  {
    id: "reinforcement",
    title: "Reinforcement by filler",
    formula: "M / M₀ = 1 + 2.5 φ + 14.1 φ²",
    words:
      "Plateau modulus of each member of a series over that of the unfilled rubber, beside the value for well separated spheres of volume fraction φ.",
    source: "Guth, J. Appl. Phys. 16, 20 (1945).",
  },
  {
    id: "bound-rubber",
    title: "Bound rubber",
    formula: "φ(eff) = φ (1 + 2Δ / d)³;   C = 1 − (1 − φ) W / W₀,   W = π tan δ / (π tan δ + 1)",
    words:
      "The layer Δ of immobilised rubber around spheres of diameter d that brings measured M / M₀ to Guth and Gold’s at φ(eff), the mean over the members; and, independent of the moduli, from the immobilised share C that the heights of the tan δ peaks of filled and unfilled rubber give. Particle sizes are compared at one load by their measured moduli, without a formula.",
    source: "Rao and Pochan, Macromolecules 40, 290 (2007), from memory; spheres with a layer: geometry.",
  },
  {
    id: "batches",
    title: "Batch against batch",
    words:
      "Two batches are equivalent where the whole interval of their difference lies inside the study’s own limit, different where it lies outside, and not decided where it straddles the limit.",
    source: "Two one-sided tests: Schuirmann, J. Pharmacokinet. Biopharm. 15, 657 (1987), from memory.",
  },
  {
    id: "rebound",
    title: "Rebound",
    formula: "R = h(rebound) / h(drop);   textbook value R ≈ exp(−π tan δ)",
    words:
      "Predicted by simulating the impact of a rigid mass on the viscoelastic body through the whole spectrum, from first touch to zero force. The textbook value takes tan δ at f = 1/(2·contact time). It assumes a steady half cycle, which an impact is not. Both are shown; the simulation is the prediction. Measured rebound calibrates it.",
    source: "ISO 4662, ASTM D7121, ASTM D2632, DIN 53512.",
  },
  {
    id: "grip",
    title: "Grip",
    formula: "µ = ½ ∫ q³ C(q) S(q) P(q) dq ∫ cos φ · Im[E(q v cos φ) / ((1 − ν²) σ₀)] dφ,   q from q₀ to q₁",
    words:
      "Hysteresis friction of a viscoelastic half-space on a rough surface; P is the share of the nominal area in contact. The cut-off q₁ is a free choice that moves µ, so µ is shown with q₁ halved and doubled too. Not in it: adhesion, water film, flash heating, wear, snow and ice.",
    source: "Persson, J. Chem. Phys. 115, 3840 (2001).",
  },
  {
    id: "cold",
    title: "Cold-weather verdict",
    formula: verdictRule(borders),
    words:
      "The peaks are those at f, the contact’s own frequency: for sliding v·q½ / 2π, where half of the friction arises below q½; for impact 1/(2·contact time). A use with both takes the higher. Where the intervals straddle a border, the verdict names both states. The borders are settings of the study.",
    source:
      "Definition of this report, on the readings of ISO 6721-11; a kilohertz contact is glassy at temperatures at which a 1 Hz test is still rubbery.",
  },
  {
    id: "stiffening",
    title: "Stiffening ratios",
    formula: "M(10 s, T) / M(10 s, 23 °C) = 2, 5, 10, 100",
    words:
      "From the relaxation modulus of the fitted spectrum. The ratios are those of the Gehman test; computed from dynamic data, they are not that test.",
    source: "ISO 1432.",
  },
  {
    id: "indicators",
    title: "Quick indicators",
    words:
      "tan δ at 0 °C and at 60 °C and the storage modulus at −25 °C, at 10 Hz or the nearest frequency measured, read from the sweep without any model.",
    source: "Common practice.",
  },
  {
    id: "properties",
    title: "Properties as measured",
    words:
      "Hardness, abrasion, tear, tensile, set, density and flex cracking are read, never predicted. The median of the readings, with the 95 % interval of their mean by Student’s t; values of different methods stand apart.",
    source: "ISO 48-2, ISO 48-4, ISO 4649, ISO 37, ISO 34-1, ISO 815-1, ISO 2781, ISO 132.",
  },
  {
    id: "cushioning",
    title: "Cushioning",
    formula:
      "a = Fₘₐₓ / (m · 9.80665 m/s²),   W = (1 − R) · ½ m v²;   flat face on a pad: F = E (1 + 2 S²) A x / h,  S = D / (4 h)",
    words:
      "Peak force, deepest indentation and absorbed energy of the same simulated impact as the rebound. Not in it: stiffening at deep compression, foams, the foot.",
    source:
      "Johnson, Contact Mechanics (1985), chapter 11; Gent and Lindley, Proc. Inst. Mech. Eng. 173, 111 (1959).",
  },
  {
    id: "decision",
    title: "Which compound meets what is asked",
    words:
      "The probability of a requirement is the share of the draws that meet it. Predicted quantities use the draws behind their intervals, so that an error common to two requirements counts once; absolute grip includes the cut-off between half and twice the texture’s; a measured property uses the error of its mean, a verdict the interval of its border. Meets: above 0.95; fails: below 0.05; open: in between. A single reading counts as stated. On the frontier are the compounds that no other beats in everything that is asked. Unlike things are never added up to a score.",
    source: "Definition of this report.",
  },
  {
    id: "levers",
    title: "What a change of filler would do",
    words:
      "Within the study’s own filler series every quantity runs on straight lines between measured compounds of the same filler, and nowhere outside them. The limit is reached where the line of the failed quantity crosses it, nearest to the compound’s own load; its interval and those of the changes come from the same lines through each draw, so that what two compounds share cancels. Changes are given where more than 0.95 of the draws meet the limit, else where the central value does, else at the measured load that comes nearest. Properties without repeats have no interval.",
    source: "Definition of this report.",
  },
  {
    id: "intervals",
    title: "Intervals",
    words:
      "95 % intervals come from equally likely alternatives to the fitted model (scatter of constants and moduli, laid out alike for all data). They include the scatter of these measurements, the uncertainty of the fit, and the half widths of the instrument’s temperature and modulus under Settings, which all compounds share. They include neither what the model leaves out nor how specimens, mixes and laboratories differ; that is often more, and only repeats show it.",
    source: "Efron and Tibshirani, An Introduction to the Bootstrap (1993).",
  },
];

/** Text with its lower-case indices set low: aT, bT, Me, Tg. */
function withIndices(text: string): Html {
  const parts = unbroken(text).split(/\b([abT])(T|g)\b|\bM(e)\b/);
  // split gives text, then the three groups of each match.
  return html`${parts.map((part, k) => {
    if (k % 4 === 0) return part;
    if (k % 4 === 1) return part ?? (parts[k + 2] === undefined ? "" : "M");
    return part === undefined ? "" : html`<sub>${part}</sub>`;
  })}`;
}

/** The choices and the textures that grip was computed with: what it takes, with the formula, to compute it again. */
function gripSettings({ uses, predictionSettings }: Assessment): Html {
  const textures = new Map(
    uses.flatMap(({ sliding }) => (sliding ? [[sliding.texture.name, sliding.texture]] : [])),
  );
  const { contactShare, poissonRatio } = predictionSettings;
  return html`<p class="small">Here S = γ + (1 − γ) P² with γ = ${contactShare}, and ν = ${poissonRatio}.</p>${[...textures.values()].map((texture) => textureLine(texture, predictionSettings))}`;
}

function textureLine(texture: Texture, settings: PredictionSettings): Html {
  const roughness = roughnessOf(texture, settings);
  // Why a texture cannot be used stands in the notices.
  if (!roughness.ok) return html``;
  const { q0_per_m, q1_per_m, rmsSlope, cutOff } = roughness.value;
  const shape =
    texture.measured === null
      ? `C(q) ∝ q^−2(1 + H) with H = ${texture.hurstExponent} and a root mean square height of ${significant(1000 * texture.rmsHeight_m)}\u202fmm`
      : "C(q) from its measured profile";
  return html`<p class="small">Texture “${nameHtml(texture.name)}”: ${shape}, from q₀ = ${significant(q0_per_m, 4)} to q₁ = ${significant(q1_per_m, 5)} 1/m (${cutOff}; root mean square slope ${fixed(rmsSlope, 2)}). Its source: ${texture.source.replace(/\.$/, "")}.</p>`;
}

/** The section that says how each number is had, with the borders, choices and textures as this study sets them. */
export function methodsSection({ borders, assessment }: ReportContext): Html {
  return html`<section id="methods"><h2>Methods</h2><div class="methods">${methodsWith(borders).map(
    ({ id, title, formula, words, source }) =>
      html`<article class="method" id="method-${id}"><h3>${title}</h3>${formula !== undefined && html`<p class="formula">${withIndices(formula)}</p>`}<p>${withIndices(words)}</p>${id === "grip" && gripSettings(assessment)}<p class="small">Source: ${source}</p></article>`,
  )}</div></section>`;
}
