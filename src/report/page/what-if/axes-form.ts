import type { Answer } from "../../html/answer/answer.js";
import { axisTitle } from "../../html/answer/quantities.js";
import { axisChoices, mapAxes } from "../../html/answer/trade-off-section.js";
import { html } from "../../html/html.js";
import type { View } from "./view.js";

/** The fields in which the axes of the map are chosen. */
export function axesForm(view: View, changed: () => void) {
  const form = document.querySelector<HTMLFormElement>("#axes");
  let offered = "";
  form?.addEventListener("input", ({ target }) => {
    if (!(target instanceof HTMLSelectElement)) return;
    view.axes[target.name === "x" ? "x" : "y"] = target.value;
    changed();
  });
  form?.addEventListener("submit", (event) => event.preventDefault());
  return {
    /** Offers what can be an axis now, and shows what is one. */
    show(answer: Answer): void {
      const axes = mapAxes(answer, view.axes);
      if (form === null || axes === null) return;
      const choices = axisChoices(answer);
      const keys = choices.map(({ key }) => key).join();
      if (keys !== offered) {
        offered = keys;
        const select = (name: string, label: string) =>
          html`<label>${label} <select name="${name}">${choices.map((one) => html`<option value="${one.key}">${axisTitle(one)}${one.isMeasured && ", measured"}</option>`)}</select></label>`;
        form.innerHTML = html`${select("y", "Upwards")} ${select("x", "To the right")}`.markup;
        form.hidden = false;
      }
      for (const name of ["x", "y"] as const)
        (form.elements.namedItem(name) as HTMLSelectElement).value = axes[name].key;
    },
  };
}
