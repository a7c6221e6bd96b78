import type { Material } from "../../../fit/material.js";
import { isNearlySimple } from "../../../fit/superposition/nearly-simple.js";
import { exp10 } from "../../../numeric/elementary/exponential.js";
import type { ResultsCompound } from "../../results/results.js";
import { type Html, html } from "../html.js";
import { fixed, frequencyText, interval, pascal, significant } from "../numbers.js";
import { type ReportContext, sourceLinks } from "../report-context.js";

type Fact = [label: string, value: Html];

function lawFacts(superposition: NonNullable<ResultsCompound["superposition"]>): Fact[] {
  const { wlf, arrhenius, derived } = superposition;
  const facts: Fact[] = [
    [
      "Reference temperature T₀",
      html`<span class="value">${fixed(superposition.referenceTemperature_C, 1)} °C</span>`,
    ],
  ];
  if (wlf !== null) {
    facts.push(["C₁", interval(wlf.c1, wlf.c1Low, wlf.c1High, "", 3)]);
    facts.push(["C₂", interval(wlf.c2_K, wlf.c2Low_K, wlf.c2High_K, "K", 2)]);
  }
  if (arrhenius !== null) {
    const kJ = (value: number | null) => (value === null ? null : value / 1000);
    facts.push([
      superposition.law === "wlf" ? "Arrhenius instead: activation energy" : "Activation energy",
      interval(
        arrhenius.activationEnergy_J_mol / 1000,
        kJ(arrhenius.low_J_mol),
        kJ(arrhenius.high_J_mol),
        "kJ/mol",
        1,
      ),
    ]);
  }
  if (derived !== null) {
    facts.push([
      "T∞ = T₀ − C₂",
      derived.vogelTemperature_C === null
        ? html`<span class="none">not determined: the shifts show next to no bend</span>`
        : interval(
            derived.vogelTemperature_C,
            derived.vogelTemperatureLow_C,
            derived.vogelTemperatureHigh_C,
            "°C",
            1,
          ),
    ]);
    if (derived.fragility !== null) facts.push(["Fragility m", html`${fixed(derived.fragility, 0)}`]);
    if (derived.activationEnergyAtTg_J_mol !== null && derived.glassTemperature_C !== null) {
      facts.push([
        `Activation energy at ${fixed(derived.glassTemperature_C, 0)}\u202f°C`,
        html`${fixed(derived.activationEnergyAtTg_J_mol / 1000, 0)} kJ/mol`,
      ]);
    }
  }
  const { aicc } = superposition;
  if (aicc.wlf !== null && aicc.arrhenius !== null) {
    const other = superposition.law === "wlf" ? aicc.arrhenius - aicc.wlf : aicc.wlf - aicc.arrhenius;
    facts.push([
      superposition.law === "wlf" ? "AICc, Arrhenius less WLF" : "AICc, WLF less Arrhenius",
      html`${other >= 0 ? "+" : ""}${fixed(other, 0)}`,
    ]);
  }
  return facts;
}

function simplicityFact(
  superposition: NonNullable<ResultsCompound["superposition"]>,
  isNearly: boolean,
): Fact {
  const { thermorheologicallySimple: simple, simplicity } = superposition;
  const words = ["no: isotherms do not fall on one curve", "nearly: one law holds, with a misfit"];
  const word = simple === null ? "not judged" : simple ? "yes" : words[isNearly ? 1 : 0];
  const figures =
    simplicity === null
      ? ""
      : html` <span class="interval">wicket scatter ${significant(simplicity.wicketScatterLog10, 2)}, allowed ${significant(simplicity.allowedScatterLog10, 2)} in log₁₀ tan δ</span>`;
  return ["Thermorheologically simple", html`<span class="value">${word}</span>${figures}`];
}

/** Law, constants, quality of fit and spectrum in one line of facts; says what is assumed. */
export function superpositionFacts(
  context: ReportContext,
  compound: ResultsCompound,
  material: Material,
): Html {
  const { superposition, spectrum } = compound;
  if (superposition === null) return html``;
  const law = superposition.law === "wlf" ? "Williams–Landel–Ferry" : "Arrhenius";
  const facts: Fact[] = [
    ["Shift law", html`<span class="value">${law}, ${superposition.source}</span>`],
    ...lawFacts(superposition),
  ];
  if (superposition.rmsLog10 !== null)
    facts.push([
      "Residual, root mean square",
      html`<span class="value">${fixed(100 * (exp10(superposition.rmsLog10) - 1), 1)} %</span> <span class="interval">${significant(superposition.rmsLog10, 2)} in log₁₀ modulus</span>`,
    ]);
  facts.push(simplicityFact(superposition, isNearlySimple(material)));
  facts.push(["Vertical shift", html`<span class="value">${superposition.verticalShift}</span>`]);
  for (const [k, { glassTemperature_C, shareOfFall, law: own }] of (superposition.phases ?? []).entries()) {
    facts.push([
      k === 0 ? "Colder phase" : "Warmer phase",
      html`<span class="value">Tg ${fixed(glassTemperature_C, 0)} °C</span> <span class="interval">${fixed(100 * shareOfFall, 0)} % of the fall of the storage modulus; C₁ ${fixed(own.c1, 1)}, C₂ ${fixed(own.c2_K, 0)} K there</span>`,
    ]);
  }
  if (spectrum !== null) {
    const active = spectrum.modes.filter((mode) => mode.modulus_Pa > 0).length;
    facts.push([
      "Spectrum",
      html`<span class="value">${active} modes</span> <span class="interval">equilibrium modulus ${pascal(spectrum.equilibriumModulus_Pa)} in ${spectrum.deformation}</span>`,
    ]);
    facts.push([
      "Measured range at T₀",
      html`<span class="value">${frequencyText(spectrum.lowestReducedFrequency_Hz)} to ${frequencyText(spectrum.highestReducedFrequency_Hz)}</span>`,
    ]);
  }
  return html`<div class="fact-block"><p class="fact-title">Superposition ${sourceLinks(context, compound.inputs, "superposition")} <a class="source" href="#method-spectrum">spectrum</a></p><dl class="fact-list">${facts.map(
    ([label, value]) => html`<div><dt>${label}</dt><dd>${value}</dd></div>`,
  )}</dl></div>`;
}
