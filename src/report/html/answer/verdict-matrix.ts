import type { VerdictBorders } from "../../../predict/cold/border-words.js";
import { verdictMeaning } from "../../../predict/cold/border-words.js";
import type { Use } from "../../../predict/use.js";
import type { JudgedCompound } from "../../results/results.js";
import { coldCaution } from "../cautions-section.js";
import { compoundIds } from "../compound-ids.js";
import { type Html, html, nameHtml } from "../html.js";
import { fixed, frequencyText, significant, statedTemperature, withPrefix } from "../numbers.js";
import type { ReportContext } from "../report-context.js";
import { marginText } from "./margin.js";
import { quotedPeak } from "./peaks.js";
import { doubtMark, standingTags } from "./standing-tags.js";
import { severity, verdictClass, verdictMark, verdictTag } from "./verdict.js";

/** A column of the matrix: a use as the outlooks name it. */
export interface UseColumn {
  use: string;
  temperature_C: number;
}

/** The uses in the order of the study, each once, coldest first: there the questions are. */
function useColumns(compounds: JudgedCompound[]): UseColumn[] {
  const columns = new Map<string, UseColumn>();
  for (const compound of compounds) {
    for (const { use, temperature_C } of compound.outlooks) {
      columns.set(`${use}\u0000${temperature_C}`, { use, temperature_C });
    }
  }
  return [...columns.values()].sort((a, b) => a.temperature_C - b.temperature_C);
}

/** A use's name where it says more than the temperature does. */
export function furtherName(column: UseColumn): string | null {
  const plain = column.use.replace(/[−–]/g, "-").replace(/\s/g, "").toLowerCase();
  const temperature = `${column.temperature_C}`;
  return plain === `${temperature}°c` || plain === temperature || plain === `at${temperature}°c`
    ? null
    : column.use;
}

/** What is in contact, in words: "sliding at 0.3 m/s under 0.3 MPa on worn asphalt". */
export function contactWords(use: Use): string {
  const words: string[] = [];
  if (use.sliding) {
    const { speed_m_s, pressure_Pa, texture } = use.sliding;
    words.push(
      `sliding at ${significant(speed_m_s, 2)}\u202fm/s under ${withPrefix(pressure_Pa, "Pa", 2)} on ${texture.name}`,
    );
  }
  if (use.impact) words.push(`impact: ${use.impact.method}, ${significant(use.impact.speed_m_s)}\u202fm/s`);
  return words.length > 0 ? words.join("; ") : "no contact stated";
}

/** "−20 °C, sliding at 0.3 m/s under 0.3 MPa on worn asphalt": what all numbers of the first screen hold for. */
export function settingWords({ use }: { use: Use | null }): Html {
  return use === null
    ? html`no use: nothing could be predicted`
    : html`<b>${statedTemperature(use.temperature_C)}</b>, ${contactWords(use)}`;
}

/** The frequency of all the peaks that are quoted, in words; null where they differ. */
function sharedPeakFrequency(compounds: JudgedCompound[]): string | null {
  const frequencies = compounds.flatMap((compound) => {
    const peak = quotedPeak(compound);
    return peak === null ? [] : [frequencyText(peak.transition.frequency_Hz)];
  });
  return new Set(frequencies).size === 1 ? frequencies[0] : null;
}

