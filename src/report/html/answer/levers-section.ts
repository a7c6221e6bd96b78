import type { LeverChange, Levers, Trade } from "../../../predict/decision/lever-schema.js";
import { changeValue, isTold, loadWords, unsaidSentence } from "../../../predict/decision/lever-words.js";
import type { Results } from "../../results/results.js";
import { type Html, html, nameHtml } from "../html.js";
import { asPrinted } from "../notices.js";
import { significant } from "../numbers.js";

/** What slopes are shown for: steps as a recipe takes them. */
const slopeStep = { phr: "10 phr", "% by volume": "1 % by volume", nm: "10 nm" } as const;

/** What a change of filler would do to what fails; nothing where nothing fails or nothing is asked. */
export function leversSection({ decision }: Results): Html {
  const levers = decision?.levers;
  if (levers === undefined || levers.trades.length === 0) return html``;
  const said = levers.trades.filter(({ series }) => series !== null);
  return html`<section id="levers"><h2>What a change of filler would do</h2>
<p>For a compound that fails a limit of the study file: the load of filler at which the study’s own series reaches it, and what that changes elsewhere, on straight lines between measured compounds and never outside them. <a class="source" href="#method-levers">method</a></p>
<p class="changed" id="levers-limits" role="status" hidden>Limits were changed on this page. What follows holds for those of the study file.</p>
${said.map((trade) => tradeFold(trade, levers))}
${unsaidLine(levers.trades)}
${levers.series.filter(({ steps }) => steps.length > 0).map(stepsFold)}
<p class="small">${levers.remark}</p>
<p class="caution-line">${asPrinted(levers.caution)}</p></section>`;
}

function unsaidLine(trades: Trade[]): Html {
  const sentence = unsaidSentence(
    trades.filter(({ series }) => series === null).map(({ compound }) => compound),
  );
  return html`${sentence !== null && html`<div class="series"><p>${sentence}</p></div>`}`;
}

function tradeFold(trade: Trade, levers: Levers): Html {
  const { loadUnit } = levers.series.find(({ name }) => name === trade.series)!;
  if (trade.changes.length === 0) return html`<div class="series"><p>${asPrinted(trade.sentence)}</p></div>`;
  const rows = trade.changes.map(
    (one) => html`<tr><th scope="row">${quantityHtml(one)}</th>
<td class="number">${changeValue(one.from, one)}</td>
<td class="number">${changeValue(one.to, one)}</td>
<td class="number strong">${changeHtml(one)}</td>
<td class="number">${slopeHtml(one, loadUnit)}</td>
<td>${one.answer === null ? "—" : html`<b>${one.answer}</b>`}</td></tr>`,
  );
  return html`<div class="series"><p>${asPrinted(trade.sentence)}</p>
<details class="more"><summary>${nameHtml(trade.compound)}, ${trade.requirement}: all that it changes</summary>
<div class="table-frame" role="group" aria-label="${trade.compound}, ${trade.requirement}: what filler changes" tabindex="0"><table class="facts"><thead><tr><th scope="col">Quantity</th><th scope="col" class="number">At ${loadWords(trade.load!, loadUnit)}</th><th scope="col" class="number">At ${loadWords(trade.changedLoad!, loadUnit)}</th><th scope="col" class="number">Change</th><th scope="col" class="number">For ${slopeStep[loadUnit]}</th><th scope="col">Asked</th></tr></thead><tbody>${rows}</tbody></table></div></details></div>`;
}

/** What each step of the series did, compound to compound. */
function stepsFold({ name, loadUnit, steps }: Levers["series"][number]): Html {
  const keys = [...new Map(steps.flatMap(({ changes }) => changes).map((one) => [keyOf(one), one])).values()];
  const rows = keys.map(
    (one) =>
      html`<tr><th scope="row">${quantityHtml(one)}</th>${steps.map(({ changes }) => {
        const own = changes.find((each) => keyOf(each) === keyOf(one));
        return html`<td class="number">${own === undefined ? "—" : slopeHtml(own, loadUnit)}</td>`;
      })}</tr>`,
  );
  const heads = steps.map(
    ({ from, to, fromLoad, toLoad }) =>
      html`<th scope="col" class="number">${nameHtml(from)} to ${nameHtml(to)}<span class="interval">${significant(fromLoad)} to ${loadWords(toLoad, loadUnit)}</span></th>`,
  );
  return html`<details class="more"><summary>${nameHtml(name)}: what each step of filler did, as measured and predicted</summary>
<div class="table-frame" role="group" aria-label="${name}: step by step" tabindex="0"><table class="facts"><caption>Change for ${slopeStep[loadUnit]} more, between one compound and the next, with its 95 % interval; values without repeats have none</caption><thead><tr><th scope="col">Quantity</th>${heads}</tr></thead><tbody>${rows}</tbody></table></div></details>`;
}

const keyOf = ({ quantity, use, unit, requirement }: LeverChange) =>
  JSON.stringify([quantity, use, unit, requirement]);

function quantityHtml(one: LeverChange): Html {
  return html`${one.quantity === "verdict" ? "margin to the border" : one.quantity}<span class="interval">${one.requirement ?? one.use ?? "as measured"}</span>`;
}

function changeHtml(one: LeverChange): Html {
  const { value, low, high } = one.change;
  const write = (number: number) => changeValue(number, one, true);
  return html`${write(value)}${low !== null && high !== null && html` <span class="interval">${write(low)} to ${write(high)}</span>`}${!isTold(one.change) && html` <span class="interval">not told from none</span>`}`;
}

function slopeHtml({ slope, ...one }: LeverChange, loadUnit: keyof typeof slopeStep): Html {
  const { value, low, high } = slope;
  const scale = Number.parseFloat(slopeStep[loadUnit]);
  const write = (number: number) => changeValue(Number((scale * number).toPrecision(2)), one, true);
  return html`${write(value)}${low !== null && high !== null && html` <span class="interval">${write(low)} to ${write(high)}</span>`}`;
}
