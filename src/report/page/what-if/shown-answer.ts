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

/** Writes what is not there already, so that nothing that stays loses its focus or its place. */
function write(place: Element | null, markup: Html | string): void {
  const text = typeof markup === "string" ? markup : markup.markup;
  const written = writtenText.get(place!);
  if (place === null || written === text) return;
  writtenText.set(place, text);
  place.innerHTML = text;
}
const writtenText = new WeakMap<Element, string>();

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
export function shownAnswer(state: PageState, view: View, written: (part: Element | null) => void) {
  const reference = state.compounds.map((compound) => compound.isReference);
  const parts = {
    card: byId("card"),
    map: byId("map-numbers"),
    asked: byId("decision-table"),
    matrix: byId("matrix"),
  };
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
        written(part);
      }
    },
    /** Before anything of a new setting is known. */
    announce(setting: Setting): void {
      sayComputing(setting);
      for (const part of [parts.card, parts.map]) markPending(part, "intervals", true);
      if (!isContactOfStudy(setting))
        for (const part of [parts.matrix, parts.asked]) markPending(part, "judged", true);
    },
    show(moment: Moment): void {
      const { answer, isComplete, isJudged, setting } = moment;
      for (const place of document.querySelectorAll(".setting-words")) write(place, settingWords(answer));
      // Sentences claim more than a number does: they wait for the intervals.
      if (isComplete && isJudged) write(byId("answer-sentence"), answerSentence(answer));
      else sayComputing(setting);
      write(parts.card, answerCard(answer));
      write(byId("card-cautions"), cardCautions(answer));
      const axes = mapAxes(answer, view.axes);
      if (axes !== null) {
        write(byId("map-title"), mapTitle(axes));
        write(parts.map, mapTable(answer, axes));
        write(byId("map-cautions"), mapCautions(answer, axes));
      }
      write(parts.asked, decisionTable(answer));
      write(parts.matrix, verdictMatrix(answer.compounds, worstFirst(answer.compounds), reference));
      for (const part of [parts.card, parts.map]) markPending(part, "intervals", !isComplete);
      for (const part of [parts.card, parts.asked, parts.matrix]) markPending(part, "judged", !isJudged);
      sayWhatChanged(setting, state.data.thinned, answer.areLimitsMoved);
      for (const part of Object.values(parts)) written(part);
    },
  };
}

/** Says how what is shown differs from the study. */
function sayWhatChanged(setting: Setting, thinned: boolean, areLimitsMoved: boolean): void {
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
    ...(areLimitsMoved ? ["Limits were changed on this page."] : []),
    ...((contact || temperature) && thinned
      ? ["This report holds so many compounds that intervals after a change come from every third draw only."]
      : []),
    ...(contact || temperature || areLimitsMoved ? ["The study’s own numbers are in results.json."] : []),
  ].join(" ");
  place.hidden = words === "";
  if (place.textContent !== words) place.textContent = words;
}
