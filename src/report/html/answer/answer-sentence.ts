import { namesWords } from "../../../predict/decision/decision-words.js";
import type { Outlook } from "../../../predict/outlook.js";
import { lacksSweep } from "../../../predict/outlook-of.js";
import { type Html, html, joinHtml, listHtml, nameHtml } from "../html.js";
import { asPrinted } from "../notices.js";
import { fixed, statedTemperature } from "../numbers.js";
import { type Answer, bestFirst, doubtsOfChoice, doubtWords, isFrost } from "./answer.js";
import { glassyMargin } from "./margin.js";

/** Names beyond this many are counted. */
const mostNamed = 4;

/**
 * The one sentence above the card: which compound to take and why, or what would settle it; where nothing is asked,
 * which compounds stay rubbery in the use that is set. A compound in doubt is never named without its doubt.
 */
export function answerSentence(answer: Answer): Html {
  if (answer.compounds.length === 0) return html`No compound could be read.`;
  if (answer.use === null && answer.decision === null) {
    return html`No verdict on cold weather: the measurements do not reach the frequency of a contact. The glass transitions as measured, and what to run next, stand with each compound.`;
  }
  const asked = choiceSentence(answer);
  return asked === null
    ? html`${stateSentence(answer)}${colderSentence(answer)}${answer.compounds.length > 1 && ` ${answer.areLimitsMoved ? "Every requirement is switched off" : "No requirements are stated"}, so none is chosen.`}`
    : html`${answer.areLimitsMoved && "With the limits set on this page: "}${asked}`;
}

/** Of the decision: the same words as the terminal's, the state in the use that is set, and the doubt. */
function choiceSentence(answer: Answer): Html | null {
  const { decision, compounds } = answer;
  if (decision === null) return null;
  const { names, sentence } = decision.choice;
  const words = asPrinted(sentence);
  const end = words.indexOf("; ", namesWords(names).length);
  const head = end < 0 ? words : words.slice(0, end);
  const chosen = compounds.flatMap(({ name }, index) => (names.includes(name) ? [index] : []));
  const doubted = new Map<string, string[]>();
  for (const index of chosen) {
    const why = doubtsOfChoice(answer, index).join("; ");
    if (why !== "") doubted.set(why, [...(doubted.get(why) ?? []), compounds[index].name]);
  }
  // Each doubt once, with the names that it is about where it is not about all.
  const doubts = [...doubted].map(
    ([why, about]) => html` In doubt${about.length < chosen.length && `, ${namesWords(about)}`}: ${why}.`,
  );
  if (chosen.length === 0) doubts.push(nearest(answer));
  const { nextTest } = decision;
  return html`<b>${head}</b>${end >= 0 && words.slice(end)}${statesOf(answer, chosen, end >= 0)}${doubts}${
    nextTest !== null && html` Next test, ${nameHtml(nextTest.compound)}: ${asPrinted(nextTest.test)}`
  }`;
}

/** Where no compound can be chosen, the one that comes nearest, and what stands in its way. */
function nearest(answer: Answer): Html {
  const [index] = bestFirst(answer);
  const { meets } = answer.decision!.compounds[index];
  const named = (...answers: string[]) =>
    meets.filter((one) => answers.includes(one.answer)).map(({ requirement }) => `“${requirement}”`);
  const fails = named("fails");
  const open = named("open", "unknown");
  const words =
    fails.length > 0
      ? `it fails ${fails.length} of ${meets.length}, ${fails.join(", ")}`
      : `it fails nothing for certain; open: ${open.join(", ")}`;
  const doubts = doubtsOfChoice(answer, index);
  if (meets.length > 0 && answer.compounds.length === 1)
    return html`${fails.length > 1 && ` In all it fails ${fails.length} of ${meets.length}, ${fails.join(", ")}.`}${fails.length === 0 && open.length > 0 && ` Open: ${open.join(", ")}.`}${doubts.length > 0 && html` In doubt: ${doubts.join("; ")}.`}${stateOf(answer, index, false)}`;
  return html` Nearest is ${nameHtml(answer.compounds[index].name)}: ${words}${doubts.length > 0 && html` (in doubt: ${doubts.join("; ")})`}.${stateOf(answer, index, false)}`;
}

