import { practicallyNone } from "../../../predict/contact/friction.js";
import type {
  ColdOutlook,
  CushioningOutlook,
  GripOutlook,
  OpenInterval,
  Outlook,
} from "../../../predict/outlook.js";
import type { JudgedCompound } from "../../results/results.js";
import {
  type Margin,
  marginRange,
  marginWithInterval,
  signedKelvin,
  straddledMargin,
} from "../answer/margin.js";
import { peakInContact_C, quotedPeak } from "../answer/peaks.js";
import { practicallyNoGrip } from "../answer/quantities.js";
import { doubtMark } from "../answer/standing-tags.js";
import { verdictTag } from "../answer/verdict.js";
import { furtherName } from "../answer/verdict-matrix.js";
import {
  coldCaution,
  compoundCaution,
  cushioningCaution,
  gripCaution,
  reboundCaution,
} from "../cautions-section.js";
import { type Html, html, nameHtml } from "../html.js";
import { fixed, frequencyText, intervalIn, significant, statedTemperature, withPrefix } from "../numbers.js";
import { type SourceContext, sourceLinks } from "../report-context.js";

const none = html`<span class="none">not determined</span>`;

/** What stands where nothing is predicted: that it could not be determined, or that the use has no such contact. */
function noneIn({ uses }: SourceContext, { use }: Outlook, contact: "sliding" | "impact"): Html {
  return uses.find(({ name }) => name === use)?.[contact] === null
    ? html`<span class="none">no ${contact}</span>`
    : none;
}

/** Distances from both borders; from the one that a verdict of two words straddles, as an interval. */
function marginCell(cold: ColdOutlook): Html {
  const straddled = straddledMargin(cold);
  const one = (border: Margin["border"], value_K: number | null) => {
    if (straddled?.border === border) return marginRange(straddled);
    return value_K === null ? "not seen" : `${signedKelvin(value_K, 1)}\u202fK`;
  };
  return html`${one("glassy", cold.marginToGlassy_K)} <span class="interval">${one("leathery", cold.marginToLeathery_K)}</span>`;
}

function gripText({ frictionCoefficient, low, high }: GripOutlook): Html {
  if (frictionCoefficient < practicallyNone) return practicallyNoGrip;
  return intervalIn(frictionCoefficient, low, high, "", 2);
}

const forceText = ({ peakForce_N }: CushioningOutlook) =>
  intervalIn(peakForce_N.value, peakForce_N.low, peakForce_N.high, "N", 0);

/** Which waves of the texture are left out, in words; nothing where no grip is given. */
function wavesLeftOut(outlooks: Outlook[]): Html {
  const waves = [...new Set(outlooks.flatMap(({ grip }) => grip?.shortestWave_m ?? []))];
  if (waves.length === 0) return html``;
  const list = waves.map((wave_m) => `${significant(1000 * wave_m, 2)}\u202fmm`).join(" and ");
  return html`<p class="small">Waves of the texture shorter than ${list} are left out of grip; its interval reaches to the values at half and twice the cut-off.</p>`;
}

const useHead = (outlook: Outlook) =>
  html`<th scope="row">${statedTemperature(outlook.temperature_C)}${
    furtherName(outlook) !== null && html` <span class="use-name">${nameHtml(outlook.use)}</span>`
  }</th>`;

/** Verdict, grip, rebound and cushioning of one compound in each use, with intervals, and the caution beside them. */
export function useTable(context: SourceContext, compound: JudgedCompound): Html {
  if (compound.outlooks.length === 0 || compound.outlooks.every((o) => !o.cold && !o.grip && !o.rebound)) {
    return html`<p class="why">No prediction in use: it needs a modulus that is known at the use’s temperature and contact frequency. The notices of this compound say which measurement settles it.</p>`;
  }
  const outlooks = [...compound.outlooks].sort((a, b) => a.temperature_C - b.temperature_C);
  const has = (what: "grip" | "rebound" | "cushioning") => outlooks.some((one) => one[what] !== null);
  const hasRatio = outlooks.some(({ grip }) => grip?.relativeToReference !== undefined);
  const frost = outlooks.some(({ grip, temperature_C }) => grip !== null && temperature_C < 0);
  const rows = outlooks.map((outlook) => {
    const { cold, grip, rebound, cushioning } = outlook;
    const [noSliding, noImpact] = [noneIn(context, outlook, "sliding"), noneIn(context, outlook, "impact")];
    const ratio = grip?.relativeToReference;
    return html`<tr>${useHead(outlook)}
<td>${verdictTag(cold?.verdict ?? null)}${doubtMark(compound, outlook)}</td>
<td class="number">${cold === null ? none : marginWithInterval(cold)}</td>
${has("grip") && hasRatio && html`<td class="number strong">${ratio === undefined ? html`<span class="none">—</span>` : intervalIn(ratio.ratio, ratio.low, ratio.high, "", 2)}</td>`}
${has("grip") && html`<td class="number">${grip === null ? noSliding : gripText(grip)}</td>`}
${has("rebound") && html`<td class="number strong">${rebound === null ? noImpact : intervalIn(100 * rebound.fraction, 100 * rebound.low, 100 * rebound.high, "%", 0)}</td>`}
${has("cushioning") && html`<td class="number">${cushioning === null ? noImpact : forceText(cushioning)}</td>`}</tr>`;
  });
  return html`<div class="table-frame" role="group" aria-label="In use" tabindex="0"><table class="facts in-use">
<caption>In use, 95 % intervals ${sourceLinks(context, compound.inputs, "cold")} <a class="source" href="#method-grip">grip</a> <a class="source" href="#method-rebound">rebound</a></caption>
<thead><tr><th scope="col">Use</th><th scope="col">Verdict</th><th scope="col" class="number">Above the glassy border</th>${has("grip") && hasRatio && html`<th scope="col" class="number">Grip to reference</th>`}${has("grip") && html`<th scope="col" class="number">Grip µ</th>`}${has("rebound") && html`<th scope="col" class="number">Rebound</th>`}${has("cushioning") && html`<th scope="col" class="number">Peak force</th>`}</tr></thead>
<tbody>${rows}</tbody></table></div>
${compoundCaution(frost)}
${contactDetails(context, compound, outlooks)}`;
}

