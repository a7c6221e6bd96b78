import type { JudgedCompound } from "../../results/results.js";
import { type Html, html, joinHtml, listHtml, nameHtml } from "../html.js";
import { statedTemperature } from "../numbers.js";
import { contrastSentence } from "./contrast-sentence.js";
import { type UseColumn, useColumns } from "./verdict-matrix.js";

/** How the compounds stand in one use. */
interface Count extends UseColumn {
  glassy: number;
  perhaps: number;
  unknown: number;
}

function countIn(compounds: JudgedCompound[], column: UseColumn): Count {
  const count: Count = { ...column, glassy: 0, perhaps: 0, unknown: 0 };
  for (const { outlooks } of compounds) {
    const outlook = outlooks.find(
      ({ use, temperature_C }) => use === column.use && temperature_C === column.temperature_C,
    );
    if (outlook === undefined) continue;
    const verdict = outlook.cold?.verdict ?? null;
    if (verdict === null) count.unknown++;
    else if (verdict === "glassy") count.glassy++;
    else if (verdict === "glassy or leathery") count.perhaps++;
  }
  return count;
}

const are = (count: number) => (count === 1 ? "is" : "are");

/** "2 of 12 compounds are glassy, 5 may be glassy and 1 is not determined". */
function countSentence({ glassy, perhaps, unknown }: Count, all: number): Html {
  if (all === 1)
    return html`<b>the compound ${glassy === 1 ? "is glassy" : perhaps === 1 ? "may be glassy" : "is not determined"}</b>`;
  const parts: Html[] = [];
  if (glassy > 0)
    parts.push(
      glassy === all
        ? html`<b>all ${all} compounds are glassy</b>`
        : html`<b>${glassy} of ${all} compounds ${are(glassy)} glassy</b>`,
    );
  const rest = (count: number) =>
    glassy > 0 || parts.length > 0 ? `${count}` : `${count} of ${all} compounds`;
  if (perhaps > 0) parts.push(html`<b>${rest(perhaps)} may be glassy</b>`);
  if (unknown > 0) parts.push(html`<b>${rest(unknown)} ${are(unknown)} not determined</b>`);
  return listHtml(parts);
}

/** From which warmer use on the trouble starts; empty where it is the coldest use alone. */
function startSentence(counted: Count[], focus: Count, all: number): Html {
  const warmer = counted.filter(({ temperature_C }) => temperature_C > focus.temperature_C);
  const last = (what: "glassy" | "perhaps") => warmer.filter((column) => column[what] > 0).at(-1);
  const glassy = last("glassy");
  const perhaps = last("perhaps");
  const parts: Html[] = [];
  if (glassy !== undefined)
    parts.push(
      html`${all === 1 ? "it is" : glassy.glassy === 1 ? "the first turns" : "the first turn"} glassy at ${statedTemperature(glassy.temperature_C)}`,
    );
  if (perhaps !== undefined && perhaps.temperature_C > (glassy?.temperature_C ?? Number.NEGATIVE_INFINITY))
    parts.push(
      html`${all === 1 ? "it" : perhaps.perhaps} may be ${glassy === undefined && focus.glassy > 0 ? "glassy " : ""}at ${statedTemperature(perhaps.temperature_C)}`,
    );
  if (parts.length > 0) return html`; ${joinHtml(parts, ", and ")} already`;
  if (warmer.length === 0 || warmer.some(({ unknown }) => unknown > 0)) return html``;
  return html`; at the warmer use temperatures ${all === 1 ? "it is not" : "none is"}`;
}

/** Compounds without a verdict in some use, by name while they are few. */
function unknownSentence(compounds: JudgedCompound[]): Html {
  const unknown = compounds.filter(({ outlooks }) => outlooks.some(({ cold }) => cold === null));
  if (unknown.length === 0) return html``;
  const some = unknown.some(({ outlooks }) => outlooks.some(({ cold }) => cold !== null));
  const names = listHtml(unknown.map(({ name }) => html`${nameHtml(name)}`));
  const where = some ? " in some use" : "";
  if (unknown.length > 3)
    return html` <b>${unknown.length} compounds are not determined</b>${where} and could be glassy.`;
  return html` <b>Not determined</b>${where}, so possibly glassy: ${names}.`;
}

/**
 * The answer in a sentence or two: how many compounds are glassy, may be glassy or are not determined in the
 * worst use, from where on it starts, and who is not known.
 */
export function answerSentence(compounds: JudgedCompound[]): Html {
  if (compounds.length === 0) return html`No compound could be read. The inputs below say why, file by file.`;
  if (compounds.every(({ outlooks }) => outlooks.every(({ cold }) => cold === null))) {
    return html`No verdict on cold weather: the measurements do not reach the frequency of a contact. The glass transitions as measured, and what to run next, stand with each compound.`;
  }
  const counted = useColumns(compounds).map((column) => countIn(compounds, column));
  const all = compounds.length;
  // The coldest use, unless a warmer one with a faster contact has more in the glass.
  const focus = counted.reduce((worst, column) =>
    column.glassy > worst.glassy || (column.glassy === worst.glassy && column.perhaps > worst.perhaps)
      ? column
      : worst,
  );
  const coldest = statedTemperature(counted[0].temperature_C);
  const unknown = unknownSentence(compounds);
  if (focus.glassy + focus.perhaps === 0) {
    const known = compounds.filter(({ outlooks }) => outlooks.every(({ cold }) => cold !== null)).length;
    const none =
      all === 1
        ? html`In no use with a verdict the compound is glassy`
        : known === all
          ? html`None of the ${all} compounds turns glassy at any use temperature down to ${coldest}`
          : html`${known} of ${all} compounds ${are(known)} not glassy at any use temperature down to ${coldest}`;
    if (all === 1 && known === 1)
      return html`The compound does not turn glassy at any use temperature down to ${coldest}.`;
    return html`${none}.${unknown}`;
  }
  const contrast = contrastSentence(compounds);
  return html`At ${statedTemperature(focus.temperature_C)} ${countSentence(focus, all)}${startSentence(counted, focus, all)}.${unknown}${contrast !== null && html` ${contrast}`}`;
}