/** The states of the chosen: of many the one that they share, or those of the first two. */
function statesOf(answer: Answer, chosen: number[], isNamed: boolean): Html {
  const { use, outlooks } = answer;
  const [state, ...others] = new Set(chosen.map((index) => stateWords(outlooks[index])));
  if (use !== null && chosen.length > 2 && others.length === 0)
    return html` At ${statedTemperature(use.temperature_C)} all ${chosen.length} are ${state}.`;
  return html`${chosen.slice(0, 2).map((index) => stateOf(answer, index, chosen.length > 1 || isNamed))}`;
}

/** " At −20 °C it is rubbery, 23 K above the glassy border."; named where "it" could be another compound. */
function stateOf({ use, outlooks, compounds }: Answer, index: number, isNamed: boolean): Html {
  if (use === null) return html``;
  const who = isNamed ? nameHtml(compounds[index].name) : "it";
  return html` At ${statedTemperature(use.temperature_C)} ${who} is ${stateWords(outlooks[index])}.`;
}

function stateWords(outlook: Outlook | undefined): string {
  const cold = outlook?.cold ?? null;
  if (lacksSweep(outlook)) return "without a sweep, so without a verdict, and possibly glassy";
  if (cold === null) return "not determined, so possibly glassy";
  const margin = cold.verdict.includes(" or ") ? null : glassyMargin(cold);
  if (margin === null) return cold.verdict;
  const side = margin.value < 0 ? "below" : "above";
  return `${cold.verdict}, ${fixed(Math.abs(margin.value), 0)}\u202fK ${side} the glassy border`;
}

/** Where nothing is asked: which compounds are surely rubbery there, which glassy, and what is not known. */
function stateSentence(answer: Answer): Html {
  const { use, compounds, outlooks } = answer;
  const at = html`At ${statedTemperature(use!.temperature_C)}`;
  const order = bestFirst(answer);
  const verdictOf = (index: number) => outlooks[index]?.cold?.verdict ?? null;
  const named = (index: number) => {
    const doubts = doubtWords(answer, index);
    return html`${nameHtml(compounds[index].name)}${doubts.length > 0 && html` (in doubt: ${doubts[0]})`}`;
  };
  const list = (indices: number[]) =>
    indices.length <= mostNamed
      ? listHtml(indices.map(named))
      : html`${indices.length} of ${compounds.length} compounds`;
  /** Of many the first few by name, in the order of the card. */
  const first = (indices: number[]) =>
    html`, ${listHtml(indices.slice(0, mostNamed - 1).map(named))} ${isFrost(answer) ? "farthest above the glassy border" : "first by grip"}`;
  const unswept = order.filter((index) => lacksSweep(outlooks[index]));
  const unknown = order.filter((index) => verdictOf(index) === null && !unswept.includes(index));
  if (compounds.length === 1) {
    const doubts = doubtWords(answer, 0);
    return html`${at} <b>${nameHtml(compounds[0].name)} is ${stateWords(outlooks[0])}</b>${doubts.length > 0 && html` (in doubt: ${doubts.join("; ")})`}.${unknown.length + unswept.length > 0 && missing(outlooks[0])}`;
  }
  const rubbery = order.filter((index) => verdictOf(index) === "rubbery");
  const glassy = order.filter((index) => verdictOf(index) === "glassy");
  const perhaps = order.filter((index) => verdictOf(index) === "glassy or leathery");
  const parts: Html[] = [];
  if (rubbery.length > 0) {
    const all = rubbery.length === compounds.length;
    parts.push(
      html`<b>${all ? html`${compounds.length === 2 ? "both" : `all ${compounds.length}`} compounds are rubbery` : html`${list(rubbery)} ${rubbery.length === 1 ? "is" : "are"} rubbery`}</b>${rubbery.length > mostNamed && first(rubbery)}${best(answer, rubbery)}`,
    );
  } else {
    const [nearest] = order.filter((index) => verdictOf(index) !== null);
    parts.push(
      html`<b>no compound is surely rubbery</b>${nearest !== undefined && html`; nearest is ${named(nearest)}: ${stateWords(outlooks[nearest])}`}`,
    );
  }
  if (glassy.length > 0) parts.push(html`${list(glassy)} ${glassy.length === 1 ? "is" : "are"} glassy`);
  if (perhaps.length > 0) parts.push(html`${list(perhaps)} may be glassy`);
  if (unknown.length > 0)
    parts.push(
      html`${list(unknown)} ${unknown.length === 1 ? "is" : "are"} not determined, so possibly glassy`,
    );
  if (unswept.length > 0)
    parts.push(
      html`${list(unswept)} ${unswept.length === 1 ? "has" : "have"} no sweep, so no verdict, and could be glassy`,
    );
  return html`${at} ${joinHtml(parts, "; ")}.${unknown.length > 0 && (rubbery.length === 0 || unknown.length === 1) && missing(outlooks[unknown[0]])}`;
}

