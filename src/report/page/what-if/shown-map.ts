import type { Outlook } from "../../../predict/outlook.js";
import { tradeOffRows } from "../../html/answer/trade-off-section.js";
import { contactWords } from "../../html/answer/verdict-matrix.js";
import { statedTemperature } from "../../html/numbers.js";
import type { PageState } from "../page-state.js";
import { isContactOfStudy, type Setting, settingOf, useOf } from "./predictions.js";
import { markPending } from "./written-parts.js";

/** The table beside the map, and the words that say for which use map and table hold. */
export function shownMap(state: PageState) {
  const table = document.getElementById("map-table");
  return {
    markPending: (isPending: boolean) => markPending([table], isPending),
    show(setting: Setting, outlooks: Outlook[]): void {
      const body = table?.querySelector("tbody");
      if (body) {
        body.innerHTML = tradeOffRows(
          state.compounds.map((compound, index) => ({
            index,
            compound: { ...compound, outlooks: [] },
            isReference: compound.isReference,
            outlook: outlooks[index],
          })),
        ).markup;
      }
      sayWhichUse(setting, state.data.thinned);
    },
  };
}

/** Says which use the numbers hold for, and how it differs from the study. */
function sayWhichUse(setting: Setting, thinned: boolean): void {
  const own = settingOf(setting.base);
  const set = (id: string, text: string) => {
    const place = document.getElementById(id);
    if (place !== null && place.textContent !== text) place.textContent = text;
  };
  set("map-temperature", statedTemperature(setting.temperature_C));
  set("map-contact", contactWords(useOf(setting)));
  const contact = !isContactOfStudy(setting);
  const decision = document.getElementById("decision-of-study");
  if (decision !== null) decision.hidden = !contact;
  const changed = document.getElementById("changed");
  if (changed === null) return;
  const temperature = own.temperature_C !== setting.temperature_C;
  changed.hidden = !contact && !temperature;
  const draws = thinned
    ? " This report holds so many compounds that intervals after a change come from every third draw only."
    : "";
  const words = contact
    ? "The contact was changed on this page: verdicts, grip and rebound now hold for it. The study’s own numbers are in results.json and come back with the button."
    : temperature
      ? "The temperature was changed on this page: the map and its table hold for it; the verdicts hold for the study’s uses."
      : "";
  set("changed", `${words}${draws}`);
}
