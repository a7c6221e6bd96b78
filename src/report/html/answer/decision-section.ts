import type { Decision } from "../../../predict/decision/decision.js";
import type { Requirement } from "../../../predict/decision/requirement.js";
import type { Outlook } from "../../../predict/outlook.js";
import { compoundIds } from "../compound-ids.js";
import { type Html, html, nameHtml } from "../html.js";
import { asPrinted } from "../notices.js";
import { fixed, significant, withMinusSign } from "../numbers.js";
import { type Answer, bestFirst } from "./answer.js";
import { probability } from "./probability.js";

type Judgement = Decision["compounds"][number]["meets"][number];

/** What the study asks and which compound meets it; where it asks nothing, the place to ask it on the page. */
export function decisionSection(answer: Answer): Html {
  if (answer.compounds.length === 0) return html``;
  return html`<section id="decision"${answer.decision === null && html` class="nothing-asked"`}><h2>What is asked, and which compound meets it</h2>
<form class="limits" id="limits" hidden></form>
<div id="decision-table">${decisionTable(answer)}</div>
<p class="caution-line">A choice among laboratory compounds by what was measured and a screening prediction. Whether a product is safe to walk or ride on is for the tests and limits that local codes and the product’s own standard ask for, and for a qualified person.</p></section>`;
}

/** For each compound and requirement the word, the probability and the value, the compounds to choose first. */
export function decisionTable(answer: Answer): Html {
  const { decision, compounds } = answer;
  if (decision === null)
    return html`<p class="why">${answer.areLimitsMoved ? "Every requirement is switched off" : "The study states no requirement"}, so nothing is judged.</p>`;
  const { requirements, nextTest } = decision;
  const placed = decision.compounds.filter(({ meets }) => meets.every(({ value }) => value !== null)).length;
  const onFrontier = decision.compounds.filter((one) => one.onFrontier).length;
  // Where nearly every compound is best at something, the frontier tells none apart.
  const tells = onFrontier > 0 && 2 * onFrontier <= placed;
  const ids = compoundIds(compounds.map(({ name }) => name));
  const rows = bestFirst(answer).map((index) => {
    const { name, meets, meetsAllProbability, ...one } = decision.compounds[index];
    return html`<tr data-compound="${index}"><th scope="row"><a href="#${encodeURIComponent(ids[index])}">${nameHtml(name)}</a>${
      tells &&
      one.onFrontier &&
      html` <span class="tag" title="No other compound is as good in all that is asked and better in something">not beaten</span>`
    }</th>
<td class="number strong">${meetsAllProbability === null ? html`<span class="none">unknown</span>` : probability(meetsAllProbability)}</td>${meets.map(
      (judged, k) =>
        answerCell(
          judged,
          requirements[k],
          compounds[index].outlooks.find(({ use }) => use === requirements[k].use),
        ),
    )}</tr>`;
  });
  return html`${nextTest !== null && html`<p>Next test, ${nameHtml(nextTest.compound)}: ${asPrinted(nextTest.test)} ${nextTest.why}</p>`}
<div class="table-frame${compounds.length > 16 && " tall"}" role="group" aria-label="Requirements by compound" tabindex="0"><table class="facts">
<caption>Probability that each requirement is met, from the draws behind the intervals <a class="source" href="#method-decision">method</a></caption>
<thead><tr><th scope="col">Compound</th><th scope="col" class="number">All together</th>${requirements.map(
    (requirement) =>
      html`<th scope="col">${requirement.name}<span class="interval">${limitWords(requirement)}</span></th>`,
  )}</tr></thead>
<tbody>${rows}</tbody></table></div>${
    !tells &&
    placed > 1 &&
    html`<p class="small">For ${onFrontier} of ${placed < compounds.length ? `the ${placed} compounds of which all that is asked is known` : `${placed} compounds`} no other is as good in everything that is asked, so that alone does not choose between them.</p>`
  }`;
}

/** "rebound at least 40 % in cold dry road": the limit as the requirement states it. */
function limitWords({ quantity, use, unit, atLeast, atMost, verdict }: Requirement): string {
  const value = (limit: number) => withMinusSign(shownLimit(quantity, limit, unit));
  const limits = [
    ...(verdict === undefined ? [] : [`${verdict} or warmer`]),
    ...(atLeast === undefined ? [] : [`at least ${value(atLeast)}`]),
    ...(atMost === undefined ? [] : [`at most ${value(atMost)}`]),
  ].join(", ");
  return `${quantity === "verdict" ? "" : `${quantity} `}${limits}${use === null ? "" : `, ${use}`}`;
}

function shownLimit(quantity: string, limit: number, unit: string): string {
  if (quantity === "rebound") return `${Number((100 * limit).toPrecision(12))}\u202f%`;
  return unit === "1" || unit === "" ? `${limit}` : `${limit}\u202f${unit}`;
}

function answerCell(
  { answer, probability: met, value, asStated }: Judgement,
  requirement: Requirement,
  outlook: Outlook | undefined,
): Html {
  const isBounded = requirement.quantity === "rebound" && outlook?.rebound?.strainBasis === "small strain";
  const but =
    answer === "meets"
      ? metBut(requirement, outlook)
      : answer === "open" && isBounded
        ? "from data at small strain only, an upper bound in tendency"
        : null;
  return html`<td><b class="${answer}">${answer}</b>${
    met !== null &&
    answer !== "unknown" &&
    html` <span class="interval">${asStated ? "as stated" : probability(met)}</span>`
  }${value !== null && html` <span class="interval">${shown(value, requirement, asStated)}</span>`}${but !== null && html` <span class="interval but">${but}</span>`}</td>`;
}

/** What takes the plain "meets" back: the state is not surely rubbery. */
function metBut({ quantity }: Requirement, outlook: Outlook | undefined): string | null {
  if (outlook === undefined || quantity === "verdict") return null;
  const verdict = outlook.cold?.verdict ?? null;
  if (verdict === null) return "but its state there is not determined";
  if (verdict === "rubbery") return null;
  return verdict === "leathery or rubbery" ? "but may be leathery there" : `but is ${verdict} there`;
}

/** The central value as the requirement states it, a single reading in its own digits; of a verdict the distance from its border. */
function shown(value: number, { quantity, unit }: Requirement, asStated: boolean): string {
  if (quantity === "verdict") return `${value < 0 ? "" : "+"}${fixed(value, 0)}\u202fK`;
  if (quantity === "rebound") return `${fixed(100 * value, 0)}\u202f%`;
  const digits = asStated ? withMinusSign(String(Number(value.toPrecision(3)))) : significant(value);
  return `${digits}${unit === "1" ? "" : `\u202f${unit}`}`;
}
