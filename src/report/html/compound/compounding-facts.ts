import { modulusSymbol } from "../../../words/quantity-text.js";
import type { ResultsCompound } from "../../results/results.js";
import { type Html, html, joinHtml } from "../html.js";
import { asPrinted } from "../notices.js";
import { fixed, frequencyText, interval, pascal, significant, statedTemperature } from "../numbers.js";
import { type SourceContext, sourceLinks } from "../report-context.js";

type ValueInterval = NonNullable<ResultsCompound["network"]>["plateauModulus_Pa"];
type Fact = [label: string, value: Html];

function scaled({ value, low, high }: ValueInterval, scale: number, unit: string, most: number): Html {
  const by = (bound: number | null) => (bound === null ? null : bound / scale);
  return interval(value / scale, by(low), by(high), unit, most);
}

function factBlock(title: Html, facts: Fact[], after: Html = html``): Html {
  return html`<div class="fact-block"><p class="fact-title">${title}</p><dl class="fact-list">${facts.map(
    ([label, value]) => html`<div><dt>${label}</dt><dd>${value}</dd></div>`,
  )}</dl>${after}</div>`;
}

/** Network density from the rubbery plateau, with what was assumed on the way. */
export function networkFacts(context: SourceContext, compound: ResultsCompound): Html {
  const { network } = compound;
  if (network === null) return html``;
  const facts: Fact[] = [
    [
      `Rubbery plateau at ${fixed(network.temperature_C, 0)}\u202f°C, ${frequencyText(network.frequency_Hz)}`,
      scaled(network.plateauModulus_Pa, 1e6, "MPa", 3),
    ],
  ];
  if (network.networkDensity_mol_m3 !== null)
    facts.push(["Network density ν", scaled(network.networkDensity_mol_m3, 1, "mol/m³", 1)]);
  if (network.chainMolarMass_g_mol !== null)
    facts.push(["Between crosslinks Mc", scaled(network.chainMolarMass_g_mol, 1000, "kg/mol", 2)]);
  if (network.withoutFiller !== null) {
    facts.push([
      `ν without filler (φ = ${significant(network.withoutFiller.volumeFraction, 2)})`,
      scaled(network.withoutFiller.networkDensity_mol_m3, 1, "mol/m³", 1),
    ]);
  }
  return factBlock(
    html`Network, from the ${network.basis} ${sourceLinks(context, network.paths, "network")}`,
    facts,
    html`<p class="small">${asPrinted(network.shearModulusReading)}</p><p class="caution-line">${asPrinted(network.caution)}</p>`,
  );
}

/** Payne effect of each strain sweep. */
export function payneFacts(context: SourceContext, compound: ResultsCompound): Html {
  return html`${compound.payneEffects.map((effect) => {
    const state = [
      effect.temperature_C === null ? null : statedTemperature(effect.temperature_C),
      effect.frequency_Hz === null ? null : frequencyText(effect.frequency_Hz),
      effect.deformation,
    ].filter((part) => part !== null);
    const facts: Fact[] = [
      ["Fall of the storage modulus", scaled(effect.amplitude_Pa, 1e6, "MPa", 3)],
      [
        "relative to that at the smallest strain",
        html`<span class="value">${fixed(100 * effect.relativeAmplitude, 0)} %</span>`,
      ],
      [
        `${modulusSymbol(effect.deformation)}′ at ${significant(100 * effect.smallestStrain, 2)}\u202f% and ${significant(100 * effect.largestStrain, 2)}\u202f%`,
        html`<span class="value">${pascal(effect.storageModulusAtSmallest_Pa)}, ${pascal(effect.storageModulusAtLargest_Pa)}</span>`,
      ],
    ];
    if (effect.limitOfLinearity !== null)
      facts.push(["Linear up to a strain of", scaled(effect.limitOfLinearity, 0.01, "%", 3)]);
    if (effect.lossMaximumStrain !== null)
      facts.push(["Loss highest at a strain of", scaled(effect.lossMaximumStrain, 0.01, "%", 2)]);
    return factBlock(
      html`Payne effect, ${joinHtml(state, ", ")} ${sourceLinks(context, [effect.path], "payne")}`,
      facts,
      effect.levelAtSmallest && effect.levelAtLargest
        ? html``
        : html`<p class="small">The storage modulus is not level at ${effect.levelAtSmallest ? "the largest" : effect.levelAtLargest ? "the smallest" : "either end of the"} strain, so the whole fall is larger than this.</p>`,
    );
  })}`;
}

/** For each use in which the compound is not rubbery: what would change that. */
export function whatItTakesList(compound: ResultsCompound): Html {
  const found = compound.whatItTakes.filter((entry) => entry !== null);
  if (found.length === 0) return html``;
  const cautions = [...new Set(found.map((entry) => entry.caution))];
  return html`<details class="more"><summary>What it would take to be rubbery: ${found.length} ${found.length === 1 ? "use" : "uses"}</summary><ul class="plain takes">${found.map(
    (entry) => html`<li>${asPrinted(entry.sentence)}</li>`,
  )}</ul>${cautions.map((caution) => html`<p class="caution-line">${asPrinted(caution)}</p>`)}</details>`;
}
