import { html } from "../../html/html.js";
import type { PageState } from "../page-state.js";
import { currentTheme } from "../theme.js";
import { compoundLine } from "./colour-ramp.js";

const dashArrays: Record<string, string> = {
  solid: "",
  dash: "6 3",
  dot: "1.5 2.5",
  dashdot: "6 2.5 1.5 2.5",
  longdash: "10 3",
};

/** Beyond this many a list to choose from takes less room than a legend. */
const mostEntries = 24;

/**
 * The legend of the plots of all compounds; an entry is a button that makes its compound stand out. `choose`
 * tells which stands out afterwards.
 */
export function lineLegend(state: PageState, choose: (index: number | null) => number | null): void {
  const place = document.getElementById("chooser");
  if (place === null) return;
  if (state.compounds.length > mostEntries) {
    const select = document.createElement("select");
    select.setAttribute("aria-label", "Compound that stands out");
    select.append(new Option("none", ""));
    for (const { name, index } of state.compounds) {
      select.append(new Option(name.length > 60 ? `${name.slice(0, 59)}…` : name, String(index)));
    }
    select.addEventListener("input", () => {
      choose(null);
      if (select.value !== "") choose(Number(select.value));
    });
    place.append(select);
    return;
  }
  const swatch = (index: number) => {
    const { color, dash } = compoundLine(index, currentTheme().dark);
    return html`<svg class="swatch" width="30" height="8" aria-hidden="true"><path d="M1 4h28" stroke="${color}" stroke-width="2.2" stroke-dasharray="${dashArrays[dash] ?? ""}"/></svg>`;
  };
  const buttons = state.compounds.map(({ name, index }) => {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "line-button";
    button.setAttribute("aria-pressed", "false");
    button.innerHTML =
      html`${swatch(index)}<bdi>${name.length > 40 ? `${name.slice(0, 39)}…` : name}</bdi>`.markup;
    button.addEventListener("click", () => {
      const now = choose(index);
      for (const [k, other] of buttons.entries()) other.setAttribute("aria-pressed", String(k === now));
    });
    return button;
  });
  place.append(...buttons);
  const recolour = () => {
    for (const [index, button] of buttons.entries()) {
      const old = button.querySelector("svg");
      if (old !== null) old.outerHTML = swatch(index).markup;
    }
  };
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", recolour);
  document.addEventListener("frostline:theme", recolour);
}