/** Which of the rubbery ones grips most, where that is more than an interval can blur and no frost forbids it. */
function best(answer: Answer, rubbery: number[]): Html {
  if (isFrost(answer)) return html``;
  const gripping = rubbery
    .flatMap((index) => {
      const grip = answer.outlooks[index]?.grip ?? null;
      return grip === null ? [] : [{ index, grip }];
    })
    .sort((a, b) => b.grip.frictionCoefficient - a.grip.frictionCoefficient);
  if (gripping.length < 2) return html``;
  const [first, second] = gripping;
  // What both share, the cut-off, cancels in their ratios to the reference.
  const isBest =
    first.grip.relativeToReference !== undefined && second.grip.relativeToReference !== undefined
      ? first.grip.relativeToReference.low > second.grip.relativeToReference.high
      : first.grip.low > second.grip.high;
  if (!isBest) return html``;
  const doubts = doubtWords(answer, first.index);
  return html`, of these ${nameHtml(answer.compounds[first.index].name)} grips most (µ ${fixed(first.grip.frictionCoefficient, 2)})${doubts.length > 0 && html`, in doubt: ${doubts[0]}`}`;
}

/** " A sweep from −90 °C …": what would settle a verdict that is missing. */
function missing(outlook: Outlook | undefined): Html {
  return html`${outlook?.verdictMissing !== undefined && html` ${asPrinted(outlook.verdictMissing)}`}`;
}

/** What the study's colder uses bring: how many are glassy, or may be, where it begins and in the coldest. */
function colderSentence({ use, compounds }: Answer): Html {
  const colder = [
    ...new Set(compounds.flatMap(({ outlooks }) => outlooks.map((outlook) => outlook.temperature_C))),
  ]
    .filter((temperature_C) => temperature_C < use!.temperature_C)
    .sort((a, b) => b - a)
    .flatMap((temperature_C) => {
      const words = glassyWords(compounds, temperature_C);
      return words === null ? [] : [{ at: statedTemperature(temperature_C), words }];
    });
  const [first] = colder;
  const last = colder.at(-1);
  if (first === undefined || last === undefined) return html``;
  return html` Colder, at ${first.at}, ${first.words}${last !== first && last.words !== first.words && `; at ${last.at} ${last.words}`}.`;
}

/** "1 is glassy and 2 may be"; null where none is or may be. */
function glassyWords(compounds: Answer["compounds"], temperature_C: number): string | null {
  const there = compounds.map(({ outlooks }) =>
    outlooks
      .filter((outlook) => outlook.temperature_C === temperature_C)
      .map(({ cold }) => cold?.verdict ?? null),
  );
  const glassy = there.filter((verdicts) => verdicts.includes("glassy")).length;
  const perhaps = there.filter(
    (verdicts) => !verdicts.includes("glassy") && verdicts.includes("glassy or leathery"),
  ).length;
  if (glassy + perhaps === 0) return null;
  if (compounds.length === 1) return `it ${glassy > 0 ? "is" : "may be"} glassy`;
  return [
    ...(glassy > 0 ? [`${glassy} ${glassy === 1 ? "is" : "are"} glassy`] : []),
    ...(perhaps > 0 ? [`${perhaps} may be${glassy > 0 ? "" : " glassy"}`] : []),
  ].join(" and ");
}
