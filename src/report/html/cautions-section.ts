import { networkCaution } from "../../fit/network/network.js";
import { cautions } from "../../words/cautions.js";
import { type Html, html } from "./html.js";
import { unbroken } from "./unbroken.js";

/** The texts of words/cautions.ts with the apostrophes of print, and with units that stay with their numbers. */
const printed = (...texts: string[]) => unbroken(texts.join(" ").replaceAll("'", "’"));

const cautionLine = (...texts: string[]) => html`<p class="caution-line">${printed(...texts)}</p>`;

/** The caution that stands beside the verdicts; the longer ones follow at the end of the page. */
export function shortCaution(): Html {
  const [what, ...who] = printed(cautions.screening).split(":");
  return html`<aside class="caution" aria-label="Caution"><p><b>${what}:</b>${who.join(":")}</p></aside>`;
}

/** The caution that stands where grip stands. */
export const gripCaution = () => cautionLine(cautions.grip, cautions.gripNotIncluded, cautions.gripCutOff);

/** Where a friction number below 0 °C stands beside a limit or beside another compound's. */
export const frostCaution = () => cautionLine(cautions.frost);

/** The caution that stands where verdicts in the cold stand. */
export const coldCaution = () => cautionLine(cautions.cold, cautions.crystallisation);

/** The caution that stands where rebound stands. */
export const reboundCaution = () => cautionLine(cautions.rebound, cautions.methods);

/** The caution that stands where cushioning stands. */
export const cushioningCaution = () => cautionLine(cautions.cushioning);

/** What stands beside one compound's numbers, in short; the full texts stand once, at the end of the page. */
export function compoundCaution(frost: boolean): Html {
  return html`<p class="caution-line">${printed(cautions.screening)} ${frost && html`${printed(cautions.frost.split(". ")[0])}: grip must not rank compounds there. `}<a href="#cautions">All cautions</a></p>`;
}

/** All cautions in full, at the end of the page. */
export function cautionsSection(): Html {
  const item = (title: string, ...texts: string[]) => html`<li><b>${title}.</b> ${printed(...texts)}</li>`;
  return html`<section id="cautions"><h2>Cautions</h2>
<ul class="plain">
${item("What this is", cautions.screening)}
${item("Grip", cautions.grip, cautions.gripNotIncluded, cautions.gripCutOff, cautions.frost)}
${item("Rebound", cautions.rebound, cautions.methods)}
${item("Cushioning", cautions.cushioning)}
${item("Cold", cautions.cold, cautions.crystallisation)}
${item("Stiffening ratios", cautions.stiffening)}
${item("Network density", networkCaution)}
<li><b>Extrapolation.</b> Where a prediction leaves the measured range of temperature and frequency, a notice says so; its error may then be larger than its interval.</li>
<li><b>Shear data.</b> Where the modulus was measured in shear, E = 3G is used for grip. It holds in the rubbery range and overstates E by some 10 % in the glass.</li>
</ul></section>`;
}
