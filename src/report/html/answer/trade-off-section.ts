import { frostCaution, gripCaution } from "../cautions-section.js";
import { compoundIds } from "../compound-ids.js";
import { type Html, html, nameHtml } from "../html.js";
import { interval, intervalIn } from "../numbers.js";
import { plotFigure } from "../plot-figures.js";
import { type Answer, bestFirst, doubtWords, isFrost } from "./answer.js";
import { frameClass, inSight, restRows, type ShownRows } from "./answer-card.js";
import {
  axisTitle,
  grip,
  margin,
  type Quantity,
  quantitiesOf,
  rebound,
  relativeGrip,
  type Subject,
} from "./quantities.js";
import { verdictTag } from "./verdict.js";
import { settingWords } from "./verdict-matrix.js";

/** What the map shows to the right and upwards. */
export interface MapAxes {
  x: Quantity;
  y: Quantity;
}

const subjectsOf = ({ compounds, outlooks }: Answer) =>
  compounds.map(({ properties }, index) => ({ outlook: outlooks[index], properties }));

/** All that can be an axis of the map. */
export const axisChoices = (answer: Answer): Quantity[] => quantitiesOf(subjectsOf(answer));

/**
 * The axes as chosen; unchosen, rebound to the right and grip upwards, in frost the margin in place of grip, which must
 * not rank there. Null where there are not two numbers to compare.
 */
export function mapAxes(answer: Answer, chosen: { x: string | null; y: string | null }): MapAxes | null {
  const choices = axisChoices(answer);
  if (choices.length < 2) return null;
  const find = (...keys: (string | null)[]) =>
    keys.flatMap((wanted) => choices.find(({ key }) => key === wanted) ?? [])[0];
  const y = find(chosen.y, isFrost(answer) ? margin.key : grip.key, grip.key) ?? choices[0];
  const x = find(chosen.x, rebound.key) ?? choices.find((one) => one !== y)!;
  return { x, y };
}

/** "Grip µ against rebound". */
export function mapTitle({ x, y }: MapAxes): string {
  return `${y.label} against ${x.label.charAt(0).toLowerCase()}${x.label.slice(1)}`;
}

function cell(quantity: Quantity, subject: Subject): Html {
  const reading = quantity.read(subject);
  if (reading === null) return html`<span class="none">—</span>`;
  const { value, low, high } = reading;
  return quantity.isMeasured
    ? html`${interval(value, low, high, quantity.unit)}${low === null && html` <span class="interval">as stated</span>`}`
    : intervalIn(value, low, high, quantity.unit, quantity.decimals);
}

/** The map's numbers as a table, the compounds to choose first. */
export function mapTable(answer: Answer, axes: MapAxes, shown: ShownRows = "all rows"): Html {
  const { compounds, outlooks } = answer;
  const ids = compoundIds(compounds.map(({ name }) => name));
  const columns = axes.x === axes.y ? [axes.y] : [axes.y, axes.x];
  const subjects = subjectsOf(answer);
  const { first, rest } = inSight(compounds, bestFirst(answer));
  const row = (index: number) => {
    const doubts = doubtWords(answer, index);
    return html`<tr data-compound="${index}"><th scope="row"><a href="#${encodeURIComponent(ids[index])}">${nameHtml(compounds[index].name)}</a>${compounds[index].isReference && html` <span class="tag">reference</span>`}${doubts.length > 0 && html` <span class="doubt" title="${doubts.join("; ")}">in doubt: ${doubts[0]}</span>`}</th>
<td>${verdictTag(outlooks[index]?.cold?.verdict ?? null)}</td>${columns.map((quantity) => html`<td class="number${quantity.isMeasured && " measured"}">${cell(quantity, subjects[index])}</td>`)}</tr>`;
  };
  return html`<div class="${frameClass(rest, shown)}" role="group" aria-label="The map’s numbers" tabindex="0"><table class="facts" id="map-table"><thead><tr><th scope="col">Compound</th><th scope="col">Verdict</th>${columns.map((quantity) => html`<th scope="col" class="number">${axisTitle(quantity)}</th>`)}</tr></thead><tbody>${first.map(row)}</tbody>${restRows(rest, shown, 2 + columns.length, row)}</table></div>`;
}

/** The cautions that belong to the axes. */
export function mapCautions(answer: Answer, { x, y }: MapAxes): Html {
  const shows = [x, y].some((one) => one === grip || one === relativeGrip);
  return html`${shows && gripCaution()}${shows && isFrost(answer) && frostCaution()}`;
}

/** Two quantities against one another in the use that is set: the map, its numbers, and the place for the axes. */
export function tradeOffSection(answer: Answer): Html {
  const axes = mapAxes(answer, { x: null, y: null });
  if (axes === null) {
    return html`<section id="trade-off"><h2>Trade-off map</h2><p class="why">Nothing to compare: no compound has two numbers that a map could show. The notices of each compound say which measurement is missing.</p></section>`;
  }
  return html`<section id="trade-off"><h2>Trade-off map</h2>
<p><span id="map-title">${mapTitle(axes)}</span> at <span class="setting-words">${settingWords(answer)}</span></p>
<form class="axes" id="axes" hidden></form>
<div class="map-and-table">
${plotFigure({
  kind: "trade-off",
  compound: null,
  title: "Trade-off map",
  caption: html`Crosses are 95 % intervals. Shape and colour are the verdict: square glassy, diamond leathery, disc rubbery. A ring marks the reference compound. The table holds the same numbers.`,
  sources: html`<a class="source" href="#method-grip">grip</a> <a class="source" href="#method-rebound">rebound</a> <a class="source" href="#method-cold">verdict</a> <a class="source" href="#method-intervals">intervals</a>`,
})}
<div class="map-table"><div id="map-numbers">${mapTable(answer, axes)}</div><div id="map-cautions">${mapCautions(answer, axes)}</div></div>
</div></section>`;
}
