import { differenceTable, type Pinned } from "../../html/answer/side-by-side-section.js";
import { frostCaution, gripCaution } from "../../html/cautions-section.js";
import { html, nameHtml } from "../../html/html.js";
import type { PageState } from "../page-state.js";
import type { PredictionBatch, PredictionPool } from "./prediction-pool.js";
import { type Moment, type Predicted, useOf } from "./predictions.js";
import type { View } from "./view.js";

const rank = 3;

/** The differences of what is pinned, predicted with the draws of each in the use that is set. */
export function sideBySide(
  state: PageState,
  { pinned }: View,
  pool: PredictionPool,
  unpin: (index: number) => void,
) {
  const place = document.getElementById("differences");
  const known = new Map<string, Predicted>();
  let batch: PredictionBatch | null = null;
  let wanted = "";
  place?.addEventListener("click", ({ target }) => {
    const button = target instanceof Element ? target.closest<HTMLElement>("button[data-unpin]") : null;
    if (button !== null) unpin(Number(button.dataset.unpin));
  });

  return async ({ setting, answer, isComplete }: Moment): Promise<void> => {
    if (place === null) return;
    const use = useOf(setting);
    const keyOf = (index: number) =>
      JSON.stringify([
        index,
        use.temperature_C,
        use.sliding?.speed_m_s,
        use.sliding?.pressure_Pa,
        use.sliding?.texture.name,
        use.impact,
      ]);
    const now = JSON.stringify([pinned.map(keyOf), isComplete]);
    if (now === wanted) return;
    wanted = now;
    batch?.callOff();
    const chips = html`<p class="pinned">Pinned: ${pinned.map((index) => html`<span class="chip">${nameHtml(state.compounds[index].name)} <button type="button" data-unpin="${index}" aria-label="Unpin ${state.compounds[index].name}">×</button></span> `)}</p>`;
    if (pinned.length < 2) {
      place.innerHTML =
        html`${pinned.length > 0 && chips}<p class="why">Pin two to four compounds with the “Pin” buttons beside their names, or by pressing their points on the map: their curves then stand here with 95 % bands, and a table of their differences.</p>`.markup;
      return;
    }
    place.setAttribute("aria-busy", "true");
    place.innerHTML = html`${chips}<p class="why">The differences are being computed …</p>`.markup;
    if (!isComplete) return;
    const own = pool.batch();
    batch = own;
    const missing = pinned.filter((index) => !known.has(keyOf(index)));
    const found = await Promise.all(
      missing.map((index) => own.ask(index, [use], { withDraws: true, withVerdict: true }, rank)),
    );
    if (found.some((one) => one === null) || wanted !== now) return;
    for (const [k, index] of missing.entries()) known.set(keyOf(index), found[k]![0]);
    const rows = pinned.map(
      (index): Pinned => ({
        index,
        compound: answer.compounds[index],
        // The draws pair the compounds; the outlook is the one that stands on the card.
        predicted: {
          ...known.get(keyOf(index))!,
          outlook: answer.outlooks[index] ?? known.get(keyOf(index))!.outlook,
        },
      }),
    );
    place.innerHTML =
      html`${chips}${differenceTable(rows, use.temperature_C)}${gripCaution()}${use.temperature_C < 0 && frostCaution()}`.markup;
    place.setAttribute("aria-busy", "false");
  };
}
