import { type Html, html } from "./html.js";

/** The caution that stands beside the verdicts; the longer ones follow at the end of the page. */
export function shortCaution(): Html {
  return html`<aside class="caution" aria-label="Caution"><p><b>A screening prediction, not a friction or safety certificate.</b> Slip and impact safety need the tests and limits that local codes and the product’s own standard ask for, and a qualified person’s judgement.</p></aside>`;
}

/** The caution that stands where grip stands. */
export function gripCaution(): Html {
  return html`<p class="caution-line">Grip: hysteresis friction only. Adhesion, water film, flash heating, wear, snow and ice are not in it, and the cut-off of the texture is a free choice. Use it to rank compounds above 0 °C on a clean, dry surface, not in frost; a friction value for a product comes from a friction test under the standard that applies.</p>`;
}

/** Where a friction number below 0 °C stands beside a limit or beside another compound's. */
export function frostCaution(): Html {
  return html`<p class="caution-line"><b>Below 0 °C:</b> ice and snow usually govern grip there (common practice). These numbers hold for a clean, dry surface and must not rank compounds in frost; what counts is the tests and limits that local codes and the product’s own standard ask for, and a qualified person’s judgement.</p>`;
}

/** The caution that stands where verdicts in the cold stand. */
export function coldCaution(): Html {
  return html`<p class="caution-line">Cold: judged from dynamic data at the contact’s frequency. Crystallisation on long storage (natural, chloroprene rubber) is not seen by a sweep. A part that must not fail in the cold needs the low-temperature test its standard names.</p>`;
}

/** The caution that stands where rebound stands. */
export function reboundCaution(): Html {
  return html`<p class="caution-line">Rebound: values of different methods do not mix; impact protection is judged by the test of the product’s standard, not by this number.</p>`;
}

/** The caution that stands where cushioning stands. */
export function cushioningCaution(): Html {
  return html`<p class="caution-line">Cushioning: ranks solid outsoles and pads by the simulated impact. Not in it: stiffening at deep compression, foams, the foot. Protection needs the test and limits of the product’s own standard and a qualified person’s judgement.</p>`;
}

/** All cautions in full, at the end of the page. */
export function cautionsSection(): Html {
  return html`<section id="cautions"><h2>Cautions</h2>
<ul class="plain">
<li><b>What this is.</b> A screening prediction from laboratory data. It ranks compounds and shows which test to run next. It certifies nothing.</li>
<li><b>Who decides.</b> Slip, traction and impact safety are judged by the tests and limits that local codes and the product’s own standard ask for, by a qualified person.</li>
<li><b>Grip.</b> Hysteresis friction of a viscoelastic half-space. Not in it: adhesion, water film, flash heating, wear, snow and ice. The cut-off q₁ moves the value a lot, so it is shown halved and doubled. Below 0 °C ice and snow usually govern grip (common practice): these numbers must not rank compounds there.</li>
<li><b>Cold.</b> A verdict holds for the contact’s own frequency. It is not a brittleness test, and crystallisation on long storage (natural, chloroprene rubber) is not seen by a sweep.</li>
<li><b>Stiffening ratios</b> are computed from dynamic data with the ratios of the Gehman test (ISO 1432); they are not that test.</li>
<li><b>Extrapolation.</b> Where a prediction leaves the measured range of temperature and frequency, a notice says so, and the number is worth less than its interval.</li>
<li><b>Shear data.</b> Where the modulus was measured in shear, E = 3G is used for grip. It holds in the rubbery range and overstates E by some 10 % in the glass.</li>
</ul></section>`;
}
