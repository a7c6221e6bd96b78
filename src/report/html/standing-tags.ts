import { type Html, html } from "./html.js";
import type { JudgedCompound } from "./judged-compound.js";

/** What weakens every prediction of a compound, to stand wherever its predictions do. */
export function standingTags({ superposition }: JudgedCompound): Html {
  if (superposition === null) return html``;
  return html`${superposition.source === "assumed" && html` <span class="tag warn" title="Shift constants were assumed, not measured.">assumed shift</span>`}${
    superposition.thermorheologicallySimple === false &&
    html` <span class="tag warn" title="The isotherms do not fall on one curve.">does not superpose</span>`
  }`;
}

/** The same in a sentence, above the numbers themselves. */
export function standingSentence({ superposition }: JudgedCompound): Html {
  if (superposition === null) return html``;
  return html`${
    superposition.source === "assumed" &&
    html`<p class="assumed"><b>Assumed.</b> ${superposition.assumption ?? "The shift constants were not measured."} Every number in use leans on it.</p>`
  }${
    superposition.thermorheologicallySimple === false &&
    html`<p class="assumed"><b>Does not superpose.</b> The isotherms do not fall on one curve, as in a blend: every number in use is extrapolated and doubtful.</p>`
  }`;
}
