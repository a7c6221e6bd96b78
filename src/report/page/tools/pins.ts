import type { PageState } from "../page-state.js";
import { mostPinned } from "../what-if/ranges.js";

/** Buttons that put a compound side by side with others, wherever the compound stands. */
export function pins(state: PageState, pinned: number[], changed: () => void) {
  const mark = (button: HTMLButtonElement) => {
    const index = Number(button.dataset.pin);
    button.setAttribute("aria-pressed", String(pinned.includes(index)));
    button.disabled = !pinned.includes(index) && pinned.length >= mostPinned;
  };
  const markAll = () => {
    for (const button of document.querySelectorAll<HTMLButtonElement>("button[data-pin]")) mark(button);
  };
  const buttonFor = (index: number) => {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "pin";
    button.textContent = "Pin";
    button.dataset.pin = String(index);
    button.setAttribute("aria-label", `Pin ${state.compounds[index].name} side by side`);
    mark(button);
    return button;
  };
  const toggle = (index: number) => {
    const place = pinned.indexOf(index);
    if (place >= 0) pinned.splice(place, 1);
    else if (pinned.length < mostPinned) pinned.push(index);
    else return;
    markAll();
    changed();
  };
  document.addEventListener("click", ({ target }) => {
    const button = target instanceof Element ? target.closest<HTMLElement>("button[data-pin]") : null;
    if (button !== null) toggle(Number(button.dataset.pin));
  });
  return {
    toggle,
    markAll,
    /** Adds a button to each row of a part that was written anew. */
    addTo(part: Element | null): void {
      if (part === null || state.compounds.length < 2) return;
      for (const row of part.querySelectorAll<HTMLElement>("tr[data-compound]")) {
        const head = row.querySelector("th");
        if (head === null || head.querySelector("button[data-pin]") !== null) continue;
        const button = buttonFor(Number(row.dataset.compound));
        const doubt = head.querySelector(".doubt");
        if (doubt === null) head.append(" ", button);
        else doubt.before(button);
      }
    },
    buttonFor,
  };
}
