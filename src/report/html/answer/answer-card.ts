import { practicallyNone } from "../../../predict/contact/friction.js";
import type { DecidedCompound } from "../../../predict/decision/decision.js";
import { compoundIds } from "../compound-ids.js";
import { type Html, html, nameHtml } from "../html.js";
import { fixed, interval, intervalIn } from "../numbers.js";
import { type Answer, bestFirst, doubtsOfChoice, doubtWords, isFrost } from "./answer.js";
import { marginWithInterval } from "./margin.js";
import { probability } from "./probability.js";
import {
  grip,
  measuredQuantitiesOf,
  peakForce,
  practicallyNoGrip,
  type Quantity,
  type Reading,
  rebound,
  relativeGrip,
  type Subject,
} from "./quantities.js";
import { verdictClass, verdictTag } from "./verdict.js";

/** Whether of a long table all rows are written, or at first those in sight. */
export type ShownRows = "all rows" | "first rows";

/** Beyond this many compounds the best and those that matter stand first, and the rest is scrolled to. */
const manyRows = 16;
const bestOfMany = 10;

/** Of many compounds those that stand in sight, and the rest. */
export function inSight(
  compounds: Answer["compounds"],
  order: number[],
): { first: number[]; rest: number[] } {
  const matters = (index: number, place: number) => place < bestOfMany || compounds[index].isReference;
  const first = compounds.length > manyRows ? order.filter(matters) : order;
  return { first, rest: order.filter((index) => !first.includes(index)) };
}

export function frameClass(rest: number[], rows: ShownRows): string {
  if (rest.length === 0) return "table-frame";
  return `table-frame tall${rows === "first rows" ? " awaits-rows" : ""}`;
}

/** The rest of a long table under a line of its own. */
export function restRows(
  rest: number[],
  rows: ShownRows,
  columns: number,
  row: (index: number) => Html,
): Html {
  if (rest.length === 0) return html``;
  return html`<tbody><tr class="rest"><th colspan="${columns}" scope="rowgroup">The other ${rest.length} compounds${rows === "all rows" ? ", in the same order" : " follow …"}</th></tr>${rows === "all rows" && rest.map(row)}</tbody>`;
}

/** Without a requirement these say most of durability. */
const usualProperties = ["abrasion loss", "abrasion resistance index", "hardness"];
const mostProperties = 2;

/** The measured properties that stand on the card: what is asked first, else abrasion and hardness. */
function cardProperties({ decision, compounds }: Answer): Quantity[] {
  const all = measuredQuantitiesOf(compounds);
  const place = ({ key }: Quantity) => {
    const asked = decision?.requirements.findIndex(({ quantity }) => quantity === key) ?? -1;
    if (asked >= 0) return asked;
    const usual = usualProperties.indexOf(key);
    return usual < 0 ? Number.POSITIVE_INFINITY : 1000 + usual;
  };
  return all
    .filter((one) => Number.isFinite(place(one)))
    .sort((a, b) => place(a) - place(b))
    .slice(0, mostProperties);
}

const none = html`<span class="none">—</span>`;

/** The digits that a measured value deserves; a predicted one keeps its column's decimals. */
function readingHtml(quantity: Quantity, reading: Reading | null): Html {
  if (reading === null) return none;
  const { value, low, high } = reading;
  if (quantity === grip && value < practicallyNone) return practicallyNoGrip;
  if (!quantity.isMeasured) return intervalIn(value, low, high, quantity.unit, quantity.decimals);
  return low === null || high === null
    ? html`<span class="value">${Number(value.toPrecision(3))}\u202f${quantity.unit}</span> <span class="interval">as stated</span>`
    : interval(value, low, high, quantity.unit);
}

interface Column {
  quantity: Quantity;
  heading: Html;
  cell(subject: Subject): Html;
}

function columnsOf(answer: Answer, subjects: Subject[]): Column[] {
  const has = (quantity: Quantity) => subjects.some((subject) => quantity.read(subject) !== null);
  const plain = (quantity: Quantity, heading: Html): Column => ({
    quantity,
    heading,
    cell: (subject) => readingHtml(quantity, quantity.read(subject)),
  });
  const frost = isFrost(answer) && html`<span class="interval">frost: not to rank by</span>`;
  const gripColumn: Column[] = has(relativeGrip)
    ? [
        {
          quantity: relativeGrip,
          heading: html`Grip to reference${frost || html`<span class="interval">beside it µ</span>`}`,
          cell: (subject) => {
            const ratio = relativeGrip.read(subject);
            const own = grip.read(subject);
            if (ratio === null) return readingHtml(grip, own);
            const µ =
              own !== null &&
              html`<span class="beside-value">µ ${own.value < practicallyNone ? "practically none" : fixed(own.value, 3)}</span>`;
            // The reference against itself is exactly 1.
            return ratio.low === 1 && ratio.high === 1
              ? html`${µ} <span class="value">1</span>`
              : html`${µ} ${intervalIn(ratio.value, ratio.low, ratio.high, "", 2)}`;
          },
        },
      ]
    : has(grip)
      ? [plain(grip, html`Grip µ${frost}`)]
      : [];
  return [
    ...gripColumn,
    ...(has(rebound) ? [plain(rebound, html`Rebound`)] : []),
    ...(has(peakForce) ? [plain(peakForce, html`Cushioning<span class="interval">peak force</span>`)] : []),
    ...cardProperties(answer).map((quantity) =>
      plain(quantity, html`${quantity.label}<span class="interval">measured</span>`),
    ),
  ];
}

