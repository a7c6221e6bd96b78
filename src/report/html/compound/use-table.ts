import type { ColdOutlook, CushioningOutlook, GripOutlook, Outlook } from "../../../predict/outlook.js";
import type { JudgedCompound } from "../../results/results.js";
import { type Margin, marginRange, signedKelvin, straddledMargin } from "../answer/margin.js";
import { peakInContact_C, quotedPeak } from "../answer/peaks.js";
import { doubtMark, standingSentence } from "../answer/standing-tags.js";
import { verdictTag } from "../answer/verdict.js";
import { furtherName } from "../answer/verdict-matrix.js";
import {
  coldCaution,
  cushioningCaution,
  frostCaution,
  gripCaution,
  reboundCaution,
} from "../cautions-section.js";
import { type Html, html, nameHtml } from "../html.js";
import { fixed, frequencyText, intervalIn, significant, statedTemperature, withPrefix } from "../numbers.js";
import { type SourceContext, sourceLinks } from "../report-context.js";

const none = html`<span class="none">not determined</span>`;

/** Distances from both borders; from the one that a verdict of two words straddles, as an interval. */
function marginCell(cold: ColdOutlook): Html {
  const straddled = straddledMargin(cold);
  const one = (border: Margin["border"], value_K: number | null) => {
    if (straddled?.border === border) return marginRange(straddled);
    return value_K === null ? "not seen" : `${signedKelvin(value_K, 1)} K`;
  };
  return html`${one("glassy", cold.marginToGlassy_K)} <span class="interval">${one("leathery", cold.marginToLeathery_K)}</span>`;
}

/** Peak force with its interval; beneath it what a drop test reads off: deceleration and depth. */
function cushioningCell({ peakForce_N, peakDeceleration_g, indentation_m }: CushioningOutlook): Html {
  return html`${intervalIn(peakForce_N.value, peakForce_N.low, peakForce_N.high, "N", 0)} <span class="interval">${fixed(peakDeceleration_g.value, 0)} g, ${fixed(1000 * indentation_m.value, 1)} mm</span>`;
}

/** Below this friction is said in words. */
const practicallyNone = 0.001;

function gripText({ frictionCoefficient, low, high }: GripOutlook): Html {
  if (frictionCoefficient < practicallyNone)
    return html`practically none <span class="interval">below 0.001</span>`;
  return intervalIn(frictionCoefficient, low, high, "", 3);
}

/** Which waves of the texture are left out, in words; nothing where no grip is given. */
function wavesLeftOut(outlooks: Outlook[]): Html {
  const waves = [...new Set(outlooks.flatMap(({ grip }) => grip?.shortestWave_m ?? []))];
  if (waves.length === 0) return html``;
  const list = waves.map((wave_m) => `${significant(1000 * wave_m, 2)} mm`).join(" and ");
  return html`<p class="small">Waves of the texture shorter than ${list} are left out of grip; its interval reaches to the values at half and twice the cut-off.</p>`;
}

/** Verdict, grip and rebound of one compound in each use, with intervals, and the cautions beside them. */
export function useTable(context: SourceContext, compound: JudgedCompound): Html {
  if (compound.outlooks.length === 0 || compound.outlooks.every((o) => !o.cold && !o.grip && !o.rebound)) {
    return html`<p class="why">No prediction in use: it needs a modulus that is known at the use’s temperature and contact frequency. The notices of this compound say which measurement settles it.</p>`;
  }
  const peak = quotedPeak(compound);
  const frost = compound.outlooks.some(({ grip, temperature_C }) => grip !== null && temperature_C < 0);
  const rows = [...compound.outlooks]
    .sort((a, b) => a.temperature_C - b.temperature_C)
    .map((outlook) => {
      const { cold, grip, rebound, cushioning } = outlook;
      const there_C = peakInContact_C(outlook);
      return html`<tr>
<th scope="row">${statedTemperature(outlook.temperature_C)}${
        furtherName(outlook) !== null && html` <span class="use-name">${nameHtml(outlook.use)}</span>`
      }</th>
<td>${verdictTag(cold?.verdict ?? null)}${doubtMark(compound, outlook)}</td>
<td class="number">${cold === null ? none : html`${frequencyText(cold.contactFrequency_Hz)} <span class="interval">${cold.contact}</span>`}</td>
<td class="number">${there_C === null ? none : `${fixed(there_C, 1)} °C`}</td>
<td class="number">${cold === null ? none : marginCell(cold)}</td>
<td class="number strong">${grip === null ? none : gripText(grip)}</td>
<td class="number">${grip === null ? none : html`${significant(grip.cutOffSensitivity.halved, 2)} / ${significant(grip.cutOffSensitivity.doubled, 2)}`}</td>
<td class="number">${grip?.relativeToReference === undefined ? html`<span class="none">—</span>` : intervalIn(grip.relativeToReference.ratio, grip.relativeToReference.low, grip.relativeToReference.high, "", 2)}</td>
<td class="number strong">${rebound === null ? none : intervalIn(100 * rebound.fraction, 100 * rebound.low, 100 * rebound.high, "%", 1)}</td>
<td class="number">${rebound === null ? none : html`${fixed(100 * rebound.textbookFraction, 0)} % <span class="interval">${withPrefix(rebound.contactTime_s, "s")}</span>`}</td>
<td class="number">${cushioning === null ? none : cushioningCell(cushioning)}</td></tr>`;
    });
  return html`${standingSentence(compound)}<div class="table-frame" role="group" aria-label="In use" tabindex="0"><table class="facts">
<caption>In use, 95 % intervals ${sourceLinks(context, compound.inputs, "cold")} <a class="source" href="#method-grip">grip</a> <a class="source" href="#method-rebound">rebound</a></caption>
<thead><tr><th scope="col">Use</th><th scope="col">Verdict</th><th scope="col" class="number">Contact frequency</th><th scope="col" class="number">tan δ peak there</th><th scope="col" class="number">K above glassy border <span class="interval">above leathery border</span></th><th scope="col" class="number">Grip µ</th><th scope="col" class="number">µ at ½ and 2 q₁</th><th scope="col" class="number">Grip to reference</th><th scope="col" class="number">Rebound</th><th scope="col" class="number">Textbook <span class="interval">contact time</span></th><th scope="col" class="number">Cushioning: peak force <span class="interval">deceleration, depth</span></th></tr></thead>
<tbody>${rows}</tbody></table></div>
<div class="beside">${peak !== null && html`<p class="small">The tan δ peak stands at ${fixed(peak.temperature_C, 1)} °C as measured at ${frequencyText(peak.transition.frequency_Hz)}; the column “tan δ peak there” says where it stands at the frequency of the contact.</p>`}${coldCaution()}${wavesLeftOut(compound.outlooks)}${gripCaution()}${frost && frostCaution()}${reboundCaution()}${compound.outlooks.some(({ cushioning }) => cushioning !== null) && cushioningCaution()}</div>`;
}