/** On which side of what a peak that was not seen stands: "above −29 °C"; null where nothing bounds it. */
function boundText(peak: OpenInterval | undefined): string | null {
  if (peak === undefined || (peak.low_C === null && peak.high_C === null)) return null;
  if (peak.high_C === null) return `above ${fixed(peak.low_C!, 1)}\u202f°C`;
  if (peak.low_C === null) return `below ${fixed(peak.high_C, 1)}\u202f°C`;
  return `${fixed(peak.low_C, 1)} to ${fixed(peak.high_C, 1)}\u202f°C`;
}

/** How the numbers in use come about: the contact's own frequency and borders, and what the models leave open. */
function contactDetails(context: SourceContext, compound: JudgedCompound, outlooks: Outlook[]): Html {
  const has = (what: "grip" | "rebound" | "cushioning") => outlooks.some((one) => one[what] !== null);
  const peak = quotedPeak(compound);
  const rows = outlooks.map((outlook) => {
    const { cold, grip, rebound, cushioning } = outlook;
    const [noSliding, noImpact] = [noneIn(context, outlook, "sliding"), noneIn(context, outlook, "impact")];
    // Known without a verdict, too.
    const at = outlook.transitionAtContact ?? null;
    const there_C = peakInContact_C(outlook) ?? at?.tanDeltaPeak.temperature_C ?? null;
    return html`<tr>${useHead(outlook)}
<td class="number">${at === null ? none : html`${frequencyText(at.contactFrequency_Hz)} <span class="interval">${at.contact}</span>`}</td>
<td class="number">${there_C === null ? (boundText(at?.tanDeltaPeak) ?? none) : `${fixed(there_C, 1)}\u202f°C`}</td>
<td class="number">${cold === null ? none : marginCell(cold)}</td>
<td class="number">${grip === null ? noSliding : html`${significant(grip.cutOffSensitivity.halved, 2)} / ${significant(grip.cutOffSensitivity.doubled, 2)}`}</td>
<td class="number">${rebound === null ? noImpact : html`${fixed(100 * rebound.textbookFraction, 0)} % <span class="interval">${withPrefix(rebound.contactTime_s, "s")}</span>`}</td>
<td class="number">${cushioning === null ? noImpact : html`${fixed(cushioning.peakDeceleration_g.value, 0)} g <span class="interval">${fixed(1000 * cushioning.indentation_m.value, 1)} mm</span>`}</td></tr>`;
  });
  return html`<details class="more"><summary>How these numbers come about</summary><div class="table-frame" role="group" aria-label="In contact" tabindex="0"><table class="facts">
<caption>In contact</caption>
<thead><tr><th scope="col">Use</th><th scope="col" class="number">Contact frequency</th><th scope="col" class="number">tan δ peak there</th><th scope="col" class="number">Above glassy border <span class="interval">above leathery border</span></th><th scope="col" class="number">µ at ½ and 2 q₁</th><th scope="col" class="number">Textbook rebound <span class="interval">contact time</span></th><th scope="col" class="number">Deceleration <span class="interval">depth</span></th></tr></thead>
<tbody>${rows}</tbody></table></div>
${peak !== null && html`<p class="small">The tan δ peak was measured at ${fixed(peak.temperature_C, 1)} °C and ${frequencyText(peak.transition.frequency_Hz)}; “tan δ peak there” is its temperature at the frequency of the contact.</p>`}${wavesLeftOut(outlooks)}
<div class="beside">${coldCaution()}${has("grip") && gripCaution()}${has("rebound") && reboundCaution()}${has("cushioning") && cushioningCaution()}</div></details>`;
}
