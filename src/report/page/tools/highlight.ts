import { lineLegend } from "../frame/line-legend.js";
import type { PageState } from "../page-state.js";

/** One compound stands out in all tables and plots while it is pointed at, focused or chosen. */
export function highlighting(state: PageState, redraw: () => void) {
  let chosen: number | null = null;
  let waiting: ReturnType<typeof setTimeout> | null = null;
  /** A part that was written anew has lost its mark. */
  const mark = (part: ParentNode = document) => {
    for (const row of part.querySelectorAll<HTMLElement>("tr[data-compound]")) {
      row.classList.toggle(
        "stands-out",
        state.highlighted !== null && row.dataset.compound === String(state.highlighted),
      );
    }
  };
  const show = (index: number | null) => {
    const next = index ?? chosen;
    if (next === state.highlighted) return;
    state.highlighted = next;
    mark();
    // Drawing waits a moment, so that a pointer that only passes does not redraw every plot.
    if (waiting !== null) clearTimeout(waiting);
    waiting = setTimeout(redraw, 60);
  };
  const indexAt = (target: EventTarget | null) => {
    const row = target instanceof Element ? target.closest<HTMLElement>("tr[data-compound]") : null;
    return row === null ? null : Number(row.dataset.compound);
  };
  for (const kind of ["pointerover", "focusin"] as const) {
    document.addEventListener(kind, (event) => {
      const index = indexAt(event.target);
      if (index !== null || kind === "pointerover") show(index);
    });
  }
  lineLegend(state, (index) => {
    chosen = chosen === index ? null : index;
    show(null);
    return chosen;
  });
  return { show, mark };
}