/** The matrix of compounds and uses: word, shape and colour, worst first. `order` holds compound indices. */
export function verdictMatrix(compounds: JudgedCompound[], order: number[], reference: boolean[]): Html {
  const ids = compoundIds(compounds.map(({ name }) => name));
  const columns = useColumns(compounds);
  const many = compounds.length > 16;
  const shared = sharedPeakFrequency(compounds);
  const head = columns.map((column, k) => {
    const further = furtherName(column);
    return html`<th scope="col" class="use" data-column="${k + 2}"><span class="sort">${statedTemperature(
      column.temperature_C,
    )}</span>${further !== null && html`<span class="use-name">${nameHtml(further)}</span>`}</th>`;
  });
  const rows = order.map((index, rank) => {
    const compound = compounds[index];
    const peak = quotedPeak(compound);
    const cells = columns.map((column) => {
      const outlook = compound.outlooks.find(
        (candidate) => candidate.use === column.use && candidate.temperature_C === column.temperature_C,
      );
      const cold = outlook?.cold ?? null;
      const verdict = cold?.verdict ?? null;
      return html`<td class="cell ${verdictClass(verdict)}" data-use="${column.use}" data-temperature="${
        column.temperature_C
      }" data-order="${severity(verdict) * 1000 + (cold?.marginToGlassy_K ?? 0)}">${verdictTag(verdict)}${marginText(cold)}${doubtMark(compound, outlook)}</td>`;
    });
    return html`<tr data-compound="${index}" data-rank="${rank}"><th scope="row"><a href="#${encodeURIComponent(ids[index])}">${nameHtml(
      compound.name,
    )}</a>${reference[index] && html` <span class="tag">reference</span>`}${standingTags(compound)}${peak !== null && html`<span class="narrow-tg">T<sub>g</sub> ${fixed(peak.temperature_C, 0)} °C at ${frequencyText(peak.transition.frequency_Hz)}</span>`}</th><td class="number tg" data-order="${
      peak?.temperature_C ?? 9999
    }">${
      peak === null
        ? "—"
        : html`${fixed(peak.temperature_C, 0)} °C${shared === null && html`<span class="interval">${frequencyText(peak.transition.frequency_Hz)}</span>`}`
    }</td>${cells}</tr>`;
  });
  return html`<div class="matrix-frame${many && " tall"}" role="group" aria-label="Verdicts by compound and use temperature" tabindex="0">
<table class="matrix" id="verdict-matrix">
<thead><tr><th scope="col" data-column="0"><span class="sort">Compound</span></th><th scope="col" class="number tg" data-column="1"><span class="sort">T<sub>g</sub></span><span class="use-name">tan δ peak${shared !== null && ` at ${shared}`}</span></th>${head}</tr></thead>
<tbody>${rows}</tbody>
</table></div>`;
}

/** Every use of the study at once. */
export function matrixSection(context: ReportContext, order: number[]): Html {
  const { results, compounds } = context.assessment;
  return html`<section id="verdicts"><h2>Verdict in each use of the study</h2><div id="matrix-tools" class="matrix-tools"></div>
<div id="matrix">${
    results.compounds.length > 0 &&
    verdictMatrix(
      results.compounds,
      order,
      compounds.map((c) => c.isReference),
    )
  }</div>
<p class="small">Worst first. The figure: K above (+) or below (−) the glassy border at the contact’s frequency; beside two words, the interval of the distance from the border that they straddle. <a class="source" href="#method-cold">method</a></p>
${coldCaution()}</section>`;
}

/** The words, their shapes and what they mean. */
export function verdictLegend(borders: VerdictBorders, anyDoubt: boolean): Html {
  const shown = ["glassy", "leathery", "rubbery"] as const;
  return html`<ul class="legend">${shown.map(
    (verdict) =>
      html`<li>${verdictMark(verdict)}<span><b>${verdict}</b>: ${verdictMeaning(verdict, borders)}</span></li>`,
  )}<li>${verdictMark("glassy or leathery")}<span><b>two words</b>: the intervals straddle the border between them</span></li><li><span class="sign">K</span><span>with one word: <b>K above the glassy border</b> (below it where negative), at the contact’s frequency; with two words: the interval of the distance from the border that they straddle</span></li>${anyDoubt && html`<li><span class="doubt sign"></span><span><b>in doubt</b>: a notice of the compound weakens this verdict; the reason stands beside it, or beside the compound’s name where it holds for all its verdicts</span></li>`}</ul>`;
}
