import { answerCard } from "../../html/answer/answer-card.js";
import { cardCautions } from "../../html/answer/answer-section.js";
import { answerSentence } from "../../html/answer/answer-sentence.js";
import { decisionTable } from "../../html/answer/decision-section.js";
import { worstFirst } from "../../html/answer/ranking.js";
import { mapAxes, mapCautions, mapTable, mapTitle } from "../../html/answer/trade-off-section.js";
import { contactWords, settingWords, verdictMatrix } from "../../html/answer/verdict-matrix.js";
import { type Html, html } from "../../html/html.js";
import { statedTemperature } from "../../html/numbers.js";
import type { PageState } from "../page-state.js";
import { isContactOfStudy, type Moment, type Setting, useOf } from "./predictions.js";
import type { View } from "./view.js";

const byId = (id: string) => document.getElementById(id);

/**
 * Writes what is not there already, so that nothing that stays loses its focus or its place, nor what is written anew
 * the place it was scrolled to.
 */
function write(place: Element | null, markup: Html | string): boolean {
  const text = typeof markup === "string" ? markup : markup.markup;
  const written = writtenText.get(place!);
  if (place === null || written === text) return false;
  writtenText.set(place, text);
  place.innerHTML = text;
  const scrolled = scrolledTo.get(place);
  if (scrolled !== undefined) place.querySelector(".table-frame, .matrix-frame")?.scrollTo(scrolled);
  return true;
}
const writtenText = new WeakMap<Element, string>();

/** Where the table in a part was scrolled to; asking the part itself would lay it out, in sight or not. */
const scrolledTo = new WeakMap<Element, { top: number; left: number }>();

/** Takes the rows out of sight away before anything of a new setting is known: marking them would lay them all out. */
function dropRest(part: Element): void {
  const rest = part.querySelector("tr.rest");
  if (rest === null || rest.nextElementSibling === null) return;
  const count = rest.parentElement!.childElementCount - 1;
  rest.firstElementChild!.textContent = `The other ${count} compounds follow …`;
  while (rest.nextElementSibling !== null) rest.nextElementSibling.remove();
  part.querySelector(".tall")?.classList.add("awaits-rows");
  writtenText.delete(part);
}

function followScroll(part: Element | null): void {
  part?.addEventListener(
    "scroll",
    ({ target }) => {
      const { scrollTop: top, scrollLeft: left } = target as Element;
      if (top === 0 && left === 0) scrolledTo.delete(part);
      else scrolledTo.set(part, { top, left });
    },
    { capture: true, passive: true },
  );
}

/** Marks parts whose numbers are still to come. */
export function markPending(place: Element | null, what: "intervals" | "judged", isPending: boolean): void {
  if (place === null) return;
  place.setAttribute(`data-${what}`, isPending ? "pending" : "yes");
  place.setAttribute(
    "aria-busy",
    String([...place.attributes].some(({ name, value }) => name.startsWith("data-") && value === "pending")),
  );
}

/**
 * Headline, card, map table, requirements and matrix: written from one moment, all together.
 *
 * @param written is told of each part that was written anew, so that tools can be added to it
 */
export function shownAnswer(state: PageState, view: View, written: (part: Element) => void) {
  const reference = state.compounds.map((compound) => compound.isReference);
  const parts = {
    card: byId("card"),
    map: byId("map-numbers"),
    asked: byId("decision-table"),
    matrix: byId("matrix"),
  };
  const writePart = (part: Element | null, markup: Html) => {
    if (write(part, markup)) written(part!);
  };
  const isFinding = () => !!document.querySelector<HTMLInputElement>("#card-tools input")?.value.trim();
  for (const part of Object.values(parts)) followScroll(part);
  /** Of many compounds those in sight come first: laying out all of them takes longer than predicting them. */
  const rowsNow = (part: Element | null, isComplete: boolean) =>
    isComplete || (part !== null && scrolledTo.has(part)) || isFinding() ? "all rows" : "first rows";
  const sayComputing = (setting: Setting) =>
    write(
      byId("answer-sentence"),
      html`Computing for ${statedTemperature(setting.temperature_C)}, ${contactWords(useOf(setting))} …`,
    );

  return {
    /** Adds its tools to each part as the report was written. */
    dress(): void {
      for (const part of [parts.card, parts.map]) markPending(part, "intervals", false);
      for (const part of Object.values(parts)) {
        markPending(part, "judged", false);
        if (part !== null) written(part);
      }
    },
    /** Before anything of a new setting is known. */
    announce(setting: Setting): void {
      sayComputing(setting);
      for (const part of [parts.card, parts.map]) {
        if (part !== null && rowsNow(part, false) === "first rows") dropRest(part);
        markPending(part, "intervals", true);
      }
      if (!isContactOfStudy(setting))
        for (const part of [parts.matrix, parts.asked]) markPending(part, "judged", true);
    },
    show(moment: Moment): void {
      const { answer, isComplete, isJudged, setting } = moment;
      for (const place of document.querySelectorAll(".setting-words")) write(place, settingWords(answer));
      // Sentences claim more than a number does: they wait for the intervals.
      if (isComplete && isJudged) write(byId("answer-sentence"), answerSentence(answer));
      else sayComputing(setting);
      writePart(parts.card, answerCard(answer, rowsNow(parts.card, isComplete)));
      write(byId("card-cautions"), cardCautions(answer));
      const axes = mapAxes(answer, view.axes);
      if (axes !== null) {
        write(byId("map-title"), mapTitle(axes));
        writePart(parts.map, mapTable(answer, axes, rowsNow(parts.map, isComplete)));
        write(byId("map-cautions"), mapCautions(answer, axes));
      }
      writePart(parts.asked, decisionTable(answer));
      writePart(parts.matrix, verdictMatrix(answer.compounds, worstFirst(answer.compounds), reference));
      for (const part of [parts.card, parts.map]) markPending(part, "intervals", !isComplete);
      for (const part of [parts.card, parts.asked, parts.matrix]) markPending(part, "judged", !isJudged);
      const isAdded = view.asked.length > state.data.requirements.length;
      sayWhatChanged(setting, state.data.thinned, answer.areLimitsMoved, isAdded);
    },
  };
}

/** Says how what is shown differs from the study. */
function sayWhatChanged(setting: Setting, thinned: boolean, areLimitsMoved: boolean, isAdded: boolean): void {
  const place = byId("changed");
  if (place === null) return;
  const contact = !isContactOfStudy(setting);
  const temperature = setting.temperature_C !== setting.base.temperature_C;
  const words = [
    ...(contact
      ? ["The contact was changed on this page: everything on it holds for the contact as set."]
      : temperature
        ? [
            "The temperature was changed on this page: answer, card and map hold for it; what is asked is judged in the study’s own uses.",
          ]
        : []),
    ...(areLimitsMoved ? [`${isAdded ? "Requirements" : "Limits"} were changed on this page.`] : []),
    ...((contact || temperature || isAdded) && thinned
      ? ["This report holds so many compounds that intervals after a change come from every third draw only."]
      : []),
    ...(contact || temperature || areLimitsMoved ? ["The study’s own numbers are in results.json."] : []),
  ].join(" ");
  place.hidden = words === "";
  if (place.textContent !== words) place.textContent = words;
}