/** What a compound is asked and how it stands to it, in a word, a probability, and the names that decide. */
function askedCell(decided: DecidedCompound, doubts: string[]): Html {
  const named = (answer: DecidedCompound["meets"][number]["answer"]) =>
    decided.meets.filter((one) => one.answer === answer).map(({ requirement }) => requirement);
  const names = (all: string[]) =>
    html`<span class="interval">${all.slice(0, 3).join("; ")}${all.length > 3 && ` and ${all.length - 3} more`}</span>`;
  const all = decided.meets.length;
  const fails = named("fails");
  if (fails.length > 0) return html`<b class="fails">fails ${fails.length} of ${all}</b>${names(fails)}`;
  const open = [...named("open"), ...named("unknown")];
  const p = decided.meetsAllProbability;
  if (open.length > 0) return html`<b>open</b>${p !== null && html` ${probability(p)}`}${names(open)}`;
  return html`<b class="meets">meets all ${all}</b>${p !== null && html`<span class="interval">probability ${probability(p)}</span>`}${doubts.length > 0 && html`<span class="doubt">in doubt: ${doubts.join("; ")}</span>`}`;
}

/**
 * One row a compound in the use that is set, the ones to choose first: verdict with margin, grip, rebound, cushioning,
 * durability as measured, what is asked and whether it is met, and a word of doubt.
 *
 * @param rows of many compounds, whether the rest is there yet
 */
export function answerCard(answer: Answer, rows: ShownRows = "all rows"): Html {
  const { compounds, outlooks, decision, use } = answer;
  const subjects = compounds.map(({ properties }, index) => ({ outlook: outlooks[index], properties }));
  const columns = columnsOf(answer, subjects);
  const { first, rest } = inSight(compounds, bestFirst(answer));
  const ids = compoundIds(compounds.map(({ name }) => name));
  const row = (index: number) => {
    const { name, isReference } = compounds[index];
    const cold = outlooks[index]?.cold ?? null;
    const doubts = doubtWords(answer, index);
    return html`<tr data-compound="${index}"><th scope="row"><a href="#${encodeURIComponent(ids[index])}">${nameHtml(name)}</a>${isReference && html` <span class="tag">reference</span>`}${
      doubts.length > 0 &&
      html` <span class="doubt" title="${doubts.join("; ")}">in doubt: ${doubts[0]}${doubts.length > 1 && ` +${doubts.length - 1}`}</span>`
    }</th>
${decision !== null && html`<td class="asked">${askedCell(decision.compounds[index], doubtsOfChoice(answer, index))}</td>`}${use !== null && html`<td class="cell ${verdictClass(cold?.verdict ?? null)}">${verdictTag(cold?.verdict ?? null)}${marginWithInterval(cold)}</td>`}${columns.map(
  ({ quantity, cell }) =>
    html`<td class="number${quantity.isMeasured && " measured"}" data-quantity="${quantity.key}">${cell(subjects[index])}</td>`,
)}</tr>`;
  };
  const width = 1 + (use === null ? 0 : 1) + columns.length + (decision === null ? 0 : 1);
  return html`<div class="${frameClass(rest, rows)}" role="group" aria-label="The answer, compound by compound" tabindex="0"><table class="facts card" id="answer-card">
<thead><tr><th scope="col">Compound</th>${decision !== null && html`<th scope="col">What is asked <a class="source" href="#decision">limits</a></th>`}${use !== null && html`<th scope="col">Verdict<span class="interval">K above the glassy border</span></th>`}${columns.map(
    ({ heading }) => html`<th scope="col" class="number">${heading}</th>`,
  )}</tr></thead>
<tbody>${first.map(row)}</tbody>${restRows(rest, rows, width, row)}</table></div>`;
}

/** Whether any compound stands in doubt in the use that is set: then the legend says what that means. */
export const anyDoubt = (answer: Answer) =>
  answer.compounds.some((_, index) => doubtWords(answer, index).length > 0);
