import type { Decision } from "../../../predict/decision/decision.js";
import type { Results } from "../../results/results.js";
import { type Html, html, nameHtml } from "../html.js";
import { withTrueMinus } from "../notices.js";
import { fixed, significant } from "../numbers.js";

type Judgement = Decision["compounds"][number]["meets"][number];
type Requirement = Decision["requirements"][number];

const words = { meets: "meets", open: "open", fails: "fails", unknown: "unknown" };

/** What the study asks and which compound meets it, with the probability of each; nothing where it asks nothing. */
export function decisionSection({ decision }: Results): Html {
  if (decision === null) return html``;
  const { requirements, compounds, choice, nextTest } = decision;
  const rows = compounds.map(
    ({ name, meets, meetsAllProbability, onFrontier }) => html`<tr><th scope="row">${nameHtml(name)}${
      onFrontier &&
      html` <span class="tag" title="No other compound is better in all that is asked">frontier</span>`
    }</th>
<td class="number strong">${meetsAllProbability === null ? html`<span class="none">unknown</span>` : probability(meetsAllProbability)}</td>${meets.map(
      (one, k) => answerCell(one, requirements[k]),
    )}</tr>`,
  );
  return html`<section id="decision"><h2>What is asked, and which compound meets it</h2>
<p class="changed" id="decision-of-study" hidden>The contact was changed on this page; what is asked is still judged in the study’s own contacts.</p>
<p class="choice">${withTrueMinus(choice.sentence)}</p>
${nextTest !== null && html`<p>Next test, ${nameHtml(nextTest.compound)}: ${withTrueMinus(nextTest.test)} ${nextTest.why}</p>`}
<div class="table-frame" role="group" aria-label="Requirements by compound" tabindex="0"><table class="facts">
<caption>Probability that each requirement is met, from the draws behind the intervals <a class="source" href="#method-decision">method</a></caption>
<thead><tr><th scope="col">Compound</th><th scope="col" class="number">All together</th>${requirements.map(
    ({ name }) => html`<th scope="col">${name}</th>`,
  )}</tr></thead>
<tbody>${rows}</tbody></table></div>
<p class="caution-line">A choice among laboratory compounds by what was measured and a screening prediction. Whether a product is safe to walk or ride on is for the tests and limits that local codes and the product’s own standard ask for, and for a qualified person.</p></section>`;
}

function answerCell(
  { answer, probability: met, value, asStated }: Judgement,
  requirement: Requirement,
): Html {
  return html`<td><b>${words[answer]}</b>${
    met !== null &&
    answer !== "unknown" &&
    html` <span class="interval">${asStated ? "as stated" : probability(met)}</span>`
  }${value !== null && html` <span class="interval">${shown(value, requirement)}</span>`}</td>`;
}

function probability(value: number): string {
  if (value > 0.99) return "> 0.99";
  return value < 0.01 ? "< 0.01" : fixed(value, 2);
}

/** The central value as the requirement states it; of a verdict the distance from its border. */
function shown(value: number, { quantity, unit }: Requirement): string {
  if (quantity === "verdict") return `${value < 0 ? "" : "+"}${fixed(value, 0)} K`;
  if (quantity === "rebound") return `${fixed(100 * value, 0)} %`;
  return `${significant(value)}${unit === "1" ? "" : ` ${unit}`}`;
}
